// Line formats: what templates are refused and why, each control's own format, lengths, and the
// sentences about spoiled lines. Which lines are read stands in the table of line cases.
#include "protocol/line_format.h"

#include <gtest/gtest.h>

#include <memory>

namespace understudy::protocol {
namespace {

std::vector<Field> desk() {
  std::vector<Field> fields;
  fields.push_back({.name = "power", .max = 1023});
  fields.push_back({.name = "heater", .max = 1023});
  fields.push_back({.name = "stick.x", .min = -100, .max = 100, .decimals = 2});
  fields.push_back({.name = "horn", .max = 1, .words = {"UP", "DOWN"}});
  fields.push_back({.name = "gear", .max = 2, .words = {"A", "AB", "N"}});
  fields.push_back({.name = "bell", .max = 1});
  return fields;
}

const std::vector<Field> kDesk = desk();

std::string refusal(std::string_view text, const Framing& framing = {},
                    std::optional<CheckSpec> check = std::nullopt) {
  const auto format =
      LineFormat::compile({.text = text, .catalogue = kDesk, .check = check, .framing = framing});
  return format ? "compiled" : format.error().sentence();
}

LineFormat compiled(std::string_view text, const Framing& framing = {}) {
  const auto format = LineFormat::compile({.text = text, .catalogue = kDesk, .framing = framing});
  EXPECT_TRUE(format.ok()) << format.error().sentence();
  return format ? format.value() : LineFormat();
}

TEST(LineFormat, RefusesWhatTheGrammarDoesNotKnow) {
  EXPECT_EQ(refusal("{power"),
            "column 1: found `{` without `}`, expected `{name}`, or `{{` for a brace");
  EXPECT_EQ(refusal("a}"), "column 2: found `}` alone, expected `}}` for a brace");
  EXPECT_EQ(refusal("{}"), "column 2: found `{}`, expected the name of a field, without spaces");
  EXPECT_EQ(refusal(""), "found an empty template, expected text or {fields}");
  EXPECT_EQ(refusal("{power:}"),
            "column 8: found ``, expected a width such as 4 or 4+, then x or X; or `short`");
  EXPECT_EQ(refusal("{power:0}"), "column 8: found a width of `0`, expected a width of 1 to 20");
  EXPECT_EQ(refusal("{power:99}"), "column 8: found a width of `99`, expected a width of 1 to 20");
  EXPECT_EQ(
      refusal("{bits: bell}"),
      "column 2: found `bits: bell`, expected `bits low first: a b c` or `bits high first: a b c`");
  EXPECT_EQ(refusal("{#sequense}"),
            "column 1: found `{#sequense}`, expected `{#sequence}` or `{#uptime_ms}`");
  EXPECT_EQ(refusal("{#name}={power}"),
            "column 1: found `{#name}`, expected that only in a line with `each`");
}

TEST(LineFormat, AWrongNameIsToldWithTheNearestRightOne) {
  EXPECT_EQ(refusal("{power},{heatr}"),
            "column 9: found `{heatr}`, expected the name of a field; nearest is `heater`");
  EXPECT_EQ(refusal("{zzzzzz}"), "column 1: found `{zzzzzz}`, expected the name of a field");
  EXPECT_EQ(refusal("{bits low first: bell horm}"),
            "column 23: found `{horm}`, expected the name of a field; nearest is `horn`");
}

TEST(LineFormat, RefusesALineThatCouldBeReadInTwoWays) {
  EXPECT_EQ(refusal("{power}{heater}"),
            "column 8: found what can begin with \"0\" directly after `{power}`, expected a "
            "separator between, or an exact width such as {power:4}");
  EXPECT_EQ(refusal("{power}5"),
            "column 8: found what can begin with \"5\" directly after `{power}`, expected a "
            "separator between, or an exact width such as {power:4}");
  EXPECT_EQ(refusal("{power:x}c"),
            "column 10: found what can begin with \"c\" directly after `{power}`, expected a "
            "separator between, or an exact width such as {power:4}");
  EXPECT_EQ(refusal("{gear}B"),
            "column 7: found what can make the word \"A\" into \"AB\", "
            "expected a separator between");
  EXPECT_EQ(refusal("{stick.x:short}.{power}").substr(0, 39),
            "column 17: found what can begin with \".");
  EXPECT_EQ(refusal("{power}", {}, CheckSpec{.as = "{hex}"}).substr(0, 32),
            "column 1: found what can begin w");
  EXPECT_EQ(refusal("{power:4}{heater}"), "compiled");
  EXPECT_EQ(refusal("{power:x}g"), "compiled");
  EXPECT_EQ(refusal("{gear}A"), "compiled");
  EXPECT_EQ(refusal("{horn}{power}"), "compiled");
}

TEST(LineFormat, RefusesWidthsAndNotationsThatDoNotFit) {
  EXPECT_EQ(refusal("{power:3}"),
            "column 1: found a width of 3 for `{power}`, expected at least 4, "
            "sign and point included");
  EXPECT_EQ(refusal("{stick.x:4}"),
            "column 1: found a width of 4 for `{stick.x}`, expected at least "
            "5, sign and point included");
  EXPECT_EQ(refusal("{stick.x:x}"),
            "column 1: found hexadecimal for `{stick.x}`, which has negative "
            "numbers, expected whole numbers from 0 on");
  EXPECT_EQ(
      refusal("{power:short}"),
      "column 1: found `short` for `{power}`, a whole number, expected a field with decimals");
  EXPECT_EQ(refusal("{horn:4}"),
            "column 1: found a width or notation for the words of `{horn}`, "
            "expected `{name}` alone: give the words the length they shall have");
  EXPECT_EQ(refusal("{bits low first: bell power}"),
            "column 23: found `power` from 0 to 1023, expected fields of 0 and 1 in a bit mask");
}

TEST(LineFormat, RefusesLinesThatTheFramingWouldMistake) {
  EXPECT_EQ(refusal("{power},{heater}", {.starts = {}, .ends = ","}),
            "found the ending \",\" inside a line that begins \"0,\", expected lines without it");
  EXPECT_EQ(
      refusal("a<{power}", {.starts = "<", .ends = ">"}),
      "found the start marker \"<\" inside a line that begins \"a<\", expected lines without it");
  EXPECT_EQ(refusal("{power}\r", {.starts = {}, .ends = "\n", .accepts = {"\r\n"}}),
            "found the ending \"\\r\\n\" inside a line that begins \"0\\r\\n\", expected lines "
            "without it");
  EXPECT_EQ(refusal("{power}a", {.starts = {}, .ends = "aa"}),
            "found the ending \"aa\" inside a line that begins \"0aa\", expected lines without it");
  EXPECT_EQ(
      refusal("\n{power}", {.starts = {}, .ends = "\r", .accepts = {"\r\n"}}),
      "found a line that begins with \"\\n\", expected another beginning, for that is the rest "
      "of the ending \"\\r\\n\"");
  EXPECT_EQ(
      refusal("{power}", {.starts = {}, .ends = ""}),
      "found lines of up to 4 bytes, expected lines of one byte, for without `ends` each byte "
      "is a line");
  EXPECT_EQ(refusal("{power}", {.starts = {}, .ends = "\n", .accepts = {}, .longest = 3}),
            "found lines of up to 4 bytes, expected at most `longest` = 3");
  EXPECT_EQ(
      refusal("{power}", {.starts = "#", .ends = "#"}),
      "found a start and an ending of which one contains the other, expected markers that can "
      "be told apart after noise");
}

TEST(LineFormat, RefusesAnImpossibleCatalogue) {
  const auto said = [](std::vector<Field> fields) {
    const auto format = LineFormat::compile({.text = "x", .catalogue = fields});
    return format ? "compiled" : format.error().sentence();
  };
  EXPECT_EQ(
      said({{.name = "a b"}}),
      "found a field named `a b`, expected letters, digits, _ and -, with at most one . inside");
  EXPECT_EQ(said({{.name = "a"}, {.name = "a"}}),
            "found two fields named `a`, expected names that differ");
  EXPECT_EQ(
      said({{.name = "a", .min = 1, .max = 0}}),
      "found field `a` with the range 1 to 0, expected the lower number first, both of at most "
      "18 digits");
  EXPECT_NE(said({{.name = "a", .max = kWireNumberMax + 1}}), "compiled");
  EXPECT_NE(said({{.name = "a", .max = 1, .decimals = 7}}), "compiled");
  EXPECT_NE(said({{.name = "a", .max = 1, .words = {"only one"}}}), "compiled");
  EXPECT_NE(said({{.name = "a", .max = 1, .words = {"same", "same"}}}), "compiled");
  EXPECT_NE(said({{.name = "a", .max = 1, .words = {"", "x"}}}), "compiled");
  EXPECT_NE(said({{.name = "#a", .max = 1}}), "compiled");
}

TEST(LineFormat, RefusesACheckWithoutAPlaceForItsDigits) {
  for (const char* as : {"*", "*{HEX}{hex}", "*{HEX:4}", "*{oct}", "*{HEX", "{power}"}) {
    EXPECT_NE(refusal("{horn}", {}, CheckSpec{.as = as}), "compiled") << as;
  }
}

TEST(LineFormat, EachSubjectGetsItsNameIdAndValue) {
  const std::vector<EachSubject> subjects{{"power", 1, "power"}, {"{odd}", 12, "horn"}};
  const auto formats =
      LineFormat::compile_each({.text = "{#id:3} {#name}={#value}", .catalogue = kDesk}, subjects);
  ASSERT_TRUE(formats.ok()) << formats.error().sentence();
  ASSERT_EQ(formats.value().size(), 2u);
  EXPECT_EQ(formats.value()[0].text(), "001 power={power}");
  EXPECT_EQ(formats.value()[1].text(), "012 {{odd}}={horn}");
  std::vector<std::int64_t> values(kDesk.size());
  EXPECT_TRUE(formats.value()[1].decode("012 {odd}=DOWN", values).ok());
  EXPECT_EQ(values[3], 1);
}

TEST(LineFormat, AFaultOfOneSubjectTellsWhose) {
  const std::vector<EachSubject> subjects{{"power", 1, "power"}, {"stick", 2, "stick"}};
  const auto formats = LineFormat::compile_each({.text = "{#value}", .catalogue = kDesk}, subjects);
  ASSERT_FALSE(formats.ok());
  EXPECT_EQ(formats.error().format_index, 1u);
  EXPECT_EQ(formats.error().column, 1u);
  const std::vector<EachSubject> wide{{"power", 1000, "power"}};
  EXPECT_FALSE(
      LineFormat::compile_each({.text = "{#id:3}={#value}", .catalogue = kDesk}, wide).ok());
}

TEST(LineFormat, KnowsHowLongItsLinesAreAndWhatTheyCarry) {
  const LineFormat format = compiled("{power},{stick.x},{horn}", {.starts = "<", .ends = ">"});
  EXPECT_EQ(format.line_bytes_min(), std::string("0,0.00,UP").size());
  EXPECT_EQ(format.line_bytes_max(), std::string("1023,-1.00,DOWN").size());
  EXPECT_EQ(format.framed_bytes_max(), format.line_bytes_max() + 2);
  EXPECT_EQ(std::vector<std::uint16_t>(format.fields().begin(), format.fields().end()),
            (std::vector<std::uint16_t>{0, 2, 3}));
  EXPECT_TRUE(format.carries(2));
  EXPECT_FALSE(format.carries(1));
}

TEST(LineFormat, MakesFramedLinesOnlyWhereTheyFit) {
  const LineFormat format = compiled("{power}", {.starts = "<", .ends = ">"});
  const std::vector<std::int64_t> values{7, 0, 0, 0, 0, 0};
  std::string out(6, '?');
  EXPECT_EQ(format.encode_framed(values, {}, out), 3u);
  EXPECT_EQ(out.substr(0, 3), "<7>");
  out.resize(5);
  EXPECT_EQ(format.encode_framed(values, {}, out), 0u);
  EXPECT_EQ(format.encode(std::vector<std::int64_t>{7}, {}, out), 0u) << "too few values";
}

TEST(LineFormat, CountersWrapWhereTheirWidthEnds) {
  const LineFormat format = compiled("{#sequence:3} {#uptime_ms}");
  const std::vector<std::int64_t> values(kDesk.size());
  std::string out(format.line_bytes_max(), '\0');
  const auto made = [&](BuiltIns counts) {
    return out.substr(0, format.encode(values, counts, out));
  };
  EXPECT_EQ(made({.sequence = 999, .uptime_ms = 4294967295}), "999 4294967295");
  EXPECT_EQ(made({.sequence = 1000, .uptime_ms = 4294967296}), "000 0");
}

TEST(LineFormat, ACopyOutlivesItsOriginal) {
  auto original = std::make_unique<LineFormat>(compiled("P1 {horn} {stick.x:short}"));
  const LineFormat copy = *original;
  original.reset();
  std::vector<std::int64_t> values(kDesk.size());
  EXPECT_TRUE(copy.decode("P1 DOWN -0.5", values).ok());
  EXPECT_EQ(values[2], -50);
}

TEST(LineFormat, TooFewValuesIsAFaultAndNotACrash) {
  std::vector<std::int64_t> values(2);
  const LineFault fault = compiled("{power}").decode("5", values).fault;
  EXPECT_EQ(fault.kind, LineFaultKind::kNoRoom);
  EXPECT_EQ(compiled("{power}").sentence(fault, "5"), "no room for the values");
}

// --- sentences ---------------------------------------------------------------------------------

std::string said(std::string_view text, std::string_view line) {
  const LineFormat format = compiled(text);
  std::vector<std::int64_t> values(kDesk.size());
  return format.sentence(format.decode(line, values).fault, line);
}

TEST(LineSentence, NamesPlaceColumnWhatWasFoundAndWhatWasExpected) {
  EXPECT_EQ(said("{power},{heater}", "512,x0"),
            "heater (place 2), column 5: found \"x0\", expected a "
            "whole number from 0 to 1023");
  EXPECT_EQ(said("{power},{heater}", "512"),
            "heater (place 2), column 4: the line ends, expected a whole number from 0 to 1023");
  EXPECT_EQ(
      said("{power},{stick.x}", "512,1.5"),
      "stick.x (place 2), column 5: found \"1.5\", expected a number from -1.00 to 1.00 with 2 "
      "decimals");
  EXPECT_EQ(said("{power}", "512 volts"),
            "column 4: found \" volts\", expected the end of the line; spaces do not belong here");
  EXPECT_EQ(said("{power},{heater}", "512;300"),
            "column 4: found \";\", expected \",\" and then heater; looks like another separator");
  EXPECT_EQ(said("{horn}", "\xff"),
            "horn (place 1), column 1: found \"\\xff\", expected \"UP\" or "
            "\"DOWN\"; these bytes are no text: is the baud rate right?");
  EXPECT_EQ(said("{power:4}", "012"),
            "power (place 1), column 1: found \"012\", expected a whole number from 0 to 1023 in "
            "exactly 4 bytes");
}

TEST(LineSentence, FourNumbersForTwoLampsLookLikeDecimalsWithAComma) {
  EXPECT_EQ(
      said("{power},{heater}", "0,5,0,25"),
      "column 4: found \",0,25\", expected the end of the line; 4 numbers for 2 places: looks "
      "like decimals written with a comma");
}

TEST(LineSentence, TellsTheCheckThatTheTextGives) {
  const auto format =
      LineFormat::compile({.text = "{power}", .catalogue = kDesk, .check = CheckSpec{}}).value();
  std::vector<std::int64_t> values(kDesk.size());
  EXPECT_EQ(format.sentence(format.decode("512*00", values).fault, "512*00"),
            "column 5: the check is \"00\", but the text gives \"36\"");
  EXPECT_EQ(format.sentence(format.decode("512", values).fault, "512"),
            "column 4: the line ends, expected the check");
}

TEST(LineSentence, IsCutToFitTheCallersRoom) {
  const LineFormat format = compiled("{power}");
  std::vector<std::int64_t> values(kDesk.size());
  const LineFault fault = format.decode("x", values).fault;
  std::string out(10, '?');
  EXPECT_EQ(format.write_sentence(fault, "x", out), 10u);
  EXPECT_EQ(out, format.sentence(fault, "x").substr(0, 10));
  EXPECT_EQ(format.write_sentence(fault, "x", {}), 0u);
}

TEST(LineSentence, EachKindAndHintHasWords) {
  for (int kind = 0; kind <= static_cast<int>(LineFaultKind::kNoRoom); ++kind) {
    EXPECT_FALSE(describe(static_cast<LineFaultKind>(kind)).empty()) << kind;
  }
  EXPECT_TRUE(describe(LineHint::kNone).empty());
  for (int hint = 1; hint <= static_cast<int>(LineHint::kTrailingSeparator); ++hint) {
    EXPECT_FALSE(describe(static_cast<LineHint>(hint)).empty()) << hint;
  }
}

}  // namespace
}  // namespace understudy::protocol
