// What the window remembers: written and read again, and hostile files.
#include "sim/window/preferences.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "sim/base/random.h"

namespace understudy {
namespace {

TEST(Preferences, WhatWasWrittenIsReadAgain) {
  const Remembered remembered = {{"area.traffic.open", "1"},
                                 {"recent.0",
                                  "panels/Stra\xC3\x9F"
                                  "e = 1.panel.toml"},
                                 {"window.share", "0.36"}};
  EXPECT_EQ(read_preferences(written_preferences(remembered)), remembered);
}

TEST(Preferences, LinesThatMakeNoSenseAreLeftOutAndTheOthersKept) {
  const Remembered found = read_preferences(
      "# a remark\nno equals sign\n = no name\nbell\x01 = 1\nwidth = 12\x7F\nheight=720\r\n");
  EXPECT_EQ(found, (Remembered{{"height", "720"}}));
}

TEST(Preferences, ALineFeedInAValueCannotMakeAnotherLine) {
  const std::string text = written_preferences({{"recent.0", "a\nwindow.width = 3"}, {"b", "c"}});
  EXPECT_EQ(read_preferences(text), (Remembered{{"b", "c"}}));
}

TEST(Preferences, AFileOfAMillionLinesIsCutShort) {
  std::string text;
  for (int i = 0; i < 1'000'000; ++i) text += "n" + std::to_string(i) + "=1\n";
  EXPECT_EQ(read_preferences(text).size(), kRememberedMax);
}

TEST(Preferences, AnyBytesAreReadWithoutHarm) {
  Stream chance(7, "hostile preferences");
  for (int round = 0; round < 2'000; ++round) {
    std::string text(static_cast<std::size_t>(chance.below(400)), '\0');
    for (char& letter : text) letter = static_cast<char>(chance.bits());
    const Remembered found = read_preferences(text);
    ASSERT_EQ(read_preferences(written_preferences(found)), found);
  }
}

TEST(Preferences, NumbersOutsideTheirRangeAreTheUsualOnes) {
  const NumberRange range = {.least = 0.1, .most = 0.7, .usual = 0.4};
  for (const char* text : {"1e300", "nan", "inf", "-3", "", "0.5x", "0,5", "0.71"}) {
    EXPECT_EQ(remembered_number({{"share", text}}, "share", range), 0.4) << text;
  }
  EXPECT_EQ(remembered_number({{"share", "0.5"}}, "share", range), 0.5);
}

TEST(Preferences, TheFileIsReplacedAndItsFolderMade) {
  const std::string path = "preferences_test/deeper/window.txt";
  std::filesystem::remove_all("preferences_test");
  ASSERT_TRUE(store_preferences(path, {{"a", "1"}}).ok());
  ASSERT_TRUE(store_preferences(path, {{"a", "2"}}).ok());
  EXPECT_EQ(load_preferences(path), (Remembered{{"a", "2"}}));
  EXPECT_FALSE(std::filesystem::exists(path + ".new"));
}

TEST(Preferences, WhereAFileStandsInTheWayOfTheFolderItIsToldAndNothingElseHappens) {
  std::filesystem::remove_all("preferences_blocked");
  std::ofstream("preferences_blocked") << "a file";
  const Result<Done> stored = store_preferences("preferences_blocked/window.txt", {{"a", "1"}});
  ASSERT_FALSE(stored.ok());
  EXPECT_NE(stored.error().text.find("preferences_blocked/window.txt"), std::string::npos);
}

// XDG Base Directory Specification, version 0.8: $XDG_CONFIG_HOME, else $HOME/.config; "all paths
// set in these environment variables must be absolute", a relative one is to be ignored.
TEST(Preferences, TheFileLiesWhereTheSpecificationSays) {
  setenv("HOME", "/h/ada", 1);
  setenv("XDG_CONFIG_HOME", "/h/ada/settings", 1);
  EXPECT_EQ(preferences_path(), "/h/ada/settings/understudy/window.txt");
  setenv("XDG_CONFIG_HOME", "settings", 1);
  EXPECT_EQ(preferences_path(), "/h/ada/.config/understudy/window.txt");
  unsetenv("XDG_CONFIG_HOME");
  EXPECT_EQ(preferences_path(), "/h/ada/.config/understudy/window.txt");
}

}  // namespace
}  // namespace understudy
