// Edits of single keys: what stands around them stays, byte for byte.
#include "sim/panel/edit.h"

#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

std::string done(const Result<std::string>& edit) {
  EXPECT_TRUE(edit.ok()) << (edit.ok() ? "" : edit.error().text);
  return edit.ok() ? edit.value() : "";
}

std::string why_not(const Result<std::string>& edit) {
  EXPECT_FALSE(edit.ok()) << (edit.ok() ? edit.value() : "");
  return edit.ok() ? "" : edit.error().text;
}

const std::string kSmall =
    "panel = \"X\"   # a name\n"
    "\n"
    "[[control]]\n"
    "name = \"bell\"                        # rings\n"
    "                                     # as long as it is held\n"
    "kind = \"button\"\n"
    "keys = { hold = \"B\" }\n"
    "\n"
    "# ---- the end ----\n";

TEST(EditKeys, AValueIsReplacedWhereItStandsAndItsCommentKeepsItsColumn) {
  EXPECT_EQ(done(set_key(kSmall, {"control", 0}, "name", "\"the-horn\"")),
            "panel = \"X\"   # a name\n"
            "\n"
            "[[control]]\n"
            "name = \"the-horn\"                    # rings\n"
            "                                     # as long as it is held\n"
            "kind = \"button\"\n"
            "keys = { hold = \"B\" }\n"
            "\n"
            "# ---- the end ----\n");
}

TEST(EditKeys, ACommentMovesOnlyWhereThereIsNoRoomLeft) {
  EXPECT_EQ(done(set_key("a = 1 # one\n", {}, "a", "[1, 2, 3]")), "a = [1, 2, 3] # one\n");
  EXPECT_EQ(done(set_key("a = 1# one\n", {}, "a", "22")), "a = 22# one\n");
  // Columns are counted in characters: an umlaut is two bytes and one column.
  EXPECT_EQ(done(set_key("a = \"\xC3\xBC\"    # u\n", {}, "a", "\"u\"")), "a = \"u\"    # u\n");
}

TEST(EditKeys, ANewKeyBecomesALineBehindTheLastOfItsTable) {
  EXPECT_EQ(done(set_key(kSmall, {"control", 0}, "at_mm", "[40, 70]")),
            "panel = \"X\"   # a name\n"
            "\n"
            "[[control]]\n"
            "name = \"bell\"                        # rings\n"
            "                                     # as long as it is held\n"
            "kind = \"button\"\n"
            "keys = { hold = \"B\" }\n"
            "at_mm = [40, 70]\n"
            "\n"
            "# ---- the end ----\n");
}

TEST(EditKeys, ANewKeyGoesBelowTheCommentThatGoesOnBelowTheLast) {
  const std::string text =
      "[manners]\nloop = \"20 ms\"   # one pass\n                 # a line\n\n";
  EXPECT_EQ(done(set_key(text, {"manners"}, "hello", "\"x\"")),
            "[manners]\nloop = \"20 ms\"   # one pass\n                 # a line\n"
            "hello = \"x\"\n\n");
}

TEST(EditKeys, ANewKeyTakesTheColumnOfTheOthersSigns) {
  EXPECT_EQ(
      done(set_key("[host]\nflush  = \"4 ms\"\nbuffer = 4096\n", {"host"}, "dtr", "\"nothing\"")),
      "[host]\nflush  = \"4 ms\"\nbuffer = 4096\ndtr    = \"nothing\"\n");
  EXPECT_EQ(done(set_key("[host]\nflush=\"4 ms\"\n", {"host"}, "dtr", "\"nothing\"")),
            "[host]\nflush=\"4 ms\"\ndtr=\"nothing\"\n");
  EXPECT_EQ(done(set_key("[host]\n  flush = \"4 ms\"\n", {"host"}, "dtr", "\"nothing\"")),
            "[host]\n  flush = \"4 ms\"\n  dtr = \"nothing\"\n");
}

TEST(EditKeys, SubTablesAreReachedHoweverTheyAreWritten) {
  EXPECT_EQ(done(set_key("keys = { hold = \"B\" }\n", {}, "keys.hold", "\"C\"")),
            "keys = { hold = \"C\" }\n");
  EXPECT_EQ(done(set_key("keys = { hold = \"B\" }  # k\n", {}, "keys.more", "\"C\"")),
            "keys = { hold = \"B\", more = \"C\" }  # k\n");
  EXPECT_EQ(done(set_key("keys = {}\n", {}, "keys.more", "\"C\"")), "keys = { more = \"C\" }\n");
  EXPECT_EQ(done(set_key("keys.hold = \"B\"\nz = 1\n", {}, "keys.more", "\"C\"")),
            "keys.hold = \"B\"\nkeys.more = \"C\"\nz = 1\n");
  EXPECT_EQ(done(set_key("[[control]]\nname = \"a\"\n[control.keys]\nhold = \"B\"\n[[control]]\n",
                         {"control", 0}, "keys.more", "\"C\"")),
            "[[control]]\nname = \"a\"\n[control.keys]\nhold = \"B\"\nmore = \"C\"\n[[control]]\n");
  EXPECT_EQ(done(set_key("[[control]]\nname = \"a\"\n", {"control", 0}, "keys.more", "\"C\"")),
            "[[control]]\nname = \"a\"\nkeys = { more = \"C\" }\n");
  EXPECT_EQ(done(set_key("control = [{ name = \"a\" }, { name = \"b\" }]\n", {"control", 1}, "kind",
                         "\"pot\"")),
            "control = [{ name = \"a\" }, { name = \"b\", kind = \"pot\" }]\n");
}

TEST(EditKeys, ATableThatIsNotThereGoesToTheEnd) {
  EXPECT_EQ(done(set_key("panel = \"X\"\n", {"wire"}, "baud", "9600")),
            "panel = \"X\"\n\n[wire]\nbaud = 9600\n");
}

TEST(EditKeys, AFileWithoutALastLineEndKeepsToThat) {
  EXPECT_EQ(done(set_key("[wire]\nbaud = 9600", {"wire"}, "kind", "\"uart\"")),
            "[wire]\nbaud = 9600\nkind = \"uart\"");
  EXPECT_EQ(done(remove_key("[wire]\nbaud = 9600", {"wire"}, "baud")), "[wire]\n");
}

TEST(EditKeys, LineEndsOfTwoBytesStayAndAreUsed) {
  EXPECT_EQ(done(set_key("[wire]\r\nbaud = 9600 # b\r\n\r\n", {"wire"}, "kind", "\"uart\"")),
            "[wire]\r\nbaud = 9600 # b\r\nkind = \"uart\"\r\n\r\n");
  EXPECT_EQ(done(set_key("[wire]\r\nbaud = 9600 # b\r\n", {"wire"}, "baud", "300")),
            "[wire]\r\nbaud = 300  # b\r\n");
}

TEST(EditKeys, AKeyGoesWithItsLineAndItsComment) {
  EXPECT_EQ(
      done(remove_key(kSmall, {"control", 0}, "name")),
      "panel = \"X\"   # a name\n\n[[control]]\nkind = \"button\"\nkeys = { hold = \"B\" }\n\n"
      "# ---- the end ----\n");
  EXPECT_EQ(done(remove_key("a = { b = 1, c = 2, d = 3 }\n", {}, "a.b")), "a = { c = 2, d = 3 }\n");
  EXPECT_EQ(done(remove_key("a = { b = 1, c = 2, d = 3 }\n", {}, "a.c")), "a = { b = 1, d = 3 }\n");
  EXPECT_EQ(done(remove_key("a = { b = 1, c = 2, d = 3 }\n", {}, "a.d")), "a = { b = 1, c = 2 }\n");
  EXPECT_EQ(done(remove_key("a = { b = { c = 1 } }\nz = 1\n", {}, "a.b.c")), "z = 1\n");
  EXPECT_EQ(done(remove_key("a.b.c = 1\nz = 1\n", {}, "a.b.c")), "z = 1\n");
  EXPECT_EQ(done(remove_key("a = 1\n", {}, "nothing")), "a = 1\n");
}

TEST(EditKeys, TextsOverSeveralLinesAreOneValue) {
  const std::string text = "a = \"\"\"\n# no comment \\\n  b = 1 \"\" \"\"\"\"\nc = 2\n";
  EXPECT_EQ(done(set_key(text, {}, "c", "3")),
            "a = \"\"\"\n# no comment \\\n  b = 1 \"\" \"\"\"\"\nc = 3\n");
  EXPECT_EQ(done(set_key(text, {}, "a", "1")), "a = 1\nc = 2\n");
  EXPECT_EQ(done(remove_key(text, {}, "a")), "c = 2\n");
}

TEST(EditKeys, ListsOverSeveralLinesMayHoldCommentsWithBrackets) {
  const std::string text = "a = [ # ]\n  1, # } \"\n  2,\n]\nb = ']'\n";
  EXPECT_EQ(done(set_key(text, {}, "b", "1")), "a = [ # ]\n  1, # } \"\n  2,\n]\nb = 1\n");
}

TEST(EditKeys, WhatIsNoSingleValueIsRefused) {
  EXPECT_NE(why_not(set_key("a = 1\n", {}, "a", "1\nb = 2")).find("expected one value"),
            std::string::npos);
  EXPECT_NE(why_not(set_key("a = 1\n", {}, "a", "1 # x")).find("expected one value"),
            std::string::npos);
  EXPECT_NE(why_not(set_key("a = 1\n", {}, "a", "")).find("expected one value"), std::string::npos);
  EXPECT_NE(why_not(set_key("a = 1\n", {}, "a", "nonsense")).find("no value"), std::string::npos);
  EXPECT_NE(why_not(set_key("a = 1\n", {}, "a", "\"open")).find("expected one value"),
            std::string::npos);
}

TEST(EditKeys, WhatIsInTheWayIsNamed) {
  EXPECT_EQ(why_not(set_key("board = \"bootloader-8bit\"\n", {"board"}, "chip", "\"x\"")),
            "cannot change board.chip: board is no table; change it first");
  EXPECT_EQ(why_not(set_key("[manners]\nloop = 1\n", {}, "manners", "1")),
            "cannot change manners: it is a table");
  EXPECT_EQ(why_not(set_key("panel = \"X\"\n", {"control", 3}, "name", "\"a\"")),
            "cannot change control[4].name: there is no such table");
}

TEST(EditKeys, AFileThatIsNoTomlIsLeftAloneWithItsMistakeNamed) {
  const std::string said = why_not(set_key("a = \nb = 2\n", {}, "b", "3"));
  EXPECT_NE(said.find("mend this first: file:1:"), std::string::npos) << said;
}

TEST(EditKeys, AFileWithAMistakeElsewhereCanBeEditedAndMended) {
  const std::string wrong = with_two_controls("[wire]\nbaud = \"fast\"\n");
  const std::string moved = done(set_key(wrong, {"control", 0}, "at_mm", "[10, 20]"));
  EXPECT_TRUE(check_edit(wrong, moved, "x.panel.toml").ok());
  const std::string mended = done(set_key(moved, {"wire"}, "baud", "9600"));
  EXPECT_EQ(described(mended).wire.baud, 9600);
}

TEST(EditKeys, ARightFileMustStayRight) {
  const std::string right = with_two_controls("");
  const std::string wrong = done(set_key(right, {"control", 0}, "sends", "[1]"));
  const Result<Done> checked = check_edit(right, wrong, "x.panel.toml");
  ASSERT_FALSE(checked.ok());
  EXPECT_EQ(checked.error().text.substr(0, 19), "x.panel.toml:6:9: c") << checked.error().text;
}

}  // namespace
}  // namespace understudy
