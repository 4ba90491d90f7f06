// The notation of hands: what each form means, and what is said to one that means nothing.
#include "sim/faults/hand_words.h"

#include <gtest/gtest.h>

#include <memory>

#include "sim/model/kinds.h"

namespace understudy {
namespace {

ControlDescription control(std::string name, ControlKind kind) {
  ControlDescription made;
  made.name = std::move(name);
  made.kind = kind;
  return made;
}

// A control of each kind, in an order that the tests below count on.
std::shared_ptr<const Panel> desk() {
  auto panel = std::make_shared<Panel>();
  auto& controls = panel->description.controls;
  controls = {control("power", ControlKind::kPot),     control("bell", ControlKind::kButton),
              control("sander", ControlKind::kSwitch), control("mode", ControlKind::kSelector),
              control("stick", ControlKind::kStick),   control("focus", ControlKind::kEncoder),
              control("soil", ControlKind::kSensor),   control("lever", ControlKind::kStick)};
  controls[3].selector.places = 5;
  controls[3].sends = {.low = 0, .high = 4, .words = {"off", "slow", "half", "fast", "11"}};
  controls[4].stick.centre_x_ppm = 480'000;
  controls[4].stick.centre_y_ppm = 520'000;
  controls[5].encoder.detents = 24;
  controls[7].stick.springs = false;
  controls[7].stick.presses = false;
  return panel;
}

class HandWords : public testing::Test {
 protected:
  Result<std::vector<TimedHand>> parse(std::string_view line) {
    return parse_hand_words(line, std::span(seats_.data(), seat_count_));
  }
  // The actions of a line that must be right.
  std::vector<TimedHand> hands(std::string_view line) {
    const auto result = parse(line);
    EXPECT_TRUE(result.ok()) << (result.ok() ? "" : result.error().text);
    return result.ok() ? result.value() : std::vector<TimedHand>{};
  }
  std::string mistake(std::string_view line) {
    const auto result = parse(line);
    EXPECT_FALSE(result.ok()) << line;
    return result.ok() ? "" : result.error().text;
  }
  static HandAction at_once(std::uint16_t control, std::int32_t to_ppm) {
    return {.control = control, .to_ppm = to_ppm, .duration = {}, .curve = Curve::kAtOnce};
  }

  static HandAction in_time(std::uint16_t control, std::uint8_t part, std::int32_t to_ppm,
                            Duration duration, Curve curve = Curve::kMinimumJerk) {
    return {.control = control,
            .part = part,
            .to_ppm = to_ppm,
            .duration = duration,
            .curve = duration.ns == 0 ? Curve::kAtOnce : curve};
  }

  std::shared_ptr<const Panel> desk_ = desk();
  std::vector<HandSeat> seats_{{"desk-1", desk_.get()}, {"desk-2", desk_.get()}};
  std::size_t seat_count_ = 1;
};

TEST_F(HandWords, DownUpOnAndOffGoToTheEndsAtOnce) {
  EXPECT_EQ(hands("bell down"), (std::vector<TimedHand>{{{}, 0, at_once(1, 1'000'000)}}));
  EXPECT_EQ(hands("bell up"), (std::vector<TimedHand>{{{}, 0, at_once(1, 0)}}));
  EXPECT_EQ(hands("sander on"), (std::vector<TimedHand>{{{}, 0, at_once(2, 1'000'000)}}));
  EXPECT_EQ(hands("sander off"), (std::vector<TimedHand>{{{}, 0, at_once(2, 0)}}));
}

TEST_F(HandWords, APressGoesDownAndComesUpAgain) {
  EXPECT_EQ(hands("bell press"), (std::vector<TimedHand>{{{}, 0, at_once(1, 1'000'000)},
                                                         {milliseconds(120), 0, at_once(1, 0)}}));
  EXPECT_EQ(hands("bell press 5ms").at(1).after, milliseconds(5));
  EXPECT_EQ(hands("bell press 5 ms").at(1).after, milliseconds(5));
}

TEST_F(HandWords, APotGoesToAShareAtOnceOrAsAHandMoves) {
  EXPECT_EQ(hands("power to 40%"), (std::vector<TimedHand>{{{}, 0, at_once(0, 400'000)}}));
  const HandAction slow{
      .control = 0, .to_ppm = 125'000, .duration = milliseconds(500), .curve = Curve::kMinimumJerk};
  EXPECT_EQ(hands("power to 12.5% in 0.5s"), (std::vector<TimedHand>{{{}, 0, slow}}));
}

TEST_F(HandWords, FromPutsItOffAndForTakesItBack) {
  EXPECT_EQ(hands("bell down from 3s for 2s"),
            (std::vector<TimedHand>{{seconds(3), 0, at_once(1, 1'000'000)},
                                    {seconds(5), 0, at_once(1, 0)}}));
}

TEST_F(HandWords, AnEmptyLineAndANoteMoveNothing) {
  EXPECT_TRUE(hands("").empty());
  EXPECT_TRUE(hands("   \r").empty());
  EXPECT_TRUE(hands("# the bell comes later").empty());
  for (const char* line : {"", " \t\r", "# bell down"}) EXPECT_TRUE(says_nothing(line)) << line;
  EXPECT_FALSE(says_nothing("bell"));
}

TEST_F(HandWords, OfSeveralSeatsOneIsNamed) {
  seat_count_ = 2;
  EXPECT_EQ(hands("desk-2/bell down").front().seat, 1);
  EXPECT_EQ(
      mistake("bell down"),
      "cannot follow 'bell down': several seats have a 'bell'; say which, such as desk-1/bell");
  EXPECT_EQ(mistake("desk-3/bell down"),
            "cannot follow 'desk-3/bell down': there is no seat 'desk-3'");
}

TEST_F(HandWords, AWrongNameIsAnsweredWithTheNearest) {
  EXPECT_EQ(mistake("bel down"),
            "cannot follow 'bel down': no control is named 'bel'; the nearest is 'bell'");
  EXPECT_EQ(mistake("horn down"),
            "cannot follow 'horn down': no control is named 'horn'; "
            "there are power, bell, sander, mode, stick, focus, soil, lever");
}

TEST_F(HandWords, ASelectorGoesToAPlaceCountedFromOneOrCalledByItsWord) {
  EXPECT_EQ(hands("mode to 1"), (std::vector<TimedHand>{{{}, 0, at_once(3, 0)}}));
  EXPECT_EQ(hands("mode to 4"), (std::vector<TimedHand>{{{}, 0, at_once(3, 750'000)}}));
  EXPECT_EQ(hands("mode to fast"), hands("mode to 4"));
  EXPECT_EQ(hands("mode to slow in 0.3s").front().action,
            in_time(3, 0, 250'000, milliseconds(300)));
  EXPECT_EQ(hands("mode to 11").front().action.to_ppm, kFullTravel) << "a word goes before a place";
}

TEST_F(HandWords, NextAndPreviousCountFromWhereItIsGoingAndStopAtTheEnds) {
  EXPECT_EQ(hands("mode next").front().action.to_ppm, 250'000) << "it lies at the first place";
  EXPECT_EQ(hands("mode previous").front().action.to_ppm, 0);
  std::int32_t heading = 500'000;
  seats_[0].heading = [&](std::size_t control, std::size_t part) {
    EXPECT_EQ(control, 3U);
    EXPECT_EQ(part, 0U);
    return heading;
  };
  EXPECT_EQ(hands("mode next").front().action.to_ppm, 750'000);
  EXPECT_EQ(hands("mode previous").front().action.to_ppm, 250'000);
  heading = 1'000'000;
  EXPECT_EQ(hands("mode next").front().action.to_ppm, 1'000'000);
}

TEST_F(HandWords, EveryPlaceOfASelectorIsFoundAgainFromItsPosition) {
  for (std::int64_t places = 2; places <= 12; ++places)
    for (std::int64_t place = 0; place < places; ++place)
      EXPECT_EQ(place_at(place_ppm(place, places), places), place) << places;
}

// 24 detents a turn: a click is 15 degrees, 41667 millionths.
TEST_F(HandWords, AKnobIsTurnedByClicksTurnsOrDegrees) {
  EXPECT_EQ(
      hands("focus turn 3 clicks"),
      (std::vector<TimedHand>{{{}, 0, in_time(5, 0, 125'000, milliseconds(300), Curve::kLinear)}}));
  EXPECT_EQ(hands("focus turn -2 clicks in 0.3s").front().action,
            in_time(5, 0, -83'333, milliseconds(300), Curve::kLinear));
  EXPECT_EQ(hands("focus turn 1.5 turns in 2s").front().action,
            in_time(5, 0, 1'500'000, seconds(2), Curve::kLinear));
  EXPECT_EQ(hands("focus turn 90deg").front().action.to_ppm, 250'000);
  EXPECT_EQ(hands("focus turn -90 deg").front().action.to_ppm, -250'000);
  EXPECT_EQ(hands("focus turn 1 click").front().action.to_ppm, 41'667);
  EXPECT_EQ(hands("focus turn 1 click in 0s").front().action, at_once(5, 41'667));
}

TEST_F(HandWords, AKnobEndsOnADetentHoweverFarItWasToldToTurn) {
  EXPECT_EQ(hands("focus turn 20deg").front().action.to_ppm, 41'667) << "1.33 clicks are 1";
  EXPECT_EQ(hands("focus turn -23 deg").front().action.to_ppm, -83'333) << "1.53 clicks are 2";
  EXPECT_EQ(hands("focus turn 1000 turns").front().action.to_ppm, 1'000'000'000);
  EXPECT_NE(
      mistake("focus turn 7deg").find("less than half a click of 'focus', which has 24 a turn"),
      std::string::npos);
  EXPECT_NE(mistake("focus turn 2.5 clicks").find("rests on whole clicks"), std::string::npos);
  EXPECT_NE(mistake("focus turn -1001 turns").find("further than 1000 turns"), std::string::npos);
  for (const char* wrong : {"focus turn", "focus turn 3", "focus turn far", "focus turn 3 clicksy",
                            "focus turn clicks", "focus turn --3 clicks"})
    EXPECT_NE(mistake(wrong).find("such as 3 clicks, -1.5 turns or 90deg"), std::string::npos);
}

TEST_F(HandWords, AStickGoesOneWayOrBothAndIsLetGo) {
  EXPECT_EQ(hands("stick.x to 80% in 0.2s"),
            (std::vector<TimedHand>{{{}, 0, in_time(4, 0, 800'000, milliseconds(200))}}));
  EXPECT_EQ(hands("stick to 80% 20 % in 0.1s"),
            (std::vector<TimedHand>{{{}, 0, in_time(4, 0, 800'000, milliseconds(100))},
                                    {{}, 0, in_time(4, 1, 200'000, milliseconds(100))}}));
  EXPECT_EQ(hands("stick let go"),
            (std::vector<TimedHand>{{{}, 0, in_time(4, 0, 480'000, milliseconds(80))},
                                    {{}, 0, in_time(4, 1, 520'000, milliseconds(80))}}));
  EXPECT_EQ(hands("stick.y let go"),
            (std::vector<TimedHand>{{{}, 0, in_time(4, 1, 520'000, milliseconds(80))}}));
}

TEST_F(HandWords, AStickThatIsHeldForATimeSpringsBack) {
  EXPECT_EQ(hands("stick.x to 100% in 0.2s for 1s"),
            (std::vector<TimedHand>{{{}, 0, in_time(4, 0, 1'000'000, milliseconds(200))},
                                    {seconds(1), 0, in_time(4, 0, 480'000, milliseconds(80))}}));
  EXPECT_EQ(hands("stick to 100% 0% from 1s for 1s").size(), 4U);
  EXPECT_EQ(hands("stick to 100% 0% from 1s for 1s").back().after, seconds(2));
}

TEST_F(HandWords, AStickIsPressedByItselfOrByItsPart) {
  EXPECT_EQ(hands("stick press"),
            (std::vector<TimedHand>{{{}, 0, in_time(4, 2, 1'000'000, {})},
                                    {milliseconds(120), 0, in_time(4, 2, 0, {})}}));
  EXPECT_EQ(hands("stick.press press"), hands("stick press"));
  EXPECT_EQ(hands("stick.press down"),
            (std::vector<TimedHand>{{{}, 0, in_time(4, 2, 1'000'000, {})}}));
  EXPECT_EQ(hands("stick.press up").front().action.to_ppm, 0);
}

TEST_F(HandWords, AStickWithoutSpringsOrPressSaysSo) {
  EXPECT_EQ(hands("lever to 10% 90%").size(), 2U);
  EXPECT_NE(mistake("lever let go").find("'lever' has no springs"), std::string::npos);
  EXPECT_NE(mistake("lever.x to 10% for 1s").find("stays until it is moved again"),
            std::string::npos);
  EXPECT_NE(mistake("lever press").find("'press' is no movement of it"), std::string::npos);
  EXPECT_EQ(mistake("lever.press down"),
            "cannot follow 'lever.press down': 'lever' has no part 'press'; it has x, y");
}

TEST_F(HandWords, PartsAreNamedOfThoseThatHaveSome) {
  seat_count_ = 2;
  EXPECT_EQ(hands("desk-2/stick.y to 5%"),
            (std::vector<TimedHand>{{{}, 1, in_time(4, 1, 50'000, {})}}));
  seat_count_ = 1;
  EXPECT_EQ(mistake("stick.z to 5%"),
            "cannot follow 'stick.z to 5%': 'stick' has no part 'z'; it has x, y, press");
  EXPECT_EQ(mistake("bell.x down"),
            "cannot follow 'bell.x down': a hand knows no parts of 'bell', which is a button; "
            "leave '.x' out");
  EXPECT_EQ(mistake("stik.x to 5%"),
            "cannot follow 'stik.x to 5%': no control is named 'stik'; the nearest is 'stick'");
}

TEST_F(HandWords, NoHandMovesASensor) {
  EXPECT_EQ(mistake("soil to 40%"),
            "cannot follow 'soil to 40%': no hand moves 'soil', a sensor; what it measures is its "
            "course in the panel file, such as course = \"sine\"");
}

TEST_F(HandWords, AWrongMovementIsAnsweredWithTheNearest) {
  EXPECT_EQ(mistake("bell dwn"),
            "cannot follow 'bell dwn': 'dwn' is no movement of it; the nearest is 'down'; 'bell' "
            "is a button: bell down|up|on|off, bell press [TIME], each with [in TIME] [from TIME] "
            "[for TIME]");
  EXPECT_NE(mistake("mode nxt").find("the nearest is 'next'"), std::string::npos);
  EXPECT_NE(mistake("mode to flow")
                .find("the nearest is 'slow'; there are places 1 to 5 of "
                      "'mode', or one of off, slow, half, fast, 11"),
            std::string::npos);
  EXPECT_NE(mistake("mode to 6").find("there is no place '6'"), std::string::npos);
  EXPECT_NE(mistake("mode to 0").find("there is no place '0'"), std::string::npos);
  EXPECT_NE(mistake("mode to").find("after 'to' comes one of places 1 to 5"), std::string::npos);
  EXPECT_NE(mistake("stick to 80%").find("two shares from 0% to 100%, x and y"), std::string::npos);
  EXPECT_NE(mistake("stick let").find("after 'let' comes 'go'"), std::string::npos);
  EXPECT_NE(mistake("power down").find("'power' is a pot: power to SHARE%"), std::string::npos);
  EXPECT_NE(mistake("bell to 40%").find("'to' is no movement of it"), std::string::npos);
  EXPECT_NE(mistake("focus tun 3 clicks").find("the nearest is 'turn'"), std::string::npos);
  EXPECT_NE(mistake("focus turn 3 clicks for 2s").find("stays until it is moved again"),
            std::string::npos);
  EXPECT_NE(mistake("power to 120%").find("a share from 0% to 100%"), std::string::npos);
  EXPECT_NE(mistake("power to 512").find("a share from 0% to 100%"), std::string::npos);
  EXPECT_NE(mistake("power to 40% in soon").find("a time such as"), std::string::npos);
  EXPECT_NE(mistake("power to 40% for 2s").find("stays until it is moved again"),
            std::string::npos);
  EXPECT_NE(mistake("bell").find("'bell' is a button: bell down"), std::string::npos);
  EXPECT_NE(mistake("stick.x").find("'stick.x' is a part of a stick: stick.x to SHARE%"),
            std::string::npos);
  EXPECT_NE(mistake("horn").find("a hand's words are"), std::string::npos);
  EXPECT_NE(mistake("bell down quickly").find("'quickly' is not expected here"), std::string::npos);
}

TEST_F(HandWords, OfARealBoxItIsSaidThatItIsOutOrInAndWhatIsLetGo) {
  EXPECT_EQ(read_box_words("box out"), SeatSource::kDevice);
  EXPECT_EQ(read_box_words("  box   in "), SeatSource::kBox);
  for (const char* other : {"box", "box down", "box out now", "out box", "bell out", ""})
    EXPECT_EQ(read_box_words(other), std::nullopt) << other;

  const std::span<const HandSeat> seats(seats_.data(), seat_count_);
  EXPECT_EQ(read_let_go("power let go", seats), (std::vector<SaidPart>{{0, 0, 0}}));
  EXPECT_EQ(read_let_go("stick let go", seats),
            (std::vector<SaidPart>{{0, 4, 0}, {0, 4, 1}, {0, 4, 2}}));
  EXPECT_EQ(read_let_go("stick.y let go", seats), (std::vector<SaidPart>{{0, 4, 1}}));
  const auto all = read_let_go("let go", seats);
  ASSERT_TRUE(all.has_value());
  EXPECT_EQ(all->size(), 10u);  // no hand moves the sensor, and one stick does not press
  for (const char* other : {"power let", "power go", "nothing let go", "power let go now", "power"})
    EXPECT_EQ(read_let_go(other, seats), std::nullopt) << other;
}

}  // namespace
}  // namespace understudy
