// The areas without a display: their models, and each drawn at two widths, connected and not, with
// one field and with sixty-four. The pictures are left as area_*.png in the test's folder.
#include "sim/window/areas.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "sim/window/chart_columns.h"
#include "sim/window/first_lines.h"
#include "sim/window/link_words.h"
#include "sim/window/offscreen.h"
#include "sim/window/supply_rows.h"
#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

// A device that is played on, and what the window would be given of it.
class Played {
 public:
  explicit Played(std::shared_ptr<const Panel> panel)
      : panel_(std::move(panel)), bench_(panel_), observer_(panel_) {}

  void event(decltype(Input::what) what) {
    observer_.event({bench_.now() + microseconds(1), what});
    items_.push_back({bench_.now() + microseconds(1), 0,
                      FedInput{{bench_.now() + microseconds(1), std::move(what)}}});
  }
  void open() {
    bench_.open();
    event(LinkOpened{.dtr = true, .takes_at_once = true});
    open_ = true;
  }
  void send(const std::string& bytes) {
    bench_.send(bytes);
    observer_.to_panel(bench_.now() + microseconds(1), bytes);
    items_.push_back({bench_.now() + microseconds(1), 0, FedBytes{false, bytes}});
  }
  void run(Duration length, History& history) {
    bench_.forget();
    bench_.run(length);
    const StepOutputs& outputs = bench_.outputs();
    for (const Chunk& chunk : outputs.chunks) {
      observer_.to_game(chunk.due, outputs.bytes_of(chunk));
      items_.push_back({chunk.due, 0, FedBytes{true, std::string(outputs.bytes_of(chunk))}});
    }
    for (const OutputChange& change : outputs.changes)
      items_.push_back({change.due, 0, FedChange{change}});
    for (const Note& note : outputs.notes) items_.push_back({note.due, 0, FedNote{note}});
    std::stable_sort(items_.begin(), items_.end(),
                     [](const FeedItem& a, const FeedItem& b) { return a.at < b.at; });
    history.take(view(), {.items = std::exchange(items_, {}), .lost = 0});
  }
  void say(FeedItem item) { items_.push_back(std::move(item)); }
  DeviceBench& bench() { return bench_; }
  [[nodiscard]] SessionView view() const {
    SessionView view;
    view.now = bench_.now();
    view.seats.push_back(
        {.name = "tram",
         .path = "tram.panel.toml",
         .device = bench_.device(),
         .observer = observer_,
         .links = {{"pty", "/dev/pts/7", open_, {}}, {"tcp", "127.0.0.1:27425", false, {}}}});
    if (game_)
      view.game = {.state = GameState::kRunning, .command = "./tram_game --night", .pid = 4711};
    return view;
  }
  void with_game() { game_ = true; }

 private:
  std::shared_ptr<const Panel> panel_;
  DeviceBench bench_;
  Observer observer_;
  std::vector<FeedItem> items_;
  bool open_ = false;
  bool game_ = false;
};

// Eight seconds of a game that drives, with a slip of its pen.
void play_tram(Played& tram, History& history) {
  tram.with_game();
  tram.open();
  tram.run(milliseconds(1'800), history);
  for (int i = 0; i < 60; ++i) {
    const int power = i * 37 % 100 * 10'000;
    if (i % 6 == 0) tram.bench().move("power", power, milliseconds(500), Curve::kMinimumJerk);
    if (i % 9 == 0) tram.bench().move("heater", 1'000'000 - power, milliseconds(300));
    if (i % 10 == 0) tram.bench().press("bell");
    if (i % 10 == 3) tram.bench().let_go("bell");
    if (i == 20)
      tram.send("255,0,x,90,34,130\n");
    else
      tram.send(std::to_string(i % 2 == 0 ? 255 : 0) + ",0,200,90," + std::to_string(i) + ",130\n");
    if (i == 30)
      tram.say({tram.bench().now() + microseconds(2), 0,
                FedWord{"the game has not read for 1.2 s: 860 bytes wait for it"}});
    if (i % 20 == 5)
      tram.say({tram.bench().now() + microseconds(2), 0,
                FedGameLine{i == 45, i == 45 ? "warning: no bell sound" : "stop ahead in 200 m"}});
    tram.run(milliseconds(100), history);
  }
  tram.send("255,0");
  tram.run(milliseconds(400), history);
}

std::shared_ptr<const Panel> sixty_four() {
  std::string text = "panel = \"Sixty-four\"\n";
  for (int i = 0; i < 64; ++i) {
    text += "[[control]]\nname = \"a_rather_long_name_of_a_control_" + std::to_string(i) +
            "\"\nkind = \"button\"\n";
  }
  return panel_of(text);
}

std::size_t inked(const Bitmap& seen) {
  std::size_t dark = 0;
  for (std::size_t i = 0; i < seen.rgba.size(); i += 4) dark += seen.rgba[i] < 120 ? 1 : 0;
  return dark;
}

struct Size {
  int width = 320;
  int height = 300;
  float unit = 1;
};

Bitmap picture_of(const Area& area, const SessionView& view, History& history, Size size,
                  const std::string& name, Remembered remembered = {}) {
  Offscreen sheet({.width = size.width + 20, .height = size.height + 20, .unit = size.unit});
  std::vector<Wish> wishes;
  AreaContext context = {.view = view,
                         .seat = 0,
                         .history = history,
                         .type = sheet.type(),
                         .remembered = remembered,
                         .wishes = wishes,
                         .unit = size.unit};
  Bitmap seen;
  for (int i = 0; i < 3; ++i) {
    seen = sheet.draw([&] {
      Offscreen::card("area", {10, 10},
                      {static_cast<float>(size.width), static_cast<float>(size.height)},
                      [&] { area.draw(context); });
    });
  }
  const Result<Done> done = write_png(seen, "area_" + name + ".png");
  EXPECT_TRUE(done);
  EXPECT_TRUE(wishes.empty()) << "an area that nobody touches wishes for nothing";
  return seen;
}

TEST(Areas, EachIsDrawnNarrowAndWideAndInDoubleSize) {
  Played tram(tram_panel());
  History history;
  play_tram(tram, history);
  const SessionView view = tram.view();
  for (const Area& area : areas()) {
    const std::string name(area.name);
    EXPECT_GT(inked(picture_of(area, view, history, {320, 300}, name + "_narrow")), 150U) << name;
    EXPECT_GT(inked(picture_of(area, view, history, {700, 420}, name + "_wide")), 150U) << name;
    EXPECT_GT(inked(picture_of(area, view, history, {700, 500, 2}, name + "_double")), 150U)
        << name;
    picture_of(area, view, history, {320, 60}, name + "_low");
  }
}

TEST(Areas, EachIsDrawnBeforeAnybodyComesAndWithSixtyFourFields) {
  for (const bool many : {false, true}) {
    Played box(many ? sixty_four()
                    : panel_of("panel = \"One\"\n[[control]]\nname = \"k\"\nkind = \"pot\"\n"));
    History history;
    box.run(milliseconds(2'500), history);
    if (many) box.open();
    for (int i = 0; i < 20; ++i) box.run(milliseconds(200), history);
    const SessionView view = box.view();
    for (const Area& area : areas()) {
      if (area.wanted != nullptr && !area.wanted(view)) continue;
      const std::string name = std::string(area.name) + (many ? "_many" : "_one");
      EXPECT_GT(inked(picture_of(area, view, history, {320, 330}, name)), 50U) << name;
    }
  }
}

TEST(Areas, AMalformedLineHasItsExplanationBeneathIt) {
  Played tram(tram_panel());
  History history;
  play_tram(tram, history);
  const Area* traffic = std::find_if(areas().data(), areas().data() + areas().size(),
                                     [](const Area& area) { return area.name == "traffic"; });
  const Remembered malformed = {{"area.traffic.malformed", "1"}};
  const SessionView view = tram.view();
  picture_of(*traffic, view, history, {700, 160}, "traffic_malformed", malformed);
  picture_of(*traffic, view, history, {320, 160}, "traffic_malformed_narrow", malformed);
  EXPECT_EQ(history.seat(0).lines.rows(), 2U);
}

TEST(Areas, TheGamesOutputIsThereOnlyWithAGame) {
  const auto found = std::find_if(areas().begin(), areas().end(),
                                  [](const Area& area) { return area.name == "game"; });
  ASSERT_NE(found, areas().end());
  EXPECT_FALSE(found->wanted({}));
  SessionView view;
  view.game.state = GameState::kEnded;
  EXPECT_TRUE(found->wanted(view));
}

TEST(ChartColumns, StandStillInTimeWhileTheChartGlides) {
  Course course;
  course.add(at_ms(0), 1);
  ChartColumn first;
  ChartColumns(course, at_ms(60'000), seconds(30), 500).next(first);
  ChartColumn later;
  ChartColumns(course, at_ms(60'040), seconds(30), 500).next(later);
  EXPECT_EQ(first.begin_ns, later.begin_ns);
  EXPECT_EQ(column_buckets(seconds(30), 500), 6);
  EXPECT_EQ(column_buckets(seconds(600), 700), 86);
}

TEST(FirstLines, CarryThePlaceOfThePortAndTheNumberOfFields) {
  Played tram(tram_panel());
  const SessionView view = tram.view();
  const SeatView& seat = view.seats[0];
  const auto languages = first_line_languages();
  ASSERT_EQ(languages.size(), 7U);
  for (std::size_t i = 0; i < languages.size(); ++i) {
    const auto lines = first_lines(i, seat);
    ASSERT_TRUE(lines) << languages[i];
    const bool by_tcp = languages[i] == "C#" || languages[i] == "GDScript";
    EXPECT_NE(lines->code.find(by_tcp ? "127.0.0.1:27425" : "/dev/pts/7"), std::string::npos);
    const auto rows = std::count(lines->code.begin(), lines->code.end(), '\n') + 1;
    EXPECT_GE(rows, 3) << languages[i];
    EXPECT_LE(rows, 6) << languages[i];
    const bool by_reader = languages[i] != "C with termios";
    EXPECT_EQ(lines->code.find("(5, \"") != std::string::npos, by_reader) << languages[i];
  }
  EXPECT_TRUE(readers_read(seat.device.panel()));
}

TEST(LinkWords, TellASpeedThatNobodyCanRead) {
  Played tram(tram_panel());
  tram.open();
  tram.bench().set_baud(9'600);
  History history;
  tram.run(milliseconds(50), history);
  const std::vector<LinkFact> facts = link_facts(tram.view().seats[0], tram.view().now);
  EXPECT_EQ(facts[0].tone, Tone::kCaution);
  EXPECT_NE(facts[0].text.find("9600"), std::string::npos);
  EXPECT_EQ(facts[1].about, "DTR");
}

TEST(SupplyRows, ALampOnALowResistorIsTooMuchForItsPin) {
  // (5 V - 2 V) / (22 ohm + 40 ohm of the pin) = 48.4 mA by Ohm's law, above the 40 mA that a pin
  // of an ATmega328P may ever carry (data sheet 8271H, absolute maximum ratings).
  Played box(panel_of(R"(
panel = "Too bright"
board = "bootloader-8bit"
[[output]]
name = "lamp"
kind = "lamp"
resistor = "22 ohm"
)"));
  History history;
  box.open();
  box.run(milliseconds(3'000), history);
  EXPECT_EQ(supply_rows(box.bench().device()).outputs[0].caution, "");
  box.send("255\n");
  box.run(milliseconds(200), history);
  const SupplyRows rows = supply_rows(box.bench().device());
  EXPECT_EQ(rows.outputs[0].limit_ua, 40'000);
  EXPECT_NEAR(static_cast<double>(rows.outputs[0].now_ua), 48'387, 10);
  EXPECT_NE(rows.outputs[0].caution.find("may never carry more than 40.0 mA"), std::string::npos)
      << rows.outputs[0].caution;
  EXPECT_EQ(rows.sums.back().name, "the port");
}

}  // namespace
}  // namespace understudy
