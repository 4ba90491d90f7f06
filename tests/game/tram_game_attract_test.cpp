// Nobody there: what counts as a hand and what as noise, and what the game does when it is alone.
// And the words for whoever looks after the controller. Time is handed in.
#include <gtest/gtest.h>

#include <cmath>
#include <memory>

#include "scenarios/tram/game/game.h"
#include "scenarios/tram/game/attendant_words.h"
#include "scenarios/tram/game/input/idle_watch.h"
#include "scenarios/tram/game/rules/chance.h"
#include "scenarios/tram/game/words.h"

namespace understudy::tram {
namespace {

constexpr double kFrame_s = 1.0 / 60.0;

PanelReading fresh(int power) {
  return {.controls = {.power = power, .heater = 300}, .link = PanelLink::fresh};
}

// Converter noise of a cheap pot (common practice, no source): a few numbers, now and then eight;
// once in some seconds the worn track drops out to the end for two frames.
int noisy(int place, Chance& chance, int frame) {
  if (frame % 311 < 2) return 0;
  const double few = chance.between(-2.0, 2.0);
  return place + static_cast<int>(std::lround(chance.share() < 0.01 ? 4.0 * few : few));
}

// Looks for some seconds at a box with nobody's hand on it.
void rest(IdleWatch& watch, double seconds, double drift_per_s = 0.0) {
  Chance chance(9);
  Keyboard keys;
  for (int frame = 0; frame * kFrame_s < seconds; ++frame) {
    const int place = 512 + static_cast<int>(drift_per_s * frame * kFrame_s);
    PanelReading reading = fresh(noisy(place, chance, frame));
    reading.controls.heater = noisy(300, chance, frame + 100);
    watch.look(reading, keys, kFrame_s);
  }
}

TEST(TramIdleWatch, NoiseDropOutsAndDriftOfRestingPotsDoNotKeepItAwake) {
  IdleWatch still(45.0);
  rest(still, 44.0);
  EXPECT_FALSE(still.idle());
  rest(still, 1.5);
  EXPECT_TRUE(still.idle());
  IdleWatch drifting(45.0);
  rest(drifting, 45.5, 1.0);
  EXPECT_TRUE(drifting.idle());
}

TEST(TramIdleWatch, AMoveBeyondTheNoiseWakesItWhicheverControlItIs) {
  for (int control = 0; control < 5; ++control) {
    IdleWatch watch(45.0);
    Keyboard keys;
    rest(watch, 46.0);
    ASSERT_TRUE(watch.idle());
    PanelReading reading = fresh(512);
    if (control == 0) reading.controls.power = 512 + 2 * kPotMoved;
    if (control == 1) reading.controls.heater = 300 - 2 * kPotMoved;
    if (control == 2) reading.controls.sander = true;
    if (control == 3) reading.controls.bell_presses = 1;
    if (control == 4) keys.press(Action::bell);
    for (int frame = 0; frame < 10; ++frame) watch.look(reading, keys, kFrame_s);
    EXPECT_FALSE(watch.idle()) << control;
  }
}

TEST(TramIdleWatch, ASlowHandWakesItToo) {
  IdleWatch watch(45.0);
  Keyboard keys;
  rest(watch, 46.0);
  for (int frame = 0; frame * kFrame_s < 6.0; ++frame) {
    watch.look(fresh(512 + static_cast<int>(15.0 * frame * kFrame_s)), keys, kFrame_s);
  }
  EXPECT_FALSE(watch.idle());
}

TEST(TramIdleWatch, AButtonThatIsStuckAndAPluggedCableAreNoHands) {
  IdleWatch watch(45.0);
  Keyboard keys;
  PanelReading stuck = fresh(512);
  stuck.controls.bell = true;  // held since before it began: no press is counted
  for (double s = 0.0; s < 30.0; s += kFrame_s) watch.look(stuck, keys, kFrame_s);
  watch.look({.link = PanelLink::absent}, keys, kFrame_s);
  stuck.controls.power = 200;  // another board, another place
  for (double s = 0.0; s < 16.0; s += kFrame_s) watch.look(stuck, keys, kFrame_s);
  EXPECT_TRUE(watch.idle());
}

TEST(TramIdleWatch, NoughtSecondsMeansNever) {
  IdleWatch watch(0.0);
  rest(watch, 200.0);
  EXPECT_FALSE(watch.idle());
}

class Scripted final : public PanelInput {
 public:
  Scripted(PanelReading& reading, Outputs& shown) : reading_(reading), shown_(shown) {}
  PanelReading poll() override { return reading_; }
  void show(const Outputs& outputs, const char*) override { shown_ = outputs; }

 private:
  PanelReading& reading_;
  Outputs& shown_;
};

// A game with a noisy box, left alone.
struct Hall {
  PanelReading reading = fresh(200);
  Outputs shown;
  Chance chance{4};
  int frames = 0;
  Game game{std::make_unique<Scripted>(reading, shown), {.seed = 1}};

  void leave_alone(double seconds) {
    for (double s = 0.0; s < seconds; s += kFrame_s) {
      reading.controls.power = noisy(200, chance, ++frames);
      game.frame(kFrame_s);
    }
  }
};

TEST(TramAttract, LeftAloneTheTramDrivesItselfOnTheTimetable) {
  Hall hall;
  hall.leave_alone(kIdle_s - 1.0);
  EXPECT_FALSE(hall.game.attract());
  EXPECT_EQ(hall.game.shift().motion().position_m, kStops[0].mark_m);
  hall.leave_alone(2.0);
  EXPECT_TRUE(hall.game.attract());
  EXPECT_EQ(driver_text(hall.game), "the tram drives itself");
  hall.leave_alone(120.0);
  EXPECT_TRUE(hall.game.attract());
  EXPECT_TRUE(hall.game.shift().records()[1].served);
  EXPECT_EQ(hall.game.shift().tally().reds_passed, 0);
}

TEST(TramAttract, AfterItsShiftAnotherOneBegins) {
  Hall hall;
  hall.leave_alone(kIdle_s + 560.0);
  EXPECT_TRUE(hall.game.attract());
  EXPECT_LT(hall.game.shift().time_s(), 100.0);
}

TEST(TramAttract, APressEndsItAndIsAnsweredInTheSameFrame) {
  Hall hall;
  hall.leave_alone(kIdle_s + 70.0);
  ASSERT_TRUE(hall.game.attract());
  ASSERT_GT(hall.game.shift().motion().position_m, kStops[0].mark_m);
  hall.reading.controls.door_presses = 1;
  hall.game.frame(kFrame_s);
  EXPECT_FALSE(hall.game.attract());
  EXPECT_GT(hall.shown.door_lamp, 0);
  EXPECT_EQ(hall.game.shift().motion().position_m, kStops[0].mark_m);
  EXPECT_LT(hall.game.shift().time_s(), 0.1);
}

TEST(TramAttract, ItGoesOnWithoutAnyPanel) {
  Game game(no_panel(), {.seed = 2, .attract_after_s = 5.0});
  for (double s = 0.0; s < 60.0; s += kFrame_s) game.frame(kFrame_s);
  EXPECT_TRUE(game.attract());
  EXPECT_GT(game.shift().motion().position_m, kStops[0].mark_m);
  game.keyboard().notice();
  game.frame(kFrame_s);
  EXPECT_FALSE(game.attract());
}

TEST(TramGameSeeds, OneSeedGivesOneEveningHoweverOftenItIsPlayed) {
  const auto play = [](std::uint64_t seed) {
    Game game(no_panel(), {.seed = seed, .attract_after_s = 1.0});
    for (double s = 0.0; s < 200.0; s += kFrame_s) game.frame(kFrame_s);
    return game.shift().motion().position_m * 1e3 + game.shift().weather().wet;
  };
  EXPECT_EQ(play(5), play(5));
  EXPECT_NE(play(5), play(6));
}

// Each state of the controller with what an attendant may meet in it.
std::vector<PanelReading> troubles() {
  const std::string port = "/dev/ttyACM0";
  const std::string box = "127.0.0.1:7000";
  return {
      {.link = PanelLink::absent, .where = port, .trouble = port + ": No such file or directory"},
      {.link = PanelLink::absent, .where = port, .trouble = port + ": Permission denied"},
      {.link = PanelLink::absent, .where = port, .trouble = port + ": Device or resource busy"},
      {.link = PanelLink::absent, .where = box, .trouble = box + ": Connection refused"},
      {.link = PanelLink::silent, .where = port},
      {.link = PanelLink::silent, .where = box, .bad_lines = 40},
      {.link = PanelLink::stale, .where = port},
      {.link = PanelLink::stale, .where = "/a/very/long/path/to/some/place/where/a/panel/is"},
  };
}

TEST(TramAttendantWords, EveryTroubleHasStepsThatFitOnTheCard) {
  for (const PanelReading& reading : troubles()) {
    const Advice advice = advice_for(reading);
    EXPECT_EQ(advice.steps.size(), 3u) << advice.meaning;
    EXPECT_LE(advice.meaning.size(), kStepLength) << advice.meaning;
    for (const std::string& step : advice.steps) EXPECT_LE(step.size(), kStepLength) << step;
  }
}

TEST(TramAttendantWords, TheStatesAreNamedAndTheSystemsReasonLeadsToItsOwnRemedy) {
  const auto all = troubles();
  EXPECT_EQ(advice_for(all[4]).how_it_is, "controller silent");
  EXPECT_EQ(advice_for(all[6]).how_it_is, "controller stale");
  EXPECT_NE(advice_for(all[0]).steps[0].find("USB plug"), std::string::npos);
  EXPECT_NE(advice_for(all[1]).steps[2].find("usermod"), std::string::npos);
  EXPECT_NE(advice_for(all[2]).steps[1].find("fuser"), std::string::npos);
  EXPECT_NE(advice_for(all[3]).steps[0].find("understudy serve"), std::string::npos);
  EXPECT_NE(advice_for(all[5]).meaning.find("40 lines"), std::string::npos);
}

TEST(TramAttendantWords, AllIsWellNeedsNoSteps) {
  EXPECT_EQ(advice_for(fresh(512)).how_it_is, "controller fresh");
  EXPECT_TRUE(advice_for(fresh(512)).steps.empty());
  EXPECT_TRUE(advice_for({}).steps.empty());  // no panel was named: the keyboard is meant
}

}  // namespace
}  // namespace understudy::tram
