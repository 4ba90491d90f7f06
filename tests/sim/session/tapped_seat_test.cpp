// A seat whose bytes come from a box: what passes, what a hand's hold alters, what a change of the
// source does; and the split law with all of that. The panels and hands of random cases are those
// of the device's own tests.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <string>

#include "sim/panel/panel_file.h"
#include "sim/session/session.h"
#include "sim/session/shown_hands.h"

namespace understudy {
namespace {

constexpr char kDesk[] = R"(
panel = "Desk"
[manners]
loop = "10 ms"
[[control]]
name = "power"
kind = "pot"
sends = [0, 1023]
[[control]]
name = "bell"
kind = "button"
[[control]]
name = "mode"
kind = "selector"
places = 3
[to_game]
ends = "\n"
[[line]]
to = "game"
text = "D,{power},{bell},{mode}"
check = { kind = "xor", covers = "text", as = "*{HEX}" }
)";

std::shared_ptr<const Panel> desk() {
  auto panel = parse_panel(kDesk, "desk.panel.toml");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  return panel.value();
}

// What encode makes of these numbers, with its line end.
std::string line_of(const Panel& panel, std::vector<std::int64_t> numbers) {
  std::string text(256, '\0');
  text.resize(panel.to_game.format(0).encode_framed(numbers, {}, text));
  return text;
}

class Tapped : public testing::Test {
 protected:
  std::shared_ptr<const Panel> panel = desk();
  Session session{7};
  SessionOutputs outputs;
  std::vector<SeatInput> inputs;

  void SetUp() override {
    session.add_seat({.name = "desk", .panel = panel, .source = SeatSource::kBox});
  }
  void at(Duration t, decltype(Input::what) what) {
    inputs.push_back({0, {Instant{t.ns}, std::move(what)}});
  }
  // Steps to `until` with what was put in since, and gives what went to the game.
  std::string run(Duration until) {
    session.step(Instant{until.ns}, inputs, outputs);
    inputs.clear();
    return outputs.seats[0].bytes;
  }
  // The virtual box runs, and its controls have been read.
  void warm_up() {
    at(milliseconds(1), LinkOpened{.dtr = true, .takes_at_once = true});
    run(seconds(3));
  }
};

TEST_F(Tapped, WhileNothingIsHeldEveryByteComesOutAtItsTimeWithoutWaitingForAnEnd) {
  warm_up();
  at(milliseconds(3'001), BoxBytes{"D,12"});
  at(milliseconds(3'002), BoxBytes{std::string("\x00\xff\n", 3)});
  at(milliseconds(3'003), BoxBytes{"half a li"});
  EXPECT_EQ(run(milliseconds(3'010)), std::string("D,12\x00\xff\nhalf a li", 16));
  const auto& chunks = outputs.seats[0].chunks;
  ASSERT_EQ(chunks.size(), 3u);
  EXPECT_EQ(chunks[0].due, Instant{milliseconds(3'001).ns});
  EXPECT_EQ(chunks[2].due, Instant{milliseconds(3'003).ns});
  EXPECT_TRUE(session.passes_unaltered(0));
  EXPECT_EQ(session.observer(0).traffic_to_game().counts().bytes, 16);
}

TEST_F(Tapped, TheVirtualBoxSaysNothingAndTheGameIsHeardByBoth) {
  warm_up();
  EXPECT_EQ(outputs.seats[0].chunks.size(), 0u);
  at(milliseconds(3'001), BytesFromGame{"1,2\n#seen 5 0 ok 1\n3\n"});
  run(milliseconds(3'010));
  EXPECT_EQ(outputs.seats[0].to_box, "1,2\n3\n");  // what it says to testers reaches no box
}

TEST_F(Tapped, AHeldFieldCarriesTheVirtualNumberAndTheCheckIsMadeAnew) {
  warm_up();
  at(milliseconds(3'001), HandAction{.control = 1, .to_ppm = kFullTravel});
  at(milliseconds(3'001), ControlHeld{.control = 1});
  run(milliseconds(3'200));
  const std::int64_t pressed = session.device(0).field_number(1);
  const std::int64_t other = 1 - pressed;
  const std::string from_box = line_of(*panel, {512, other, 2});
  at(milliseconds(3'201), BoxBytes{"debug talk\n" + from_box.substr(0, 3)});
  EXPECT_EQ(run(milliseconds(3'202)), "debug talk\n");  // the rest waits for its end
  at(milliseconds(3'203), BoxBytes{from_box.substr(3) + "D,1,1\n"});
  EXPECT_EQ(run(milliseconds(3'204)), line_of(*panel, {512, pressed, 2}) + "D,1,1\n");
  EXPECT_FALSE(session.passes_unaltered(0));
  at(milliseconds(3'205), BoxBytes{"D,5"});
  at(milliseconds(3'206), ControlHeld{.control = 1, .held = false});
  EXPECT_EQ(run(milliseconds(3'207)), "D,5");
  EXPECT_TRUE(session.passes_unaltered(0));
  at(milliseconds(3'208), BoxBytes{from_box});
  EXPECT_EQ(run(milliseconds(3'209)), from_box);
}

TEST_F(Tapped, ALineThatHadBegunToPassGoesOnAsItIs) {
  warm_up();
  const std::int64_t up = session.device(0).field_number(1);
  const std::string from_box = line_of(*panel, {7, 1 - up, 0});
  at(milliseconds(3'001), BoxBytes{from_box.substr(0, 4)});
  at(milliseconds(3'002), ControlHeld{.control = 1});
  at(milliseconds(3'003), BoxBytes{from_box.substr(4) + from_box});
  EXPECT_EQ(run(milliseconds(3'004)), from_box + line_of(*panel, {7, up, 0}));
}

TEST_F(Tapped, ABoxThatNeverEndsItsLineIsKeptBackNoFurtherThanItsLongest) {
  warm_up();
  at(milliseconds(3'001), ControlHeld{.control = 1});
  for (int i = 0; i < 100; ++i) at(milliseconds(3'002 + i), BoxBytes{std::string(64, 'x')});
  EXPECT_GT(run(milliseconds(3'200)).size(), 6'400u - 2u * 256u - 64u);
}

TEST_F(Tapped, ReplacedInMidGameTheControlsStandWhereTheNewestLineSays) {
  warm_up();
  at(milliseconds(3'001), BoxBytes{line_of(*panel, {731, 0, 2})});
  run(milliseconds(3'010));
  const auto moves =
      hands_that_show(session.device(0), session.observer(0).traffic_to_game().numbers());
  const Duration shown = milliseconds(3'011) + time_to_show(*panel);
  for (const HandAction& move : moves) at(milliseconds(3'011), move);
  at(shown, SourceChanged{SeatSource::kDevice});
  at(shown + milliseconds(1), BoxBytes{"nobody hears this\n"});
  const std::string all = run(shown + milliseconds(200));
  ASSERT_GT(all.size(), 40u);
  // From the first line on; a converter's noise may move the last digit of the pot.
  protocol::Splitter splitter(panel->to_game_framing);
  std::size_t whole = 0;
  splitter.push(std::string_view(all).substr(all.find('\n') + 1),
                [&](const protocol::SplitLine& line) {
                  std::vector<std::int64_t> numbers(3);
                  ASSERT_TRUE(panel->to_game.match(line.text, numbers).ok()) << line.text;
                  EXPECT_NEAR(static_cast<double>(numbers[0]), 731.0, 1.0);
                  EXPECT_EQ(numbers[1], 0);
                  EXPECT_EQ(numbers[2], 2);
                  ++whole;
                });
  EXPECT_GE(whole, 10u);
  at(shown + milliseconds(201), SourceChanged{SeatSource::kBox});
  at(shown + milliseconds(202), BoxBytes{"back\n"});
  EXPECT_EQ(run(shown + milliseconds(300)), "back\n");
}

// One run of everything that may come in, in random pieces.
std::vector<SeatInput> random_inputs(const Panel& panel) {
  std::vector<SeatInput> inputs;
  Instant t{1};
  const auto add = [&](decltype(Input::what) what) {
    t = t + microseconds(*rc::gen::inRange(1, 60'000));
    inputs.push_back({0, {t, std::move(what)}});
  };
  add(LinkOpened{.dtr = true, .takes_at_once = *rc::gen::arbitrary<bool>()});
  t = t + seconds(*rc::gen::inRange(0, 4));  // before or after the board has started
  const int count = *rc::gen::inRange(0, 60);
  for (int i = 0; i < count; ++i) {
    const auto control = static_cast<std::uint16_t>(*rc::gen::inRange(0, 3));
    switch (*rc::gen::inRange(0, 8)) {
      case 0:
        add(HandAction{.control = control, .to_ppm = *rc::gen::inRange(0, kFullTravel + 1)});
        break;
      case 1:
        add(ControlHeld{.control = control, .held = *rc::gen::arbitrary<bool>()});
        break;
      case 2:
        add(SourceChanged{
            *rc::gen::element(SeatSource::kDevice, SeatSource::kBox, SeatSource::kRecording)});
        break;
      case 3:
        add(BytesFromGame{*rc::gen::element<std::string>("1,2\n", "#seen 1 ", "0 ok\n")});
        break;
      case 4:
        add(Taken{*rc::gen::inRange(0, 50)});
        break;
      default: {
        const std::string line = line_of(panel, {*rc::gen::inRange(0, 1024), 1, 0});
        const auto cut = static_cast<std::size_t>(*rc::gen::inRange(0, 12));
        add(BoxBytes{*rc::gen::arbitrary<bool>() ? line : line.substr(0, cut)});
      }
    }
  }
  return inputs;
}

struct WentOut {
  std::string bytes;
  std::vector<std::int64_t> dues;
  std::string to_box;
  std::uint64_t fingerprint = 0;
  bool operator==(const WentOut&) const = default;
};

WentOut run_in_steps(const std::shared_ptr<const Panel>& panel,
                     const std::vector<SeatInput>& inputs, std::vector<Instant> steps,
                     Instant end) {
  Session session(3);
  session.add_seat({.name = "desk", .panel = panel, .source = SeatSource::kBox});
  steps.push_back(end);
  std::sort(steps.begin(), steps.end());
  WentOut out;
  SessionOutputs outputs;
  std::span<const SeatInput> left = inputs;
  for (const Instant t : steps) {
    std::size_t count = 0;
    while (count < left.size() && left[count].input.at <= t) ++count;
    session.step(t, left.first(count), outputs);
    left = left.subspan(count);
    out.bytes += outputs.seats[0].bytes;
    out.to_box += outputs.seats[0].to_box;
    for (const Chunk& chunk : outputs.seats[0].chunks) out.dues.push_back(chunk.due.ns);
  }
  out.fingerprint = session.fingerprint();
  return out;
}

TEST(TappedSplitLaw, StepsOfAnySizeGiveTheSameBytesAtTheSameTimes) {
  const auto panel = desk();
  EXPECT_TRUE(rc::check([&] {
    const std::vector<SeatInput> inputs = random_inputs(*panel);
    const Instant end = inputs.back().input.at + milliseconds(50);
    std::vector<Instant> steps;
    for (const int share : *rc::gen::container<std::vector<int>>(rc::gen::inRange(1, 10'000)))
      steps.push_back({end.ns / 10'000 * share});
    for (const SeatInput& input : inputs)
      if (*rc::gen::arbitrary<bool>()) steps.push_back(input.input.at);
    RC_ASSERT(run_in_steps(panel, inputs, steps, end) == run_in_steps(panel, inputs, {}, end));
  }));
}

}  // namespace
}  // namespace understudy
