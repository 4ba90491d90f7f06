// The matcher: which format a line is of, refusals with a line that two formats share, and the
// closest format to a line of none.
#include "protocol/matcher.h"

#include <gtest/gtest.h>

#include "tests/protocol/random_formats.h"

namespace understudy::protocol {
namespace {

// clang-format off
const std::vector<Field> kDesk{
    {.name = "power", .max = 1023},
    {.name = "bell", .max = 1},
    {.name = "horn", .max = 1, .words = {"UP", "DOWN"}},
};
// clang-format on

LineFormat compiled(std::string_view text, std::span<const Field> catalogue = kDesk,
                    std::optional<CheckSpec> check = std::nullopt) {
  auto format = LineFormat::compile({.text = text, .catalogue = catalogue, .check = check});
  EXPECT_TRUE(format.ok()) << text << ": " << format.error().sentence();
  return format ? std::move(format).value() : LineFormat();
}

TEST(Matcher, KnowsEachLineByItsFormat) {
  const auto matcher = Matcher::compile(
      {compiled("{power},{bell}"), compiled("BTN3 {horn}"), compiled("PANEL v2 id=3 pots=4")});
  ASSERT_TRUE(matcher.ok()) << matcher.error().sentence();
  EXPECT_EQ(matcher.value().classify("512,1"), 0);
  EXPECT_EQ(matcher.value().classify("BTN3 DOWN"), 1);
  EXPECT_EQ(matcher.value().classify("PANEL v2 id=3 pots=4"), 2);
  EXPECT_EQ(matcher.value().classify("512,1,"), kUnknownLine);
  EXPECT_EQ(matcher.value().classify("booting..."), kUnknownLine);
  EXPECT_EQ(matcher.value().classify(""), kUnknownLine);
}

TEST(Matcher, WritesValuesOnlyForALineThatItKnows) {
  const auto matcher = Matcher::compile({compiled("{power},{bell}"), compiled("BTN3 {horn}")});
  std::vector<std::int64_t> values{7, 7, 7};
  EXPECT_FALSE(matcher.value().match("512,x", values).ok());
  EXPECT_EQ(values, (std::vector<std::int64_t>{7, 7, 7}));
  const Match match = matcher.value().match("512,1", values);
  EXPECT_TRUE(match.ok());
  EXPECT_EQ(match.format, 0);
  EXPECT_EQ(values, (std::vector<std::int64_t>{512, 1, 7}));
}

TEST(Matcher, TwoFormatsThatShareALineAreRefusedWithThatLine) {
  const std::vector<LineFormat> formats{compiled("BTN {bell}"), compiled("{power}"),
                                        compiled("{bell}")};
  const auto matcher = Matcher::compile(formats);
  ASSERT_FALSE(matcher.ok());
  EXPECT_EQ(matcher.error().format_index, 1u);
  EXPECT_EQ(matcher.error().other_index, 2u);
  std::vector<std::int64_t> values(3);
  EXPECT_TRUE(formats[1].decode(matcher.error().witness, values).ok());
  EXPECT_TRUE(formats[2].decode(matcher.error().witness, values).ok());
  EXPECT_NE(matcher.error().sentence().find("`{power}` and `{bell}`"), std::string::npos);
}

TEST(Matcher, TheSharedLineCarriesTheRightCheck) {
  const CheckSpec check{};
  const std::vector<LineFormat> formats{compiled("{power}", kDesk, check),
                                        compiled("{bell}", kDesk, check)};
  const auto matcher = Matcher::compile(formats);
  ASSERT_FALSE(matcher.ok());
  std::vector<std::int64_t> values(3);
  EXPECT_TRUE(formats[0].decode(matcher.error().witness, values).ok()) << matcher.error().witness;
  EXPECT_TRUE(formats[1].decode(matcher.error().witness, values).ok());
}

TEST(Matcher, FormatsMayDifferByTheirRangesAlone) {
  const std::vector<Field> fields{{.name = "low", .max = 99},
                                  {.name = "high", .min = 100, .max = 999}};
  const auto matcher = Matcher::compile({compiled("{low}", fields), compiled("{high}", fields)});
  ASSERT_TRUE(matcher.ok()) << matcher.error().sentence();
  EXPECT_EQ(matcher.value().classify("99"), 0);
  EXPECT_EQ(matcher.value().classify("100"), 1);
  EXPECT_EQ(matcher.value().classify("1000"), kUnknownLine);
}

TEST(Matcher, OneFormatPerControlIsToldApartByIdAndByName) {
  const std::vector<EachSubject> subjects{{"power", 1, "power"}, {"bell", 12, "bell"}};
  for (const char* text : {"{#id},{#value}", "{#name}={#value}", "L{#id:2}={#value}"}) {
    auto formats = LineFormat::compile_each({.text = text, .catalogue = kDesk}, subjects);
    ASSERT_TRUE(formats.ok()) << formats.error().sentence();
    EXPECT_TRUE(Matcher::compile(std::move(formats).value()).ok()) << text;
  }
  auto formats = LineFormat::compile_each({.text = "{#value}", .catalogue = kDesk}, subjects);
  EXPECT_FALSE(Matcher::compile(std::move(formats).value()).ok());
}

TEST(Matcher, AnUnknownLineIsExplainedByTheFormatThatReadsItFurthest) {
  const auto matcher =
      Matcher::compile({compiled("P {power},{bell}"), compiled("BTN3 {horn}")}).value();
  const Match match = matcher.explain("BTN3 LEFT");
  EXPECT_EQ(match.format, 1);
  EXPECT_EQ(match.fault.kind, LineFaultKind::kUnknownWord);
  EXPECT_EQ(matcher.sentence(match, "BTN3 LEFT"),
            "horn (place 1), column 6: found \"LEFT\", expected \"UP\" or \"DOWN\"");
  EXPECT_EQ(matcher.explain("booting").format, kUnknownLine);
  EXPECT_EQ(matcher.sentence(matcher.explain("booting"), "booting"),
            "none of the 2 line formats begins like \"booting\"");
}

TEST(Matcher, CopiesAreIndependent) {
  auto first = std::make_unique<Matcher>(Matcher::compile({compiled("{power},{bell}")}).value());
  const Matcher second = *first;
  first.reset();
  EXPECT_EQ(second.classify("5,1"), 0);
}

// --- against trying out all lines -------------------------------------------------------------

// Formats of lines of at most four bytes, so that all lines can be tried.
std::string draw_short_template() {
  return draw_of<std::string>(
      {"{a}",     "{b}",      "{c}",     "{d}",       "{w}",   "{a},{b}",
       "{b},{a}", "{a:2}",    "{a:2+}",  "1{a}",      "{a}1",  "-{b}",
       "{e:x}",   "{e:2X}",   "{c:4}",   "{d:short}", "1,{b}", "{bits low first: b f}",
       "A{a}",    "{w}{a:1}", "{w},{b}", "1{w}",      "0.{a}", "-0",
       "-0.0",    "1.0",      "00",      "0{a}"});
}

// clang-format off
const std::vector<Field> kShort{
    {.name = "a", .max = 9},  {.name = "b", .max = 1},
    {.name = "c", .min = -12, .max = 11}, {.name = "d", .min = -12, .max = 12, .decimals = 1},
    {.name = "e", .max = 26}, {.name = "f", .max = 1},
    {.name = "w", .max = 2, .words = {"A", "AB", "10"}},
};
// clang-format on

std::optional<LineFormat> draw_short_format() {
  const std::string text = draw_short_template();
  auto format = LineFormat::compile({.text = text, .catalogue = kShort});
  if (!format) return std::nullopt;
  return std::move(format).value();
}

bool share_a_line(const LineFormat& one, const LineFormat& other, std::string& line, int left) {
  std::vector<std::int64_t> values(kShort.size());
  if (one.decode(line, values).ok() && other.decode(line, values).ok()) return true;
  if (left == 0) return false;
  for (const char byte : std::string_view("0129-.,ABab")) {
    line.push_back(byte);
    if (share_a_line(one, other, line, left - 1)) return true;
    line.pop_back();
  }
  return false;
}

TEST(MatcherLaw, RefusesExactlyThosePairsThatShareALineWhenAllAreTried) {
  EXPECT_TRUE(rc::check("pairs of short formats", [] {
    const auto one = draw_short_format();
    const auto other = draw_short_format();
    RC_PRE(one.has_value() && other.has_value());
    RC_LOG() << one->text() << " and " << other->text() << "\n";
    std::string line;
    const bool shared = share_a_line(*one, *other, line, 4);
    const auto matcher = Matcher::compile({*one, *other});
    RC_CLASSIFY(shared, "share a line");
    RC_LOG() << "tried \"" << line << "\", told \"" << matcher.error().witness << "\"\n";
    RC_ASSERT(matcher.ok() == !shared);
    if (shared) {
      std::vector<std::int64_t> values(kShort.size());
      RC_ASSERT(one->decode(matcher.error().witness, values).ok());
      RC_ASSERT(other->decode(matcher.error().witness, values).ok());
    }
  }));
}

TEST(MatcherLaw, ALineOfOneFormatIsNeverKnownAsAnother) {
  EXPECT_TRUE(rc::check("two random formats", [] {
    const RandomFormat one = *formats_that_compile();
    RandomFormat other = *formats_that_compile();
    // One catalogue for both: each refers to fields by the same names, so take those of `one`.
    other.catalogue = one.catalogue;
    const auto second = other.compile();
    RC_PRE(second.ok());
    const auto matcher = Matcher::compile({one.compile().value(), second.value()});
    RC_CLASSIFY(!matcher.ok(), "refused");
    RC_PRE(matcher.ok());
    for (std::int32_t index : {0, 1}) {
      const LineFormat& format = matcher.value().format(static_cast<std::size_t>(index));
      const auto values = draw_values(one.catalogue);
      const std::string line = make_line(format, values);
      RC_ASSERT(matcher.value().classify(line) == index);
      std::vector<std::int64_t> read(values.size(), 0);
      RC_ASSERT(matcher.value().match(line, read).format == index);
      RC_ASSERT(matcher.value().explain(line).ok());
      // Damage may make it unknown, or a line of whichever format alone reads it.
      const std::string damaged = draw_damaged(line);
      const std::int32_t known = matcher.value().classify(damaged);
      for (std::int32_t reader : {0, 1}) {
        const bool reads =
            matcher.value().format(static_cast<std::size_t>(reader)).decode(damaged, read).ok();
        RC_ASSERT(reads == (known == reader));
      }
    }
  }));
}

}  // namespace
}  // namespace understudy::protocol
