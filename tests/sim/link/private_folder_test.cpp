// Whose files are whose: the private folder and the symlinks that name ports.
#include "sim/link/private_folder.h"

#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

namespace understudy {
namespace {

namespace fs = std::filesystem;

// Each test has a runtime folder of its own.
class PrivateFolder : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = testing::TempDir() + "understudy_test_XXXXXX";
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    base = pattern;
    setenv("XDG_RUNTIME_DIR", base.c_str(), 1);
  }
  void TearDown() override { fs::remove_all(base); }
  fs::path base;
};

TEST_F(PrivateFolder, IsMadeForItsOwnerAlone) {
  const auto folder = private_folder();
  ASSERT_TRUE(folder.ok());
  EXPECT_EQ(folder.value(), (base / "understudy").string());
  EXPECT_EQ(fs::status(folder.value()).permissions() & fs::perms::mask, fs::perms::owner_all);
}

TEST_F(PrivateFolder, ThatOthersMayEnterIsRefused) {
  fs::create_directory(base / "understudy");
  chmod((base / "understudy").c_str(), 0755);
  ASSERT_FALSE(private_folder().ok());
  EXPECT_NE(private_folder().error().text.find("chmod 700"), std::string::npos);
}

TEST_F(PrivateFolder, ThatIsASymlinkIsRefused) {
  fs::create_directory(base / "elsewhere");
  fs::create_symlink(base / "elsewhere", base / "understudy");
  EXPECT_FALSE(private_folder().ok());
}

TEST_F(PrivateFolder, OfSomebodyElseIsRefused) {
  if (geteuid() != 0) GTEST_SKIP() << "only root can give folders away";
  fs::create_directory(base / "understudy");
  chmod((base / "understudy").c_str(), 0700);
  ASSERT_EQ(chown((base / "understudy").c_str(), 65'534, 65'534), 0);
  EXPECT_FALSE(private_folder().ok());
}

TEST_F(PrivateFolder, LiesInTheTemporaryFolderWhereThereIsNoRuntimeFolder) {
  unsetenv("XDG_RUNTIME_DIR");
  setenv("TMPDIR", base.c_str(), 1);
  const auto folder = private_folder();
  unsetenv("TMPDIR");
  ASSERT_TRUE(folder.ok());
  EXPECT_EQ(folder.value(), base.string() + "/understudy-" + std::to_string(geteuid()));
}

TEST_F(PrivateFolder, ANameWithoutASlashLiesInIt) {
  const auto named = NamedLink::put("tram", "/dev/null");
  ASSERT_TRUE(named.ok());
  EXPECT_EQ(named.value()->path(), (base / "understudy/tram").string());
  EXPECT_EQ(fs::read_symlink(named.value()->path()), "/dev/null");
}

TEST_F(PrivateFolder, ASymlinkOfOursIsGoneWithItsSession) {
  { EXPECT_TRUE(NamedLink::put((base / "port").string(), "/dev/null").ok()); }
  EXPECT_FALSE(fs::is_symlink(base / "port"));
  EXPECT_TRUE(fs::is_empty(base / "understudy")) << "something of it is left in the folder";
}

TEST_F(PrivateFolder, ARealFileIsNeverReplaced) {
  std::ofstream(base / "port") << "precious";
  const auto named = NamedLink::put((base / "port").string(), "/dev/null");
  ASSERT_FALSE(named.ok());
  EXPECT_EQ(named.error().code, ErrorCode::kUnusable);
  EXPECT_NE(named.error().text.find("a real file is there"), std::string::npos);
  EXPECT_EQ(fs::file_size(base / "port"), 8U);
  EXPECT_TRUE(fs::is_empty(base / "understudy")) << "something is left in the folder";
}

TEST_F(PrivateFolder, ASymlinkOfSomebodyElseIsNeverReplaced) {
  fs::create_symlink("/dev/null", base / "port");
  EXPECT_FALSE(NamedLink::put((base / "port").string(), "/dev/zero").ok());
  EXPECT_EQ(fs::read_symlink(base / "port"), "/dev/null");
}

TEST_F(PrivateFolder, WhatARunThatDiedLeftBehindIsReplaced) {
  const std::string path = (base / "port").string();
  const pid_t child = fork();
  if (child == 0) {
    auto named = NamedLink::put(path, "/dev/null");
    _exit(named.ok() ? 0 : 1);  // without any destructor, as a crash
  }
  int status = -1;
  waitpid(child, &status, 0);
  ASSERT_EQ(status, 0);
  ASSERT_TRUE(fs::is_symlink(path));
  const auto named = NamedLink::put(path, "/dev/zero");
  ASSERT_TRUE(named.ok()) << named.error().text;
  EXPECT_EQ(fs::read_symlink(path), "/dev/zero");
}

TEST_F(PrivateFolder, TheNameOfARunningSessionIsBusyHoweverItsFolderIsWritten) {
  const auto first = NamedLink::put((base / "port").string(), "/dev/null");
  ASSERT_TRUE(first.ok());
  fs::create_directory(base / "inner");
  const auto second = NamedLink::put((base / "inner/../port").string(), "/dev/zero");
  ASSERT_FALSE(second.ok());
  EXPECT_EQ(second.error().code, ErrorCode::kBusy);
}

TEST_F(PrivateFolder, WhatTheUserPutInItsPlaceMeanwhileStays) {
  {
    const auto named = NamedLink::put((base / "port").string(), "/dev/null");
    ASSERT_TRUE(named.ok());
    fs::remove(base / "port");
    std::ofstream(base / "port") << "precious";
  }
  EXPECT_TRUE(fs::is_regular_file(base / "port"));
}

TEST_F(PrivateFolder, AFolderThatIsNotThereIsSaid) {
  const auto named = NamedLink::put((base / "missing/port").string(), "/dev/null");
  ASSERT_FALSE(named.ok());
  EXPECT_NE(named.error().text.find("No such file"), std::string::npos) << named.error().text;
}

}  // namespace
}  // namespace understudy
