// What is said of a panel file that is not there, or is none, by what lies around it.
#include "sim/app/panel_argument.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdio>

namespace understudy {
namespace {

std::string said_of(const std::string& path) {
  const auto panel = load_panel_argument(path);
  return panel.ok() ? "" : panel.error().text;
}

void write_file(const std::string& path, const std::string& text) {
  std::FILE* file = std::fopen(path.c_str(), "wb");
  ASSERT_NE(file, nullptr);
  std::fputs(text.c_str(), file);
  std::fclose(file);
}

TEST(PanelArgument, APanelFileNearbyIsOffered) {
  const std::string folder = "panel_argument_test";
  const std::string pad = folder + "/pad.panel.toml";
  mkdir(folder.c_str(), 0755);
  write_file(pad, "panel = \"X\"\n");
  for (const std::string name : {"pad", "pda", "padd.panel.toml", "Pad"}) {
    const std::string path = folder + "/" + name;
    EXPECT_EQ(said_of(path), "there is no panel file " + path + "; did you mean " + pad + "?");
  }
  for (const std::string name : {"tram_desk", "x"}) {
    const std::string path = folder + "/" + name;
    EXPECT_EQ(said_of(path), "cannot read panel file " + path +
                                 ": No such file or directory; understudy new NAME writes one");
  }
  // A folder of that name beside it.
  mkdir((folder + "/pad").c_str(), 0755);
  EXPECT_NE(said_of(folder + "/pad").find("did you mean " + pad), std::string::npos);
  rmdir((folder + "/pad").c_str());
  // A file that is there is told by its own mistakes.
  EXPECT_TRUE(said_of(pad).starts_with(pad + ":1:1: control: found neither"));
  unlink(pad.c_str());
  rmdir(folder.c_str());
}

TEST(PanelArgument, AProgramIsToldToStandBehindTwoDashes) {
  const std::string advice = " is no panel file but looks like a program; put -- before your game";
  EXPECT_EQ(said_of("no_such_game.py"), "no_such_game.py" + advice);
  write_file("panel_argument_game", "#!/bin/sh\nexit 0\n");
  ASSERT_EQ(chmod("panel_argument_game", 0755), 0);
  EXPECT_EQ(said_of("panel_argument_game"), "panel_argument_game" + advice);
  // On some disks every file may be run: a panel file is known by its name, or by being one.
  write_file("panel_argument.toml", "panel = \"X\"\n");
  ASSERT_EQ(chmod("panel_argument.toml", 0755), 0);
  EXPECT_EQ(said_of("panel_argument.toml").find("--"), std::string::npos);
  write_file("panel_argument_game", "panel = \"X\"\n[[control]]\nname = \"a\"\nkind = \"pot\"\n");
  EXPECT_EQ(said_of("panel_argument_game"), "");
  unlink("panel_argument_game");
  unlink("panel_argument.toml");
}

}  // namespace
}  // namespace understudy
