// The page docs/line-format.md keeps to the table of line cases and to the names in the code.
#include <gtest/gtest.h>

#include <regex>
#include <set>

#include "tests/protocol/line_cases.h"

namespace understudy::protocol {
namespace {

std::string read_page() {
  std::ifstream file(UNDERSTUDY_SOURCE_ROOT "/docs/line-format.md");
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

// The rows of the markdown table under that heading, without its first two.
std::vector<std::string> rows_under(const std::string& page, const std::string& heading) {
  const std::size_t from = page.find("\n" + heading + "\n");
  if (from == std::string::npos) return {};
  const std::string section = page.substr(from + 1, page.find("\n## ", from + 1) - from - 1);
  std::vector<std::string> rows;
  for (const std::string& line : cut(section, '\n')) {
    if (line.starts_with("|")) rows.push_back(line);
  }
  if (rows.size() > 2) rows.erase(rows.begin(), rows.begin() + 2);
  return rows;
}

TEST(LineFormatPage, EachShapeSeenInTheWildStandsInTheTableAndIsRead) {
  std::map<std::string, LineCase> cases;
  for (const LineCase& c :
       read_line_cases(UNDERSTUDY_SOURCE_ROOT "/protocol/cases/line_cases.tsv")) {
    cases[c.id] = c;
  }
  const auto rows = rows_under(read_page(), "## Shapes seen in the wild");
  EXPECT_GE(rows.size(), 23u);
  for (const std::string& row : rows) {
    const std::string last = row.substr(row.rfind('|', row.size() - 2));
    const std::regex id("`([a-z0-9-]+)`");
    int named = 0;
    for (auto it = std::sregex_iterator(last.begin(), last.end(), id); it != std::sregex_iterator();
         ++it, ++named) {
      ASSERT_TRUE(cases.contains((*it)[1])) << row;
      EXPECT_EQ(cases[(*it)[1]].outcome, "ok") << row;
    }
    EXPECT_GE(named, 1) << row;
  }
}

TEST(LineFormatPage, TheTableOfChecksIsTrue) {
  const auto rows = rows_under(read_page(), "## Checks");
  ASSERT_EQ(rows.size(), static_cast<std::size_t>(kCheckKindCount));
  const std::regex row_shape("\\| `([^`]+)` \\|.*\\| `([0-9A-F]+)` \\|");
  for (const std::string& row : rows) {
    std::smatch parts;
    ASSERT_TRUE(std::regex_match(row, parts, row_shape)) << row;
    const auto kind = find_check(parts[1].str());
    ASSERT_TRUE(kind.has_value()) << row;
    EXPECT_EQ(compute_check(*kind, "123456789"), std::stoul(parts[2].str(), nullptr, 16)) << row;
  }
}

}  // namespace
}  // namespace understudy::protocol
