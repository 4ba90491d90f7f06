// The table of line cases, row by row: read, made again, or refused as it says.
#include "tests/protocol/line_cases.h"

#include <gtest/gtest.h>

namespace understudy::protocol {
namespace {

constexpr const char* kTable = UNDERSTUDY_SOURCE_ROOT "/protocol/cases/line_cases.tsv";

std::string kebab(LineFaultKind kind) {
  switch (kind) {
    case LineFaultKind::kNone:
      return "none";
    case LineFaultKind::kEndsEarly:
      return "ends-early";
    case LineFaultKind::kWrongText:
      return "wrong-text";
    case LineFaultKind::kNotANumber:
      return "not-a-number";
    case LineFaultKind::kOutOfRange:
      return "out-of-range";
    case LineFaultKind::kLeadingZeros:
      return "leading-zeros";
    case LineFaultKind::kWrongWidth:
      return "wrong-width";
    case LineFaultKind::kWrongDecimals:
      return "wrong-decimals";
    case LineFaultKind::kUnknownWord:
      return "unknown-word";
    case LineFaultKind::kGoesOn:
      return "goes-on";
    case LineFaultKind::kWrongCheck:
      return "wrong-check";
    case LineFaultKind::kNoRoom:
      return "no-room";
  }
  return "";
}

std::string kebab(LineHint hint) {
  switch (hint) {
    case LineHint::kNone:
      return "none";
    case LineHint::kDecimalsWithComma:
      return "decimals-with-comma";
    case LineHint::kDecimalsUnexpected:
      return "decimals-unexpected";
    case LineHint::kCommaForPoint:
      return "comma-for-point";
    case LineHint::kCarriageReturn:
      return "carriage-return";
    case LineHint::kSpaces:
      return "spaces";
    case LineHint::kLetterCase:
      return "letter-case";
    case LineHint::kPlusSign:
      return "plus-sign";
    case LineHint::kNotText:
      return "not-text";
    case LineHint::kAnotherSeparator:
      return "another-separator";
    case LineHint::kRunTogether:
      return "run-together";
    case LineHint::kTrailingSeparator:
      return "trailing-separator";
  }
  return "";
}

class LineCases : public testing::TestWithParam<LineCase> {};

void expect_read_and_made_again(const LineCase& c, const LineFormat& format) {
  std::vector<std::int64_t> wanted(c.catalogue.size(), 0);
  BuiltIns wanted_built_ins;
  for (const std::string& detail : c.details) {
    const auto [name, value] = cut_pair(detail);
    if (name == "#sequence") {
      wanted_built_ins.sequence = std::stoull(value);
    } else if (name == "#uptime_ms") {
      wanted_built_ins.uptime_ms = std::stoull(value);
    } else {
      wanted.at(find_field(c.catalogue, name).value()) = std::stoll(value);
    }
  }
  std::vector<std::int64_t> values(c.catalogue.size(), 0);
  BuiltIns built_ins;
  const Decoded decoded = format.decode(c.line, values, &built_ins);
  ASSERT_TRUE(decoded.ok()) << format.sentence(decoded.fault, c.line);
  EXPECT_EQ(values, wanted);
  EXPECT_EQ(built_ins, wanted_built_ins);
  EXPECT_EQ(format.fields().size() + format.has_sequence() + format.has_uptime(), c.details.size());

  std::string made(format.line_bytes_max(), '\0');
  made.resize(format.encode(wanted, wanted_built_ins, made));
  EXPECT_EQ(made, c.line);
}

void expect_fault(const LineCase& c, const LineFormat& format) {
  std::vector<std::int64_t> values(c.catalogue.size(), 0);
  const LineFault fault = format.decode(c.line, values).fault;
  const std::string said = format.sentence(fault, c.line);
  EXPECT_EQ(kebab(fault.kind), c.details.at(0)) << said;
  const std::string field =
      fault.field == kNoField ? "-" : c.catalogue.at(static_cast<std::size_t>(fault.field)).name;
  EXPECT_EQ(field, c.details.at(1)) << said;
  EXPECT_EQ(fault.column, std::stoul(c.details.at(2))) << said;
  const std::string hint = c.details.size() > 3 ? c.details[3] : "hint=none";
  EXPECT_EQ("hint=" + kebab(fault.hint), hint) << said;
}

TEST_P(LineCases, ARowHoldsAsWritten) {
  const LineCase& c = GetParam();
  const auto format = compile_case(c);
  if (c.outcome == "refused") {
    ASSERT_FALSE(format.ok());
    EXPECT_EQ(format.error().column, std::stoul(c.details.at(0))) << format.error().sentence();
    return;
  }
  ASSERT_TRUE(format.ok()) << format.error().sentence();
  if (c.outcome == "ok") {
    expect_read_and_made_again(c, format.value());
  } else {
    ASSERT_EQ(c.outcome, "error");
    expect_fault(c, format.value());
  }
}

INSTANTIATE_TEST_SUITE_P(Table, LineCases, testing::ValuesIn(read_line_cases(kTable)),
                         [](const auto& info) {
                           std::string name = info.param.id;
                           for (char& byte : name) {
                             if (byte == '-') byte = '_';
                           }
                           return name;
                         });

TEST(LineCasesTable, HasAtLeastSixtyRowsWithNamesOfTheirOwn) {
  const auto cases = read_line_cases(kTable);
  EXPECT_GE(cases.size(), 60u);
  std::map<std::string, int> count_of;
  for (const LineCase& c : cases) EXPECT_EQ(++count_of[c.id], 1) << c.id;
}

}  // namespace
}  // namespace understudy::protocol
