// Files that are no panel files: missing, too long, binary, a directory, not allowed.
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdio>

#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

std::string said_of_file(const std::string& path) {
  const auto panel = load_panel(path);
  return panel.ok() ? "" : panel.error().text;
}

// A name of this process alone.
std::string temporary(const std::string& name) {
  return testing::TempDir() + std::to_string(getpid()) + "_" + name;
}

void write_file(const std::string& path, const std::string& bytes) {
  std::FILE* file = std::fopen(path.c_str(), "wb");
  ASSERT_NE(file, nullptr);
  std::fwrite(bytes.data(), 1, bytes.size(), file);
  std::fclose(file);
}

TEST(PanelLoad, TheTramDeskIsRead) {
  const auto panel = load_panel(UNDERSTUDY_SOURCE_ROOT "/scenarios/tram/tram.panel.toml");
  ASSERT_TRUE(panel.ok()) << panel.error().text;
  EXPECT_EQ(panel.value()->description.name, "Tram desk");
  EXPECT_EQ(panel.value()->description.controls.size(), 5U);
  EXPECT_EQ(panel.value()->to_game.size(), 1U);
  EXPECT_EQ(panel.value()->to_panel.size(), 1U);
  EXPECT_TRUE(panel.value()->text.starts_with("# The tram desk"));
}

TEST(PanelLoad, AMissingFileNamesTheWayToMakeOne) {
  EXPECT_EQ(said_of_file("no/such.panel.toml"),
            "cannot read panel file no/such.panel.toml: No such file or directory; understudy new "
            "NAME writes one");
}

TEST(PanelLoad, ADirectoryIsNoFile) {
  EXPECT_EQ(said_of_file("/"), "cannot read panel file /: Is a directory; name the file in it");
}

TEST(PanelLoad, AFileWithoutRightsSaysSo) {
  const std::string path = temporary("no_rights.panel.toml");
  write_file(path, "panel = \"X\"\n");
  ASSERT_EQ(chmod(path.c_str(), 0), 0);
  // Root may read everything, so it becomes nobody for this one reading.
  const bool root = geteuid() == 0;
  if (root) {
    ASSERT_EQ(seteuid(65534), 0);
  }
  const std::string said = said_of_file(path);
  if (root) {
    ASSERT_EQ(seteuid(0), 0);
  }
  unlink(path.c_str());
  EXPECT_EQ(said, "cannot read panel file " + path + ": Permission denied; ls -l shows who may");
}

TEST(PanelLoad, AHundredMegabytesAreRefusedAfterReadingOne) {
  const std::string path = temporary("huge.panel.toml");
  // A file with a hole takes no room on the disk.
  write_file(path, "panel = \"X\"\n");
  ASSERT_EQ(truncate(path.c_str(), 100'000'000), 0);
  EXPECT_EQ(said_of_file(path),
            path +
                ": found more than 1 MB, expected a panel file, which is a few kB of "
                "text");
  unlink(path.c_str());
}

TEST(PanelLoad, BinaryBytesAreToldWithTheirPlace) {
  const std::string path = temporary("binary.panel.toml");
  write_file(path, std::string("\x7f"
                               "ELF\0\1",
                               6));
  EXPECT_EQ(said_of_file(path),
            path +
                ": found bytes that are no UTF-8 text at byte 5, expected a panel "
                "file, which is TOML text");
  write_file(path, "panel = \"X\"\n# caf\xe9\n");
  EXPECT_EQ(said_of_file(path),
            path +
                ": found bytes that are no UTF-8 text at byte 18, expected a panel "
                "file, which is TOML text");
  unlink(path.c_str());
}

TEST(PanelLoad, DeeplyNestedTablesAreAnErrorNotACrash) {
  const std::string said = said_of("a = " + std::string(100'000, '[') + "\n");
  EXPECT_NE(said.find("not TOML"), std::string::npos) << said.substr(0, 200);
}

}  // namespace
}  // namespace understudy
