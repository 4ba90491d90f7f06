// Verification: every recording holds whatever game was there, and an edited one fails where it was
// edited, in words.
#include "sim/record/verify.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <regex>

#include "sim/model/version.h"
#include "tests/sim/record/recorded_session.h"

namespace understudy {
namespace {

Result<VerifyReport> verified(std::string bytes) {
  Result<RecordingReader> reader = RecordingReader::from_bytes(std::move(bytes), "x.jsonl");
  if (!reader.ok()) return reader.error();
  return verify(reader.value());
}

// What verification says of a recording: "holds", a difference, or an error.
std::string verdict(const Result<VerifyReport>& result) {
  if (!result.ok()) return result.error().text;
  const VerifyReport& report = result.value();
  if (report.difference) return report.difference->sentence();
  if (report.changed_inputs)
    return "inputs changed before line " + std::to_string(report.changed_inputs->before_line);
  return "holds";
}

std::string rehearsed(const RehearsalOptions& options) {
  rehearse(options);
  std::string text = bytes_of_file(options.name);
  std::filesystem::remove(options.name);
  return text;
}

std::size_t line_begin(const std::string& text, std::size_t line) {
  std::size_t place = 0;
  for (std::size_t i = 1; i < line; ++i) place = text.find('\n', place) + 1;
  return place;
}

std::size_t line_of(const std::string& text, std::size_t place) {
  return 1 + static_cast<std::size_t>(std::count(text.begin(), text.begin() + place, '\n'));
}

TEST(Verify, ARecordingHoldsWhateverTheGameIsLike) {
  for (const Temper temper : kTempers) {
    for (const std::uint64_t seed : {1, 2, 3}) {
      const std::string text = rehearsed({.seed = seed, .games = {temper}});
      const Result<VerifyReport> result = verified(text);
      EXPECT_EQ(verdict(result), "holds") << static_cast<int>(temper) << " seed " << seed;
      if (!result.ok()) continue;
      EXPECT_TRUE(result.value().complete);
      EXPECT_EQ(result.value().until, Instant{seconds(12).ns});
      EXPECT_EQ(result.value().checks, 2);
    }
  }
}

TEST(Verify, SeveralSeatsAndWholeLinesHold) {
  EXPECT_EQ(verdict(verified(rehearsed(
                {.games = {Temper::kPrompt, Temper::kSlow, Temper::kAbsent, Temper::kPrompt}}))),
            "holds");
  EXPECT_EQ(verdict(verified(rehearsed({.games = {Temper::kPrompt}, .whole_lines = true}))),
            "holds");
  EXPECT_EQ(verdict(verified(rehearsed({.length = seconds(3), .step_max = microseconds(300)}))),
            "holds");
}

// What a real box said cannot be said again; all else of such a seat is compared as ever.
TEST(Verify, OfATappedSeatTheVirtualBoxHoldsAndTheRealOnesChunksAreCounted) {
  for (const std::uint64_t seed : {1, 2, 3}) {
    const std::string text =
        rehearsed({.seed = seed, .games = {Temper::kPrompt, Temper::kSlow}, .tapped = true});
    EXPECT_NE(text.find(R"("source":"box")"), std::string::npos);
    EXPECT_NE(text.find(R"("event":"source","source":"device")"), std::string::npos);
    EXPECT_NE(text.find(R"("from":"hand","holds":")"), std::string::npos);
    const Result<VerifyReport> result = verified(text);
    EXPECT_EQ(verdict(result), "holds") << "seed " << seed;
    if (!result.ok()) continue;
    EXPECT_GT(result.value().not_ours, 20);
    EXPECT_TRUE(result.value().complete);
    // A change of the source that was taken out leaves chunks of the device that nobody recorded,
    // or the other way round.
    std::string changed = text;
    const std::size_t place = changed.find(R"("event":"source","source":"device")");
    const std::size_t begin = changed.rfind('\n', place) + 1;
    changed.erase(begin, changed.find('\n', place) + 1 - begin);
    EXPECT_NE(verdict(verified(changed)), "holds") << "seed " << seed;
  }
}

// The second of them changes looks alone, the third what waits for the port, the first the box.
TEST(Verify, ARecordingHoldsOverThreeReloadsOfThePanel) {
  const std::vector<std::string> texts = {
      "panel = \"A\"\n[[control]]\nname = \"bell\"\nkind = \"button\"\n[[output]]\nname = "
      "\"door_lamp\"\nkind = \"lamp\"\n",
      "panel = \"B\"\n[[control]]\nname = \"bell\"\nkind = \"button\"\nkeys = { hold = \"B\" }\n"
      "[[output]]\nname = \"door_lamp\"\nkind = \"lamp\"\n",
      "panel = \"C\"\n[wire]\nbaud = 9600\n[[control]]\nname = \"bell\"\nkind = \"button\"\n"
      "[[output]]\nname = \"door_lamp\"\nkind = \"lamp\"\n"};
  for (const Temper temper : kTempers) {
    const std::string text = rehearsed({.games = {temper}, .reloads = texts});
    EXPECT_EQ(verdict(verified(text)), "holds") << static_cast<int>(temper);
    std::size_t reloads = 0;
    for (std::size_t i = 0; (i = text.find(R"("from":"file","panel":)", i)) != std::string::npos;
         ++i)
      ++reloads;
    EXPECT_EQ(reloads, 3U);
  }
}

// One control and one output of each kind.
constexpr std::string_view kOfEachKind = R"(
panel = "Of each kind"
board = "bootloader-8bit"
[[control]]
name = "level"
kind = "pot"
[[control]]
name = "bell"
kind = "button"
[[control]]
name = "lock"
kind = "switch"
[[control]]
name = "mode"
kind = "selector"
places = 3
[[control]]
name = "tilt"
kind = "stick"
[[control]]
name = "focus"
kind = "encoder"
[[control]]
name = "warmth"
kind = "sensor"
course = "walk"
[[output]]
name = "lamp"
kind = "lamp"
[[output]]
name = "glow"
kind = "rgb"
[[output]]
name = "needle"
kind = "gauge"
[[output]]
name = "horn"
kind = "buzzer"
[[output]]
name = "clock"
kind = "digits"
)";

std::string rehearsed_with_each_kind() {
  const auto panel = parse_panel(kOfEachKind, "kinds.panel.toml");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  if (!panel.ok()) return "";
  // The second seat is swept through everything in less than this.
  return rehearsed(
      {.games = {Temper::kPrompt, Temper::kPrompt}, .length = seconds(40), .panel = panel.value()});
}

TEST(Verify, ARecordingWithEveryKindOfControlAndOutputHolds) {
  const std::string text = rehearsed_with_each_kind();
  EXPECT_EQ(verdict(verified(text)), "holds");
  for (const char* part : {R"("control":"mode")", R"("control":"tilt","part":"x")",
                           R"("control":"tilt","part":"press")", R"("turned":"focus","by_ppm":)",
                           R"("output":"glow","part":"b")", R"("output":"clock")"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
}

TEST(Verify, AnOutputWithPartsThatWasEditedIsNamedWithItsPart) {
  std::string text = rehearsed_with_each_kind();
  const std::size_t place = text.find(R"("output":"glow","part":"g")");
  ASSERT_NE(place, std::string::npos);
  text.replace(text.find("\"number\":", place), 9, "\"number\":9");
  const std::string said = verdict(verified(text));
  EXPECT_NE(said.find("output glow.g: recorded 9"), std::string::npos) << said;
}

TEST(Verify, ATurnThatWasEditedIsAChangedInput) {
  std::string text = rehearsed_with_each_kind();
  const std::size_t place = text.find(R"("turned":"focus","by_ppm":)");
  ASSERT_NE(place, std::string::npos);
  text.insert(text.find_first_of("123456789", text.find("by_ppm\":", place)), "1");
  const Result<VerifyReport> report = verified(text);
  ASSERT_TRUE(report.ok()) << report.error().text;
  EXPECT_TRUE(report.value().changed_inputs || report.value().difference);
}

TEST(Verify, ACompressedRecordingHolds) {
  EXPECT_EQ(verdict(verified(rehearsed({.name = "a.jsonl.zst"}))), "holds");
}

TEST(Verify, ARecordingHoldsUpToWhereItWasCutOff) {
  const std::string text = rehearsed({.length = seconds(4)});
  Stream chance(5, "cuts");
  const std::size_t first = line_begin(text, 2);
  for (int i = 0; i < 60; ++i) {
    const auto size = static_cast<std::size_t>(chance.between(
        static_cast<std::int64_t>(first), static_cast<std::int64_t>(text.size()) - 30));
    const Result<VerifyReport> result = verified(text.substr(0, size));
    EXPECT_EQ(verdict(result), "holds") << size;
    if (result.ok()) {
      EXPECT_FALSE(result.value().complete);
    }
  }
}

TEST(Verify, AnotherModelIsSaidAndNothingCompared) {
  std::string text = rehearsed({.length = seconds(1)});
  const std::string model = "\"model\":" + std::to_string(kModelNumber);
  text.replace(text.find(model), model.size(), "\"model\":77");
  const Result<VerifyReport> result = verified(text);
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.error().code, ErrorCode::kOtherModel);
  EXPECT_NE(result.error().text.find("model 77"), std::string::npos);
}

TEST(Verify, AFieldEditedInAChunkIsNamed) {
  std::string text = rehearsed({.length = seconds(4)});
  // The heater stands second in the tram's line.
  std::size_t place = text.find("\"from\":\"panel\",\"text\":\"", text.size() / 2);
  place = text.find(',', text.find("\"text\":\"", place)) + 1;
  while (!std::isdigit(text[place])) ++place;
  text[place] = text[place] == '3' ? '4' : '3';
  const std::string said = verdict(verified(text));
  EXPECT_TRUE(said.starts_with("line " + std::to_string(line_of(text, place)) + ": at ")) << said;
  EXPECT_NE(said.find("seat tram: chunk "), std::string::npos) << said;
  EXPECT_NE(said.find(": field heater (look at the board first)"), std::string::npos) << said;
}

TEST(Verify, AnEarlierTimeThanTheLineAboveIsNamed) {
  std::string text = rehearsed({.length = seconds(3)});
  const std::size_t place = line_begin(text, 40);
  text.replace(place, text.find(',', place) - place, "{\"ns\":5");
  EXPECT_EQ(verdict(verified(text)), "line 40: its time is before that of the line above");
}

TEST(Verify, InputsThatNoSessionCanHaveTakenAreErrors) {
  const std::string text = rehearsed({.length = seconds(1)});
  const std::string header = text.substr(0, line_begin(text, 2));
  const auto said = [&](const std::string& line) {
    return verdict(verified(header + line + "\n"));
  };
  const std::string hand = R"({"ns":5,"seat":"tram","from":"hand",)";
  EXPECT_EQ(said(hand + R"("control":"horn","to_ppm":1,"duration_ns":0,"curve":"linear"})"),
            "line 2: the panel has no control \"horn\"");
  EXPECT_EQ(said(hand + R"("control":"bell","to_ppm":1000001,"duration_ns":0,"curve":"linear"})"),
            "line 2: \"to_ppm\" is 1000001; it should be a whole number from 0 to 1000000");
  EXPECT_EQ(said(hand + R"("control":"bell","to_ppm":1,"duration_ns":-1,"curve":"linear"})"),
            "line 2: \"duration_ns\" is -1; it should be a whole number from 0 to 86400000000000");
  EXPECT_EQ(
      said(hand + R"("control":"bell","part":"x","to_ppm":1,"duration_ns":0,"curve":"linear"})"),
      "line 2: no hand moves \"bell.x\"");
  EXPECT_EQ(said(hand + R"("turned":"bell","by_ppm":1,"duration_ns":0,"curve":"linear"})"),
            "line 2: \"bell\" is moved with \"control\" and \"to_ppm\"");
  EXPECT_EQ(said(R"({"ns":0,"seat":"tram","from":"game","text":"1"})"),
            "line 2: an input at power-on, before anything can come in");
  EXPECT_EQ(said(R"({"ns":1,"seat":"tram","from":"link","event":"taken","bytes":-1})"),
            "line 2: \"bytes\" is -1, below 0");
}

TEST(Verify, AFileThatJumpsCenturiesAheadIsAnsweredAtOnce) {
  const std::string text = rehearsed({.length = seconds(1)});
  const std::string header = text.substr(0, line_begin(text, 2));
  const std::string said = verdict(
      verified(header + R"({"ns":9000000000000000000,"seat":"tram","from":"game","text":"1"})"
                        "\n"));
  EXPECT_NE(said.find("nothing is recorded, now "), std::string::npos) << said;
}

TEST(Verify, AChangedInputWithoutConsequenceIsFoundByTheNextCheck) {
  std::string text = rehearsed({.length = seconds(25)});
  // A button held at nothing or at 2 percent of its travel: neither closes its contact.
  const std::size_t place = text.find("\"to_ppm\":0,", text.find("\"from\":\"check\""));
  ASSERT_NE(place, std::string::npos);
  text.replace(place, 11, "\"to_ppm\":20000,");
  const Result<VerifyReport> result = verified(text);
  ASSERT_TRUE(result.ok()) << result.error().text;
  ASSERT_TRUE(result.value().changed_inputs.has_value());
  const auto [after, before] = *result.value().changed_inputs;
  EXPECT_LT(after, static_cast<std::int64_t>(line_of(text, place)));
  EXPECT_GT(before, static_cast<std::int64_t>(line_of(text, place)));
  EXPECT_EQ(text.find("\"from\":\"check\"", line_begin(text, after)),
            text.find("\"from\":\"check\""));
}

// The digits whose edit must not matter: lateness and start are not the box's, nor are the names
// of the program and its links; a higher minor format is read.
bool may_matter(const std::string& text, std::size_t place) {
  const std::size_t line = line_begin(text, line_of(text, place));
  const std::string_view before = std::string_view(text).substr(line, place - line);
  const std::size_t key = before.rfind("\":");
  const std::size_t name = before.rfind('"', key - 1);
  const std::string_view last_key = before.substr(name + 1, key - name - 1);
  return last_key != "late_us" && last_key != "start" && last_key != "program" &&
         last_key != "links" && !(last_key == "format" && before.ends_with("."));
}

// A comment in the panel's text is told by reading the panel with and without the edit.
bool panels_alike(const std::string& one, const std::string& other) {
  const auto resolved = [](const std::string& text) {
    const auto header = RecordingReader::from_bytes(text, "x");
    if (!header.ok()) return std::string("unreadable");
    const auto panel = parse_panel(header.value().header().seats[0].panel, "x");
    return panel.ok() ? resolved_toml(panel.value()->description) : "wrong";
  };
  return resolved(one) == resolved(other);
}

TEST(Verify, EveryDigitEditedFailsThereOrDoesNotMatter) {
  const std::string text = rehearsed({.length = milliseconds(2'400)});
  ASSERT_EQ(verdict(verified(text)), "holds");
  const std::size_t events = line_begin(text, 2);
  std::size_t edits = 0;
  std::size_t unseen = 0;
  Stream chance(11, "edits");
  for (std::size_t place = 0; place < text.size(); ++place) {
    if (!std::isdigit(static_cast<unsigned char>(text[place]))) continue;
    if (place < events && !chance.chance({1, 8})) continue;  // the panel's text is long
    std::string edited = text;
    edited[place] = static_cast<char>('0' + (text[place] - '0' + 1 + chance.below(9)) % 10);
    ++edits;
    const std::string said = verdict(verified(edited));
    if (said != "holds") continue;
    ++unseen;
    if (!may_matter(text, place)) continue;
    EXPECT_TRUE(place < events && panels_alike(text, edited))
        << "line " << line_of(text, place) << ": " << edited.substr(place - 30, 60);
  }
  EXPECT_GT(edits, 1'500U);
  EXPECT_GT(unseen, 20U);
}

// Outputs are named at their own line; the effect of an edited input can only come after it.
TEST(Verify, AnEditedEventIsNamedAtItsLineOrAfterIt) {
  const std::string text = rehearsed({.length = milliseconds(2'400)});
  Stream chance(12, "edits");
  int named_exactly = 0;
  for (std::size_t line = 2; line_begin(text, line + 1) < text.size(); ++line) {
    std::string edited = text;
    const std::size_t begin = line_begin(text, line);
    const std::size_t end = line_begin(text, line + 1);
    const std::string_view whole = std::string_view(text).substr(begin, end - begin);
    const bool of_panel = whole.find("\"from\":\"panel\"") != std::string_view::npos;
    // The last digit of the event's own time.
    const std::size_t place = text.find(',', begin) - 1;
    edited[place] = text[place] == '9' ? '8' : static_cast<char>(text[place] + 1);
    const std::string said = verdict(verified(edited));
    ASSERT_NE(said, "holds") << whole;
    std::smatch match;
    if (!std::regex_search(said, match, std::regex("line ([0-9]+)"))) continue;
    const std::size_t named = std::stoul(match[1]);
    if (of_panel) {
      EXPECT_TRUE(named == line || named == line + 1) << line << ": " << said;
      named_exactly += named == line ? 1 : 0;
    } else {
      EXPECT_GE(named, line) << said;
    }
  }
  EXPECT_GT(named_exactly, 40);
}

}  // namespace
}  // namespace understudy
