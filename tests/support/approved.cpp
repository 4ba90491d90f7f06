// Reading, comparing and rewriting of approved files.
#include "tests/support/approved.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

namespace understudy {
namespace {

testing::AssertionResult write_approved(const std::filesystem::path& path, std::string_view text) {
  std::error_code error;
  std::filesystem::create_directories(path.parent_path(), error);
  std::ofstream file(path, std::ios::binary);
  file << text;
  if (!file.flush()) return testing::AssertionFailure() << path << " could not be written";
  return testing::AssertionSuccess();
}

// "line 3: approved 'a', now 'b'" for the first line in which the texts differ.
std::string first_difference(std::string_view approved, std::string_view now) {
  std::istringstream approved_lines{std::string(approved)};
  std::istringstream now_lines{std::string(now)};
  for (int number = 1;; ++number) {
    std::string was;
    std::string is;
    const bool had = static_cast<bool>(std::getline(approved_lines, was));
    const bool has = static_cast<bool>(std::getline(now_lines, is));
    if (!had && !has) return "the line feed at the end";
    if (had && has && was == is) continue;
    return "line " + std::to_string(number) + ": approved " +
           (had ? "'" + was + "'" : "nothing more") + ", now " +
           (has ? "'" + is + "'" : "nothing more");
  }
}

}  // namespace

testing::AssertionResult is_approved_in(const std::string& folder, const std::string& name,
                                        std::string_view text) {
  const std::filesystem::path path = std::filesystem::path(folder) / name;
  const char* approve = std::getenv("UNDERSTUDY_APPROVE");
  if (approve != nullptr && std::string_view(approve) == "1") return write_approved(path, text);
  std::ifstream file(path, std::ios::binary);
  if (!file) {
    return testing::AssertionFailure() << path << " is not there; the target `approve` writes it";
  }
  const std::string approved{std::istreambuf_iterator<char>(file),
                             std::istreambuf_iterator<char>()};
  if (approved == text) return testing::AssertionSuccess();
  return testing::AssertionFailure() << path << " differs in " << first_difference(approved, text)
                                     << "\nif that is wanted, the target `approve` rewrites it";
}

testing::AssertionResult is_approved(const std::string& name, std::string_view text) {
  return is_approved_in(UNDERSTUDY_GOLDEN_FOLDER, name, text);
}

}  // namespace understudy
