// The helper that holds outputs to approved files: it must notice every difference.
#include "tests/support/approved.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>

namespace understudy {
namespace {

class Approved : public testing::Test {
 protected:
  void SetUp() override {
    std::filesystem::remove_all(folder_);
    ::setenv("UNDERSTUDY_APPROVE", "1", 1);
    ASSERT_TRUE(is_approved_in(folder_, "deep/a.txt", "one\ntwo\n"));
    ::unsetenv("UNDERSTUDY_APPROVE");
  }

  testing::AssertionResult now(std::string_view text) {
    return is_approved_in(folder_, "deep/a.txt", text);
  }

  const std::string folder_ = "approved_test_folder";
};

TEST_F(Approved, TheSameTextPasses) {
  EXPECT_TRUE(now("one\ntwo\n"));
}

TEST_F(Approved, AChangedLineIsShownWithItsNumber) {
  const testing::AssertionResult result = now("one\ntoo\n");
  EXPECT_FALSE(result);
  EXPECT_NE(std::string(result.message()).find("line 2: approved 'two', now 'too'"),
            std::string::npos);
}

TEST_F(Approved, MissingAndSurplusLinesAndAMissingLineFeedAreNoticed) {
  EXPECT_FALSE(now("one\n"));
  EXPECT_FALSE(now("one\ntwo\nthree\n"));
  EXPECT_FALSE(now("one\ntwo"));
  EXPECT_FALSE(now(""));
}

TEST_F(Approved, AFileThatIsNotThereFails) {
  EXPECT_FALSE(is_approved_in(folder_, "other.txt", ""));
}

}  // namespace
}  // namespace understudy
