// A whole recording measured from memory: events reach whom they concern, across batches and
// threads, and what is wrong is named by its line.
#include "sim/measure/measurement.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <span>
#include <string>

#include "sim/measure/report_json.h"
#include "sim/measure/report_page.h"
#include "sim/measure/report_text.h"
#include "sim/measure/trace.h"
#include "sim/panel/panel_file.h"
#include "sim/record/event_text.h"

namespace understudy {
namespace {

constexpr const char* kPanel = R"(panel = "T"
[[control]]
name = "power"
kind = "pot"
sends = [0, 1023]
[[control]]
name = "bell"
kind = "button"
sends = [0, 1]
[[output]]
name = "lamp"
kind = "lamp"
[[answer]]
when = "bell press"
expect = "lamp lit"
within = "100 ms"
)";

class Made {
 public:
  Made() {
    const auto panel = parse_panel(kPanel, "made");
    EXPECT_TRUE(panel.ok());
    header_.program = "test";
    header_.seats.push_back(
        {.name = "t", .panel = "", .resolved = resolved_toml(panel.value()->description)});
    text_ = header_line(header_);
  }
  void add(std::int64_t ms, const recorded::What& what) {
    text_ += EventText(header_).line({Instant{milliseconds(ms).ns}, 0, what});
  }
  void add_text(const std::string& line) { text_ += line + "\n"; }
  [[nodiscard]] Measurement measured(std::size_t spans_max = 0) const {
    auto result = measure_source(memory_source(text_), "made", {.trace_spans_max = spans_max});
    EXPECT_TRUE(result.ok());
    return std::move(result).value();
  }
  [[nodiscard]] SeatFigures figures() const {
    const Measurement all = measured();
    return all.seats.at(0).statistics.figures(all.last_at);
  }

 private:
  RecordingHeader header_;
  std::string text_;
};

TEST(Measurement, CountsEveryEventOfManyBatches) {
  Made made;
  for (int i = 0; i < 50'000; ++i) made.add(i, recorded::ToGame{i % 2 == 0 ? "5,0\n" : "6,0\n"});
  const Measurement measured = made.measured();
  EXPECT_EQ(measured.events, 50'000);
  EXPECT_TRUE(measured.sound());
  EXPECT_EQ(made.figures().to_game.read, 50'000);
  EXPECT_EQ(measured.length(), milliseconds(49'999));
}

TEST(Measurement, NamesWrongLinesInTheirOrderAndGoesOn) {
  Made made;
  made.add(0, recorded::ToGame{"5,0\n"});
  made.add_text("this is no event");
  made.add(20, recorded::ToGame{"5,0\n"});
  made.add(10, recorded::ToGame{"5,0\n"});
  made.add_text("{}");
  made.add(30, recorded::ToGame{"5,0\n"});
  const Measurement measured = made.measured();
  EXPECT_EQ(measured.bad_lines, 3);
  ASSERT_EQ(measured.problems.size(), 3U);
  EXPECT_TRUE(measured.problems[0].starts_with("line 3: ")) << measured.problems[0];
  EXPECT_EQ(measured.problems[1], "line 5: it goes back in time, behind the line before it");
  EXPECT_TRUE(measured.problems[2].starts_with("line 6: ")) << measured.problems[2];
  EXPECT_EQ(made.figures().to_game.read, 3);
}

TEST(Measurement, AnswersOfTheBoardStandBesideThoseOfTheGame) {
  Made made;
  for (int press = 0; press < 6; ++press) {
    const int at = 1'000 * (press + 1);
    made.add(at - 500, recorded::ToGame{"5,0\n"});
    made.add(at - 400, recorded::FromGame{"0\n"});
    made.add(at - 390, recorded::OutputSet{.output = "lamp", .number = 0});
    made.add(at, recorded::ToGame{"5,1\n"});
    made.add(at + 40, recorded::FromGame{"255\n"});
    made.add(at + 55, recorded::OutputSet{.output = "lamp", .number = 255});
  }
  const SeatFigures figures = made.figures();
  ASSERT_EQ(figures.answers.size(), 1U);
  EXPECT_EQ(*figures.answers[0].latency.median, milliseconds(40));
  ASSERT_EQ(figures.shown.size(), 1U);
  EXPECT_EQ(*figures.shown[0].latency.worst, milliseconds(55));
  EXPECT_EQ(figures.shown[0].latency.count, 6);
}

TEST(Measurement, APortThatOpensAnewLosesNoPressAfterIt) {
  Made made;
  for (int opening = 0; opening < 4; ++opening) {
    const int at = 1'000 * opening;
    made.add(at, LinkOpened{});
    made.add(at + 10, recorded::ToGame{"5,0\n"});
    made.add(at + 20, recorded::FromGame{"0\n"});
    made.add(at + 100, recorded::ToGame{"5,1\n"});
    made.add(at + 130, recorded::FromGame{"9\n"});
    made.add(at + 900, LinkClosed{});
  }
  const SeatFigures figures = made.figures();
  EXPECT_EQ(figures.opened, 4);
  EXPECT_EQ(figures.answers[0].presses, 4);
  EXPECT_EQ(figures.answers[0].latency.count, 4);
}

TEST(Measurement, WitnessLinesAreNoLinesOfTheGame) {
  Made made;
  made.add(0, recorded::FromGame{"255\n#seen 3 0 play 1 2\n0\n"});
  const SeatFigures figures = made.figures();
  EXPECT_EQ(figures.to_panel.lines, 2);
  EXPECT_EQ(figures.to_panel.read, 2);
}

TEST(Measurement, IsToldInEveryWay) {
  Made made;
  for (int i = 0; i < 500; ++i) made.add(i * 20, recorded::ToGame{"5,0\n"});
  const Measurement measured = made.measured(128);
  const std::span<const Measurement> all(&measured, 1);
  EXPECT_NE(measurements_json(all).find("\"lines\": 500"), std::string::npos);
  EXPECT_NE(measurements_csv(all).find("made,t,to_game,,lines,500\n"), std::string::npos);
  EXPECT_NE(measurement_text(measured).find("never used"), std::string::npos);
  EXPECT_TRUE(measurements_page(all).ends_with("</html>\n"));
}

TEST(Measurement, RefusesMoreSeatsThanItHasRoomFor) {
  RecordingHeader header;
  for (std::size_t i = 0; i <= kSeatsMeasuredMax; ++i)
    header.seats.push_back({.name = "s" + std::to_string(i), .panel = "", .resolved = ""});
  const auto refused = measure_source(memory_source(header_line(header)), "made", {});
  ASSERT_FALSE(refused.ok());
  EXPECT_NE(refused.error().text.find("1001 seats"), std::string::npos);
}

TEST(Measurement, NothingOfAFileMovesATerminal) {
  RecordingHeader header;
  header.seats.push_back({.name = "a\x1b[2J\xc2\x9b", .panel = "", .resolved = ""});
  const auto measured = measure_source(memory_source(header_line(header)), "made", {});
  ASSERT_TRUE(measured.ok());
  const std::string text = measurement_text(measured.value());
  EXPECT_EQ(text.find('\x1b'), std::string::npos);
  EXPECT_EQ(text.find("\xc2\x9b"), std::string::npos);
}

TEST(Trace, KeepsLeastAndGreatestWhateverTheLength) {
  Trace trace(64);
  for (std::int64_t i = 0; i < 100'000; ++i)
    trace.add({milliseconds(i).ns}, i == 77'777 ? 900.0 : static_cast<double>(i % 10));
  EXPECT_LE(trace.spans().size(), 64U);
  std::int64_t count = 0;
  float most = 0;
  for (const TraceSpan& span : trace.spans()) {
    count += span.count;
    most = std::max(most, span.most);
  }
  EXPECT_EQ(count, 100'000);
  EXPECT_EQ(most, 900.0F);
  const std::int64_t place = milliseconds(77'777).ns / trace.span_length().ns;
  EXPECT_EQ(trace.spans()[static_cast<std::size_t>(place)].most, 900.0F);
}

TEST(Trace, HoldsTheLongestTimeThereIs) {
  Trace trace(64);
  trace.add({0}, 1);
  trace.add({std::int64_t{1} << 62}, 2);
  EXPECT_LE(trace.spans().size(), 64U);
  EXPECT_EQ(trace.spans().back().most, 2.0F);
}

}  // namespace
}  // namespace understudy
