// The notation of hands: what each form means, and what is said to one that means nothing.
#include "sim/faults/hand_words.h"

#include <gtest/gtest.h>

#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

constexpr std::string_view kDesk = R"(
panel = "Desk"
[[control]]
name = "power"
kind = "pot"
[[control]]
name = "bell"
kind = "button"
[[control]]
name = "sander"
kind = "switch"
)";

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

  std::shared_ptr<const Panel> desk_ = parse_panel(kDesk, "desk.panel.toml").value();
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
  EXPECT_EQ(hands("bell press"),
            (std::vector<TimedHand>{{{}, 0, at_once(1, 1'000'000)},
                                    {milliseconds(120), 0, at_once(1, 0)}}));
  EXPECT_EQ(hands("bell press 5ms").at(1).after, milliseconds(5));
  EXPECT_EQ(hands("bell press 5 ms").at(1).after, milliseconds(5));
}

TEST_F(HandWords, APotGoesToAShareAtOnceOrAsAHandMoves) {
  EXPECT_EQ(hands("power to 40%"), (std::vector<TimedHand>{{{}, 0, at_once(0, 400'000)}}));
  const HandAction slow{.control = 0,
                        .to_ppm = 125'000,
                        .duration = milliseconds(500),
                        .curve = Curve::kMinimumJerk};
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
            "cannot follow 'horn down': no control is named 'horn'; there are power, bell, sander");
}

TEST_F(HandWords, AWrongMovementIsAnsweredWithTheNearest) {
  EXPECT_NE(mistake("bell dwn").find("the nearest is 'down'"), std::string::npos);
  EXPECT_NE(mistake("power to 120%").find("a share from 0% to 100%"), std::string::npos);
  EXPECT_NE(mistake("power to 512").find("a share from 0% to 100%"), std::string::npos);
  EXPECT_NE(mistake("power to 40% in soon").find("a time such as"), std::string::npos);
  EXPECT_NE(mistake("power to 40% for 2s").find("stays until it is moved again"),
            std::string::npos);
  EXPECT_NE(mistake("bell").find("a hand's words are"), std::string::npos);
  EXPECT_NE(mistake("bell down quickly").find("'quickly' is not expected here"), std::string::npos);
}

}  // namespace
}  // namespace understudy
