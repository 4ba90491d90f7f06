// The page docs/line-format.md keeps to the table of line cases and to the names in the code.
#include <gtest/gtest.h>

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

// What stands between backticks in one column of a row; column 1 is the first.
std::vector<std::string> names_in(const std::string& row, std::size_t column) {
  const std::vector<std::string> parts = cut(cut(row, '|').at(column), '`');
  std::vector<std::string> names;
  for (std::size_t part = 1; part < parts.size(); part += 2) names.push_back(parts[part]);
  return names;
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
    const auto ids = names_in(row, 3);
    EXPECT_FALSE(ids.empty()) << row;
    for (const std::string& id : ids) {
      ASSERT_TRUE(cases.contains(id)) << row;
      EXPECT_EQ(cases[id].outcome, "ok") << row;
    }
  }
}

TEST(LineFormatPage, TheTableOfChecksIsTrue) {
  const auto rows = rows_under(read_page(), "## Checks");
  ASSERT_EQ(rows.size(), static_cast<std::size_t>(kCheckKindCount));
  for (const std::string& row : rows) {
    const auto kind = find_check(names_in(row, 1).at(0));
    ASSERT_TRUE(kind.has_value()) << row;
    EXPECT_EQ(compute_check(*kind, "123456789"), std::stoul(names_in(row, 3).at(0), nullptr, 16))
        << row;
  }
}

}  // namespace
}  // namespace understudy::protocol
