// The status block of `serve`: what it says of a session, and that it keeps to its room.
#include "sim/app/status_text.h"

#include <gtest/gtest.h>

#include "sim/app/key_hands.h"
#include "sim/app/remarks.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

constexpr std::string_view kDesk = R"(
panel = "Desk"
board = "bootloader-8bit"
[manners]
loop = "20 ms"
[[control]]
name = "power"
kind = "pot"
keys = { more = "W", less = "S" }
[[control]]
name = "bell"
kind = "button"
sends = [0, 1]
keys = { hold = "B" }
[[output]]
name = "lamp"
kind = "lamp"
)";

// The kinds beside those of the desk.
constexpr std::string_view kKinds = R"(
panel = "Kinds"
board = "bootloader-8bit"
[[control]]
name = "mode"
kind = "selector"
sends = ["off", "slow", "fast"]
keys = { more = "M", less = "N" }
[[control]]
name = "tilt"
kind = "stick"
keys = { less = "A", more = "D", up = "W", down = "S", hold = "Q" }
[[control]]
name = "focus"
kind = "encoder"
detents = 20
pulses = 20
keys = { more = "P", less = "O" }
[[control]]
name = "warmth"
kind = "sensor"
level = "50 %"
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

class StatusText : public testing::Test {
 protected:
  explicit StatusText(std::string_view panel = kDesk)
      : panel_(parse_panel(panel, "desk.panel.toml").value()) {
    session_.add_seat({.name = "desk", .panel = panel_, .whole_lines = false, .play = {}});
    links_.emplace_back(std::vector<std::unique_ptr<Link>>{});
    keys_.emplace(session_);
  }
  void step(Instant until, std::vector<SeatInput> inputs = {}) {
    session_.step(until, inputs, outputs_);
    for (const Chunk& chunk : outputs_.seats[0].chunks)
      handed_over_ += static_cast<std::int64_t>(chunk.size);
  }
  // What the typed bytes make a hand do within a second.
  std::vector<HandAction> typed(std::string_view bytes) {
    HandQueue queue;
    keys_->type(bytes, session_, session_.now() + microseconds(1), queue);
    std::vector<SeatInput> due;
    queue.take_due(session_.now(), session_.now() + seconds(1), due);
    std::vector<HandAction> hands;
    for (const SeatInput& input : due) hands.push_back(std::get<HandAction>(input.input.what));
    return hands;
  }
  static SeatInput at(Instant t, decltype(Input::what) what) { return {0, {t, std::move(what)}}; }
  std::string text(std::size_t columns = 120, std::size_t rows = 40) {
    std::string all;
    for (const std::string& line : status_lines({.session = session_,
                                   .links = links_,
                                   .key_names = keys_->names(),
                                   .selection = keys_->selection(),
                                   .columns = columns,
                                   .rows = rows}))
      all += line + "\n";
    return all;
  }
  void expect_shown(const std::string& part) {
    EXPECT_NE(text().find(part), std::string::npos) << "no '" << part << "' in\n" << text();
  }

  std::shared_ptr<const Panel> panel_;
  Session session_{1};
  std::vector<SeatLinks> links_;
  std::optional<KeyHands> keys_;
  SessionOutputs outputs_;
  std::int64_t handed_over_ = 0;
};

TEST_F(StatusText, SaysThatNobodyIsThereThenThatTheBoardStartsThenTheRate) {
  step(Instant{1'000'000'000});
  expect_shown("nobody has the port open");
  step(Instant{2'000'000'000}, {at(Instant{1'500'000'000}, LinkOpened{})});
  expect_shown("connected; the board is starting");
  step(Instant{10'000'000'000});
  expect_shown("  50.0 lines/s");
}

TEST_F(StatusText, TheAgeOfTheInputIsThatOfTheOldestByteNobodyTook) {
  step(Instant{4'000'000'000}, {at(Instant{1'000'000'000}, LinkOpened{})});
  ASSERT_GT(handed_over_, 0);
  step(Instant{5'000'000'000}, {at(Instant{4'500'000'000}, Taken{handed_over_})});
  EXPECT_LT(session_.observer(0).input_age(session_.now()), milliseconds(1'001));
  EXPECT_GT(session_.observer(0).input_age(session_.now()), milliseconds(900));
}

TEST_F(StatusText, SaysWhyBytesFromTheGameWereLost) {
  step(Instant{1'200'000'000}, {at(Instant{1'000'000'000}, LinkOpened{}),
                                at(Instant{1'100'000'000}, BytesFromGame{"255\n"})});
  step(Instant{9'000'000'000}, {at(Instant{8'000'000'000}, BytesFromGame{"128\n"})});
  expect_shown("4 bytes lost (4 sent while the board was starting)");
  expect_shown("shows 128");
}

TEST_F(StatusText, ExplainsTheLastOddLineOfTheGame) {
  step(Instant{1'200'000'000}, {at(Instant{1'000'000'000}, LinkOpened{}),
                                at(Instant{1'100'000'000}, BytesFromGame{"on\n"})});
  expect_shown("last odd line \"on\": ");
  expect_shown("expected a whole number from 0 to 255");
}

TEST_F(StatusText, ShowsWhatTheHandDoesAndWhichKeyDoesIt) {
  step(Instant{5'000'000'000},
       {at(Instant{4'000'000'000}, HandAction{.control = 0, .to_ppm = 400'000})});
  expect_shown(" 40 %");
  expect_shown("[W more, S less]");
  expect_shown("[B]");
}

class KindsShown : public StatusText {
 protected:
  KindsShown() : StatusText(kKinds) {}
};

TEST_F(KindsShown, EveryKindHasARowWithItsStateInWords) {
  step(Instant{5'000'000'000},
       {at(Instant{1'000'000'000}, LinkOpened{}),
        at(Instant{4'000'000'000}, BytesFromGame{"255,0,128,180,1,42\n"}),
        at(Instant{4'000'000'001}, HandAction{.control = 0, .to_ppm = 500'000}),
        at(Instant{4'000'000'002}, HandAction{.control = 1, .part = 1, .to_ppm = 1'000'000}),
        at(Instant{4'000'000'003}, HandAction{.control = 1, .part = 2, .to_ppm = 1'000'000}),
        at(Instant{4'000'000'004}, HandAction{.control = 2,
                                              .to_ppm = 150'000,
                                              .duration = milliseconds(600),
                                              .curve = Curve::kLinear})});
  expect_shown("mode          .#.                  2 of 3   sends slow       [M more, N less]");
  expect_shown("tilt          x  50 %   y 100 %    down     sends ");
  expect_shown("sends 511,1023,0 [A D W S, Q]");
  expect_shown("focus         ...#................  54 deg");
  expect_shown("sends 3,0        [P more, O less]");
  expect_shown("warmth        #########...........          sends 511");
  expect_shown("glow          r#### g.... b###.             shows 255,0,128  rgb");
  expect_shown("needle        ...................# 180 deg  shows 180        gauge");
  expect_shown("horn          sounds, 2700 Hz               shows 1          buzzer");
  expect_shown("clock         [  42]                        shows 42         red");
}

TEST_F(StatusText, ASummarySaysThatNobodyCameOrWhatPassed) {
  step(Instant{1'000'000'000});
  EXPECT_EQ(summary_of(session_, 0, {}, 0), "desk: nobody opened a port");
  step(Instant{9'000'000'000}, {at(Instant{2'000'000'000}, LinkOpened{}),
                                at(Instant{8'000'000'000}, BytesFromGame{"128\nx\n"})});
  EXPECT_NE(summary_of(session_, 0, {}, 1)
                .find("1 line from it and 1 odd ones, outputs changed 1 time, opened 1 time, "
                      "0 bytes lost"),
            std::string::npos)
      << summary_of(session_, 0, {}, 1);
}

class RemarksOf : public StatusText {
 protected:
  explicit RemarksOf(std::string_view panel = kDesk) : StatusText(panel) {}
  // What is remarked when these inputs came, at the end of a second each.
  std::vector<std::string> remarks_after(std::vector<SeatInput> inputs, Duration length) {
    step(session_.now() + length, std::move(inputs));
    return remarks_.take(session_, 0);
  }
  SeatInput soon(decltype(Input::what) what) {
    return at(session_.now() + milliseconds(1 + 100 * offset_++), std::move(what));
  }
  Remarks remarks_;
  std::int64_t offset_ = 0;
};

TEST_F(RemarksOf, AWrongSpeedIsToldOnceForEachTimeThePortIsOpen) {
  const auto first = remarks_after(
      {soon(LinkOpened{.dtr = true, .takes_at_once = true}), soon(LineSettings{.baud = 9600})},
      seconds(1));
  ASSERT_EQ(first.size(), 1U);
  EXPECT_EQ(first[0],
            "the game set 9600 baud, but this panel speaks at 115200: each reads nonsense");
  EXPECT_TRUE(remarks_after({}, seconds(5)).empty());
}

TEST_F(RemarksOf, AnOddLineIsExplainedOnce) {
  const auto odd = remarks_after({soon(LinkOpened{.dtr = true, .takes_at_once = true}),
                                  soon(BytesFromGame{"1,2\n"}), soon(BytesFromGame{"3,4\n"})},
                                 seconds(1));
  ASSERT_EQ(odd.size(), 1U);
  EXPECT_NE(odd[0].find("\"3,4\": "), std::string::npos) << odd[0];
  EXPECT_NE(odd[0].find("the board takes whatever numbers it finds there"), std::string::npos);
}

constexpr std::string_view kNoOutputs = R"(
panel = "Mute"
[[control]]
name = "bell"
kind = "button"
)";
constexpr std::string_view kAskedNoOutputs = R"(
panel = "Asked"
[[control]]
name = "bell"
kind = "button"
[[line]]
to = "game"
text = "{bell}"
send = { asked = "?" }
)";

class RemarksOfNoOutputs : public RemarksOf {
 protected:
  RemarksOfNoOutputs() : RemarksOf(kNoOutputs) {}
};

TEST_F(RemarksOfNoOutputs, APanelWithoutOutputsTakesNoLines) {
  const auto odd = remarks_after(
      {soon(LinkOpened{.dtr = true, .takes_at_once = true}), soon(BytesFromGame{"x\n"})},
      seconds(1));
  EXPECT_EQ(odd, (std::vector<std::string>{
                     "a line of the game is none of this panel's: \"x\": this panel takes no "
                     "lines"}));
}

class RemarksOfAsked : public RemarksOf {
 protected:
  RemarksOfAsked() : RemarksOf(kAskedNoOutputs) {}
};

TEST_F(RemarksOfAsked, APanelWithoutOutputsTakesWhatAsksItsLine) {
  const auto odd = remarks_after({soon(LinkOpened{.dtr = true, .takes_at_once = true}),
                                  soon(BytesFromGame{"?\n"}), soon(BytesFromGame{"x\n"})},
                                 seconds(1));
  EXPECT_EQ(odd, (std::vector<std::string>{
                     "a line of the game is none of this panel's: \"x\": this panel takes no "
                     "lines but \"?\""}));
}

TEST_F(RemarksOf, BytesWithoutAnEndOfLineAreToldAfterASecond) {
  EXPECT_TRUE(remarks_after({soon(LinkOpened{.dtr = true, .takes_at_once = true}),
                             soon(BytesFromGame{"255\r"})},
                            milliseconds(900))
                  .empty());
  const auto told = remarks_after({}, seconds(1));
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told[0],
            "the game wrote 4 bytes without an end of line, beginning \"255\\r\"; lines to this "
            "panel end with \"\\n\"");
}

TEST_F(RemarksOf, AGameThatDoesNotReadIsToldAfterASecondAndOneThatReadsIsNot) {
  EXPECT_TRUE(remarks_after({soon(LinkOpened{})}, milliseconds(2'200)).empty());
  const auto told = remarks_after({}, seconds(3));
  ASSERT_EQ(told.size(), 1U);
  EXPECT_NE(told[0].find("the game has not read for "), std::string::npos);
}

TEST_F(RemarksOf, AHealthyGameHearsNothing) {
  auto remarks = remarks_after(
      {soon(LinkOpened{.dtr = true, .takes_at_once = true}), soon(LineSettings{.baud = 115200})},
      seconds(3));
  for (int i = 0; i < 20 && remarks.empty(); ++i)
    remarks =
        remarks_after({at(session_.now() + milliseconds(1), BytesFromGame{"255\n"})}, seconds(1));
  EXPECT_TRUE(remarks.empty()) << remarks[0];
}

// A board that bytes disturb while it starts, and whose memory lasts for 40 lines.
class RemarksOfAFrailBoard : public RemarksOf {
 protected:
  RemarksOfAFrailBoard()
      : RemarksOf(R"(
panel = "Frail"
[board]
boot_disturbed = "9 s"
[manners]
loop = "20 ms"
heap = { free = 40, lost = 1, lines = 1 }
[[control]]
name = "knob"
kind = "pot"
)") {}
};

TEST_F(RemarksOfAFrailBoard, BytesThatKeepItInItsLoaderAreToldAtOnceAndOnce) {
  const auto told = remarks_after({soon(LinkOpened{.dtr = true, .takes_at_once = true}),
                                   soon(BytesFromGame{"hello, box 01\n"})},
                                  milliseconds(102));
  ASSERT_EQ(told.size(), 2U);  // the line is none of this panel's either
  EXPECT_EQ(told[1],
            "the game sent 14 bytes while the board was starting; its loader took them and waits "
            "9 s after the last one: send nothing before the board's first line");
  EXPECT_TRUE(remarks_after({}, seconds(1)).empty());
}

TEST_F(RemarksOfAFrailBoard, AProgramThatHasStoppedIsToldOnce) {
  EXPECT_TRUE(
      remarks_after({soon(LinkOpened{.dtr = true, .takes_at_once = true})}, seconds(1)).empty());
  const auto told = remarks_after({}, seconds(3));
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told[0],
            "the board's program has used up its heap of 40 bytes after 40 lines and stands "
            "still; the port stays open, and only a restart helps");
  EXPECT_TRUE(remarks_after({}, seconds(60)).empty());
}

TEST_F(StatusText, KeepsToTheRoomOfTheTerminal) {
  for (const std::size_t rows : {2U, 5U, 10U, 50U}) {
    for (const std::size_t columns : {10U, 40U, 200U}) {
      const std::string shown = text(columns, rows);
      EXPECT_LE(static_cast<std::size_t>(std::count(shown.begin(), shown.end(), '\n')), rows - 1);
      std::size_t begin = 0;
      for (std::size_t end; (end = shown.find('\n', begin)) != std::string::npos; begin = end + 1)
        EXPECT_LE(end - begin, columns);
    }
  }
}

class Keys : public StatusText {};

TEST_F(Keys, ALetterOfThePanelPressesItsButtonAndLetsGo) {
  const auto hands = typed("b");
  ASSERT_EQ(hands.size(), 2U);
  EXPECT_EQ(hands[0].control, 1);
  EXPECT_EQ(hands[0].to_ppm, kFullTravel);
  EXPECT_EQ(hands[1].to_ppm, 0);
}

TEST_F(Keys, MoreAndLessMoveAPotByATwentieth) {
  ASSERT_EQ(typed("w").size(), 1U);
  EXPECT_EQ(typed("w")[0].to_ppm, kFullTravel / 20);
  EXPECT_EQ(typed("s")[0].to_ppm, 0);  // it lies at the end and stays there
}

class KeysOfKinds : public KindsShown {};

TEST_F(KeysOfKinds, ASelectorGoesOnePlaceAPressAndStopsAtItsEnds) {
  EXPECT_EQ(typed("m").at(0).to_ppm, 500'000);
  EXPECT_EQ(typed("mmm").at(0).to_ppm, 1'000'000);
  EXPECT_EQ(typed("n").at(0).to_ppm, 0);
  EXPECT_EQ(typed("mmmn").at(0).to_ppm, 500'000) << "from where it is heading";
}

TEST_F(KeysOfKinds, AnEncoderTurnsOneClickAPress) {
  const auto hands = typed("ppo");
  ASSERT_EQ(hands.size(), 3U);
  EXPECT_EQ(hands[0].to_ppm, 50'000);  // a twentieth of a turn
  EXPECT_EQ(hands[2].to_ppm, -50'000);
}

TEST_F(KeysOfKinds, AStickIsPushedToItsEndAndSpringsBackByItself) {
  const auto hands = typed("w");
  ASSERT_EQ(hands.size(), 2U);
  EXPECT_EQ(hands[0].part, 1);
  EXPECT_EQ(hands[0].to_ppm, kFullTravel);
  EXPECT_EQ(hands[1].part, 1);
  EXPECT_EQ(hands[1].to_ppm, 500'000);
  EXPECT_EQ(typed("a").at(0).part, 0);
  EXPECT_EQ(typed("a").at(0).to_ppm, 0);
}

TEST_F(KeysOfKinds, AStickIsPressedByItsKeyAndBySpace) {
  const auto hands = typed("q");
  ASSERT_EQ(hands.size(), 2U);
  EXPECT_EQ(hands[0].part, 2);
  EXPECT_EQ(hands[1].to_ppm, 0);
  typed("\x1b[B");
  EXPECT_EQ(typed(" ").at(0).part, 2);
}

TEST_F(KeysOfKinds, NoKeyMovesASensor) {
  typed("\x1b[A");  // from the first row up to the last
  ASSERT_EQ(keys_->selection().control, 3U);
  EXPECT_TRUE(typed(" \x1b[C\x1b[D").empty());
}

TEST_F(Keys, QuickKeysAddUp) {
  const auto hands = typed("www");
  ASSERT_EQ(hands.size(), 1U);
  EXPECT_EQ(hands[0].to_ppm, 3 * kFullTravel / 20);
}

TEST_F(Keys, ArrowsChooseAControlAndMoveIt) {
  EXPECT_TRUE(typed("\x1b[B").empty());
  EXPECT_EQ(keys_->selection().control, 1U);
  EXPECT_EQ(typed("\x1b[C").at(0).control, 1);
  EXPECT_TRUE(typed("\x1b[A").empty());
  EXPECT_EQ(typed("\x1b[C").at(0).control, 0);
}

TEST_F(Keys, EscByItselfSwallowsNoOtherKey) {
  EXPECT_TRUE(typed("\x1b").empty());
  EXPECT_EQ(typed("w").size(), 1U);
  EXPECT_EQ(typed("w\x1bww").at(0).to_ppm, 3 * kFullTravel / 20);
  EXPECT_TRUE(typed("\x1b\x1b[B").empty());
  EXPECT_EQ(keys_->selection().control, 1U) << "an arrow after Esc is an arrow";
}

TEST_F(Keys, KeysThatMeanNothingDoNothing) {
  EXPECT_TRUE(typed("xyz\x01\xff\x1b[Z").empty());
}

}  // namespace
}  // namespace understudy
