// Panel files as the window watches, reads and writes them, and editing between reading and saving.
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include "sim/panel/edit_parts.h"
#include "sim/window/edit_session.h"
#include "sim/window/file_watch.h"
#include "sim/window/mistake_places.h"
#include "sim/window/mistake_text.h"
#include "sim/window/panel_reader.h"
#include "sim/window/path_completion.h"
#include "sim/window/save_file.h"

namespace understudy {
namespace {

constexpr const char* kRight =
    "panel = \"X\"\n\n[[control]]\nname = \"a\" # one\nkind = \"pot\"\n\n"
    "[[control]]\nname = \"b\"\nkind = \"button\"\n";

std::string file_with(const std::string& name, const std::string& text) {
  const std::string path = testing::TempDir() + "/" + name;
  EXPECT_TRUE(save_file(path, text).ok());
  return path;
}

FileStamp stamp(std::int64_t changed) {
  return {.there = true, .changed_ns = changed, .bytes = 10, .node = 1};
}

TEST(FileWatch, AFileIsReadOnceItHasRestedForATenthOfASecond) {
  FileWatch watch;
  watch.was_read(stamp(1));
  EXPECT_EQ(watch.look(stamp(1), milliseconds(0)), WatchVerdict::kNothing);
  EXPECT_EQ(watch.look(stamp(2), milliseconds(50)), WatchVerdict::kNothing);
  EXPECT_EQ(watch.look(stamp(3), milliseconds(100)), WatchVerdict::kNothing);
  EXPECT_EQ(watch.look(stamp(3), milliseconds(199)), WatchVerdict::kNothing);
  EXPECT_EQ(watch.look(stamp(3), milliseconds(200)), WatchVerdict::kRead);
  watch.was_read(stamp(3));
  EXPECT_EQ(watch.look(stamp(3), milliseconds(250)), WatchVerdict::kNothing);
}

TEST(FileWatch, AFileThatIsReplacedIsNotGoneAndOneThatIsGoneIsSaidOnce) {
  FileWatch watch;
  watch.was_read(stamp(1));
  EXPECT_EQ(watch.look({}, milliseconds(0)), WatchVerdict::kNothing);
  EXPECT_EQ(watch.look({}, milliseconds(499)), WatchVerdict::kNothing);
  EXPECT_EQ(watch.look({}, milliseconds(500)), WatchVerdict::kGone);
  EXPECT_EQ(watch.look({}, milliseconds(900)), WatchVerdict::kNothing);
  EXPECT_EQ(watch.look(stamp(1), milliseconds(950)), WatchVerdict::kNothing);
  EXPECT_EQ(watch.look(stamp(1), milliseconds(1'050)), WatchVerdict::kRead);
}

TEST(MistakePlaces, AMistakeIsTakenApartWithItsLineAndWhatIsMeantInIt) {
  const std::string text = "panel = \"X\"\r\nloop = \"20\"  # \xC3\xBC\r\n";
  const auto mistakes = placed_mistakes(
      "a/x.toml:2:8: manners.loop: found \"20; 30\", expected a time such as \"20 ms\"; write it "
      "so\n"
      "a/x.toml: and 3 more mistakes",
      "a/x.toml", text);
  ASSERT_EQ(mistakes.size(), 2U);
  EXPECT_EQ(mistakes[0].line, 2);
  EXPECT_EQ(mistakes[0].column, 8);
  EXPECT_EQ(mistakes[0].text, "loop = \"20\"  # \xC3\xBC");
  EXPECT_EQ(mistakes[0].marked, 4);
  EXPECT_EQ(mistakes[0].key, "manners.loop");
  EXPECT_EQ(mistakes[0].message, "found \"20; 30\", expected a time such as \"20 ms\"");
  EXPECT_EQ(mistakes[0].remedy, "write it so");
  EXPECT_EQ(mistakes[1].line, 0);
  EXPECT_EQ(mistakes[1].message, "and 3 more mistakes");
}

TEST(MistakePlaces, ALongLineIsCutSoThatWhatIsMeantIsSeen) {
  const PlacedMistake mistake{.line = 1,
                              .column = 31,
                              .text = std::string(30, 'a') + "WRONG" + std::string(30, 'b'),
                              .marked = 5};
  const ShownLine shown =
      shown_part(mistake, [](std::string_view text) { return text.size() <= 20; });
  EXPECT_LE(shown.text.size(), 20U);
  EXPECT_EQ(shown.marked, "WRONG");
  EXPECT_EQ(shown.text.find("WRONG"), shown.before.size());
}

TEST(SaveFile, TheRightsOfTheFileStayAndALinkGoesOnLeadingThere) {
  const std::string path = file_with("saved.panel.toml", "old");
  ASSERT_EQ(::chmod(path.c_str(), 0640), 0);
  const std::string link = testing::TempDir() + "/link.panel.toml";
  ::unlink(link.c_str());
  ASSERT_EQ(::symlink(path.c_str(), link.c_str()), 0);
  ASSERT_TRUE(save_file(link, "new").ok());
  EXPECT_EQ(read_whole(path).value(), "new");
  struct stat status = {};
  ASSERT_EQ(::lstat(link.c_str(), &status), 0);
  EXPECT_TRUE(S_ISLNK(status.st_mode));
  ASSERT_EQ(::stat(path.c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 07777U, 0640U);
}

TEST(SaveFile, AFolderThatIsNotThereIsNamed) {
  const auto saved = save_file("/no/such/folder/x.panel.toml", "x");
  ASSERT_FALSE(saved.ok());
  EXPECT_EQ(saved.error().text,
            "cannot write beside /no/such/folder/x.panel.toml: No such file or directory");
}

TEST(PanelReader, WhatIsNoPanelIsSaidInASentence) {
  const PanelReading folder = read_panel_file(testing::TempDir());
  ASSERT_FALSE(folder.panel.ok());
  EXPECT_NE(folder.panel.error().text.find("is a folder; name the panel file in it"),
            std::string::npos);
  EXPECT_FALSE(read_panel_file("/dev/null").panel.ok());
  EXPECT_TRUE(read_panel_file(file_with("right.panel.toml", kRight)).panel.ok());
}

TEST(PathCompletion, FoldersAndPanelFilesAloneAreProposed) {
  const std::string folder = testing::TempDir() + "/completion";
  ::mkdir(folder.c_str(), 0700);
  ::mkdir((folder + "/tram-parts").c_str(), 0700);
  file_with("completion/tram.panel.toml", "x");
  file_with("completion/tram.txt", "x");
  const std::vector<std::string> found = path_completions(folder + "/tr");
  EXPECT_EQ(found,
            (std::vector<std::string>{folder + "/tram-parts/", folder + "/tram.panel.toml"}));
  EXPECT_EQ(shared_beginning(found), folder + "/tram");
}

TEST(EditSession, NothingIsWrittenBeforeItIsSavedAndThenExactlyTheText) {
  const std::string path = file_with("edited.panel.toml", kRight);
  EditSession session(path, kRight);
  ASSERT_TRUE(
      session.apply(rename_part(session.text(), {"control", 0}, "c"), "rename a to c").ok());
  EXPECT_TRUE(session.unsaved());
  EXPECT_EQ(session.preview()->description.controls[0].name, "c");
  EXPECT_EQ(read_whole(path).value(), kRight);
  EXPECT_EQ(session.save().value(), SaveAnswer::kSaved);
  EXPECT_FALSE(session.unsaved());
  EXPECT_EQ(read_whole(path).value(), session.text());
  EXPECT_TRUE(session.undo());
  EXPECT_EQ(session.text(), kRight);
  EXPECT_TRUE(session.unsaved());
}

TEST(EditSession, AnEditThatWouldMakeThePanelWrongChangesNothing) {
  EditSession session("x.panel.toml", kRight);
  const auto refused =
      session.apply(set_key(session.text(), {"control", 1}, "bounce", "\"much\""), "set bounce");
  ASSERT_FALSE(refused.ok());
  EXPECT_NE(refused.error().text.find("control.bounce"), std::string::npos);
  EXPECT_EQ(session.text(), kRight);
  EXPECT_EQ(session.undo_name(), "");
}

TEST(EditSession, AFileThatSomebodyElseChangedIsNotOverwrittenUnasked) {
  const std::string path = file_with("conflict.panel.toml", kRight);
  EditSession session(path, kRight);
  ASSERT_TRUE(session.apply(remove_part(session.text(), {"control", 1}), "take b out").ok());
  const std::string theirs = std::string(kRight) + "# theirs\n";
  ASSERT_TRUE(save_file(path, theirs).ok());
  EXPECT_EQ(session.save().value(), SaveAnswer::kChangedOnDisk);
  EXPECT_EQ(read_whole(path).value(), theirs);
  EXPECT_TRUE(session.in_conflict());
  EXPECT_EQ(session.save(true).value(), SaveAnswer::kSaved);
  EXPECT_EQ(read_whole(path).value(), session.text());
}

TEST(EditSession, EditsThatAreGivenUpInAConflictLeaveWhatTheOtherWrote) {
  const std::string path = file_with("given-up.panel.toml", kRight);
  EditSession session(path, kRight);
  ASSERT_TRUE(session.apply(remove_part(session.text(), {"control", 1}), "take b out").ok());
  const std::string theirs = std::string(kRight) + "# theirs\n";
  session.file_has(theirs);
  ASSERT_TRUE(session.in_conflict());
  session.give_up();
  EXPECT_EQ(session.text(), theirs);
  EXPECT_FALSE(session.unsaved());
  EXPECT_FALSE(session.in_conflict());
}

TEST(EditSession, WithoutEditsAChangeInTheFileIsTakenOver) {
  EditSession session("x.panel.toml", kRight);
  const std::string theirs = std::string(kRight) + "# theirs\n";
  session.file_has(theirs);
  EXPECT_EQ(session.text(), theirs);
  EXPECT_FALSE(session.unsaved());
  EXPECT_EQ(session.undo_name(), "change in the file");
}

}  // namespace
}  // namespace understudy
