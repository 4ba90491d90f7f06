// The game's input: change of hands between panel and keyboard with time handed in, and what the
// careful and the naive reader make of the same bytes out of a pseudo-terminal.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <stdlib.h>
#include <termios.h>
#include <unistd.h>

#include <algorithm>
#include <memory>
#include <string>
#include <string_view>

#include "scenarios/tram/game/game.h"
#include "scenarios/tram/game/input/desk.h"

namespace understudy::tram {
namespace {

constexpr double kFrame_s = 1.0 / 60.0;

PanelReading fresh(int power) {
  return {.controls = {.power = power}, .link = PanelLink::fresh};
}

// Merges the same reading for some frames; returns the last state.
DeskState run(Desk& desk, Keyboard& keys, const PanelReading& panel, double seconds) {
  DeskState state;
  for (double done = 0.0; done < seconds; done += kFrame_s) {
    state = desk.merge(panel, keys, kFrame_s);
  }
  return state;
}

TEST(TramDesk, WithoutAPanelTheKeyboardDrives) {
  Desk desk;
  Keyboard keys;
  keys.press(Action::more_power);
  const DeskState state = run(desk, keys, {}, 0.5);
  EXPECT_EQ(state.driver, Driver::keyboard);
  EXPECT_GT(state.controls.power, 700);
}

TEST(TramDesk, AFreshPanelTakesTheHandleAtOnce) {
  Desk desk;
  Keyboard keys;
  const DeskState state = desk.merge(fresh(800), keys, kFrame_s);
  EXPECT_EQ(state.driver, Driver::panel);
  EXPECT_EQ(state.controls.power, 800);
}

TEST(TramDesk, FromAPanelThatIsNotFreshNothingIsTakenAndNobodyDrives) {
  for (const PanelLink link : {PanelLink::stale, PanelLink::silent, PanelLink::absent}) {
    Desk desk;
    Keyboard keys;
    PanelReading panel{.controls = {.power = 800, .bell = true, .sander = true, .door_presses = 1},
                       .link = PanelLink::fresh};
    EXPECT_TRUE(desk.merge(panel, keys, kFrame_s).controls.bell);
    panel.link = link;
    const DeskState state = desk.merge(panel, keys, kFrame_s);
    EXPECT_EQ(state.driver, Driver::nobody);
    EXPECT_FALSE(state.controls.bell);
    EXPECT_FALSE(state.controls.sander);
    EXPECT_EQ(state.controls.door_presses, 0);
  }
}

TEST(TramDesk, APanelThatReturnsDrivesAgainAtOnce) {
  Desk desk;
  Keyboard keys;
  desk.merge(fresh(800), keys, kFrame_s);
  PanelReading gone = fresh(800);
  gone.link = PanelLink::absent;
  EXPECT_EQ(run(desk, keys, gone, 3.0).driver, Driver::nobody);
  const DeskState state = desk.merge(fresh(600), keys, kFrame_s);
  EXPECT_EQ(state.driver, Driver::panel);
  EXPECT_EQ(state.controls.power, 600);
}

TEST(TramDesk, AKeyTakesOverWithoutAJumpAndTheMovedHandleTakesBack) {
  Desk desk;
  Keyboard keys;
  desk.merge(fresh(800), keys, kFrame_s);
  keys.press(Action::less_power);
  DeskState state = desk.merge(fresh(800), keys, kFrame_s);
  EXPECT_EQ(state.driver, Driver::keyboard);
  EXPECT_NEAR(state.controls.power, 800, 10);
  keys.release(Action::less_power);
  EXPECT_EQ(desk.merge(fresh(810), keys, kFrame_s).driver, Driver::keyboard);  // a noisy pot
  state = desk.merge(fresh(900), keys, kFrame_s);
  EXPECT_EQ(state.driver, Driver::panel);
  EXPECT_EQ(state.controls.power, 900);
}

TEST(TramDesk, PressesOfBothHandsCount) {
  Desk desk;
  Keyboard keys;
  keys.press(Action::doors);
  PanelReading panel = fresh(512);
  panel.controls.door_presses = 2;
  EXPECT_EQ(desk.merge(panel, keys, kFrame_s).controls.door_presses, 3);
  EXPECT_EQ(desk.merge(fresh(512), keys, kFrame_s).controls.door_presses, 0);
}

TEST(TramKeyboard, TheHandleMovesWithTimeNotWithFrames) {
  Keyboard slow;
  Keyboard fast;
  slow.press(Action::more_power);
  fast.press(Action::more_power);
  Controls of_slow;
  Controls of_fast;
  for (int frame = 0; frame < 20; ++frame) of_slow = slow.take(0.05);
  for (int frame = 0; frame < 144; ++frame) of_fast = fast.take(1.0 / 144.0);
  EXPECT_NEAR(of_slow.power, of_fast.power, 1);
}

// A panel whose readings a test writes.
class ScriptedPanel final : public PanelInput {
 public:
  ScriptedPanel(PanelReading& reading, Outputs& shown) : reading_(reading), shown_(shown) {}
  PanelReading poll() override { return reading_; }
  void show(const Outputs& outputs, const char*) override { shown_ = outputs; }

 private:
  PanelReading& reading_;
  Outputs& shown_;
};

double position_after_20_s(double frame_s) {
  PanelReading reading = fresh(850);
  Outputs shown;
  Game game(std::make_unique<ScriptedPanel>(reading, shown), {.seed = 1});
  for (double done = 0.0; done < 20.0 - frame_s / 2.0; done += frame_s) game.frame(frame_s);
  return game.shift().motion().position_m;
}

TEST(TramGame, TheTramGoesAsFarAtThirtyFramesASecondAsAtTwoHundredAndForty) {
  const double at_60 = position_after_20_s(1.0 / 60.0);
  EXPECT_GT(at_60, 150.0);
  EXPECT_NEAR(position_after_20_s(1.0 / 30.0), at_60, 0.3);
  EXPECT_NEAR(position_after_20_s(1.0 / 240.0), at_60, 0.3);
}

TEST(TramGame, APressInAFrameTooShortForAStepIsKeptForTheNext) {
  PanelReading reading = fresh(200);
  Outputs shown;
  Game game(std::make_unique<ScriptedPanel>(reading, shown), {.seed = 1});
  reading.controls.door_presses = 1;
  game.frame(0.001);
  EXPECT_EQ(shown.door_lamp, 0);
  reading.controls.door_presses = 0;
  game.frame(0.016);
  EXPECT_GT(shown.door_lamp, 0);
}

TEST(TramGame, ALongFrameIsNotCaughtUp) {
  PanelReading reading = fresh(512);
  Outputs shown;
  Game game(std::make_unique<ScriptedPanel>(reading, shown), {.seed = 1});
  game.frame(60.0);
  EXPECT_LE(game.shift().time_s(), kLongestFrame_s + kShiftStepSeconds);
}

// The box's end of a pseudo-terminal in raw mode.
class BoxEnd {
 public:
  BoxEnd() : file_(posix_openpt(O_RDWR | O_NOCTTY)) {
    grantpt(file_);
    unlockpt(file_);
    termios raw{};
    tcgetattr(file_, &raw);
    cfmakeraw(&raw);
    tcsetattr(file_, TCSANOW, &raw);
  }
  ~BoxEnd() { close(file_); }
  BoxEnd(const BoxEnd&) = delete;
  BoxEnd& operator=(const BoxEnd&) = delete;

  std::string path() const { return ptsname(file_); }
  // All that the game has written so far.
  std::string heard() const {
    char bytes[4096];
    pollfd waiting{.fd = file_, .events = POLLIN, .revents = 0};
    if (::poll(&waiting, 1, 0) != 1) return "";
    const ssize_t got = read(file_, bytes, sizeof bytes);
    return {bytes, static_cast<std::size_t>(std::max<ssize_t>(got, 0))};
  }
  void says(std::string_view bytes) const {
    ASSERT_EQ(write(file_, bytes.data(), bytes.size()), static_cast<ssize_t>(bytes.size()));
  }

 private:
  int file_;
};

// A line cut in two by a read: 512 becomes 51 and 2, as an unlucky chunk makes it.
TEST(TramReaders, ATornLineDeceivesTheNaiveReaderAndNotTheCarefulOne) {
  for (const bool careful : {false, true}) {
    BoxEnd box;
    const auto panel = careful ? careful_panel(box.path()) : naive_panel(box.path());
    panel->poll();
    box.says("\n512,300,0,0,0\n");
    panel->poll();
    if (!careful) panel->poll();  // one line a frame
    EXPECT_EQ(panel->poll().controls.power, 512);
    box.says("51");
    panel->poll();
    box.says("2,300,0,0,0\n");
    EXPECT_EQ(panel->poll().controls.power, careful ? 512 : 2);
  }
}

TEST(TramReaders, TheCarefulReaderTakesAllLinesOfAFrameTheNaiveOneFallsBehind) {
  for (const bool careful : {false, true}) {
    BoxEnd box;
    const auto panel = careful ? careful_panel(box.path()) : naive_panel(box.path());
    panel->poll();
    box.says("\n512,300,0,0,0\n512,300,0,0,0\n");
    for (int frame = 0; frame < 3; ++frame) panel->poll();
    box.says("512,300,0,1,0\n512,300,0,0,0\n");
    const PanelReading first = panel->poll();
    EXPECT_EQ(first.controls.door_presses, 1);
    // The careful reader is up to date in one frame; the naive one still has a line waiting.
    const PanelReading second = panel->poll();
    EXPECT_EQ(first.good_lines == second.good_lines, careful);
  }
}

// A panel with its first lines taken, the handle in the middle.
std::unique_ptr<PanelInput> connected(const BoxEnd& box) {
  auto panel = careful_panel(box.path());
  panel->poll();
  box.says("\n512,300,0,0,0\n");
  EXPECT_EQ(panel->poll().link, PanelLink::fresh);
  return panel;
}

TEST(TramReaders, ALineOfTheRightShapeWithImpossibleNumbersChangesNothing) {
  BoxEnd box;
  const auto panel = connected(box);
  for (const char* odd : {"5000,300,0,0,0\n", "512,-3,0,0,0\n", "512,300,7,0,0\n"}) {
    box.says(odd);
    const PanelReading reading = panel->poll();
    EXPECT_EQ(reading.controls.power, 512) << odd;
    EXPECT_FALSE(reading.controls.bell) << odd;
    EXPECT_EQ(reading.controls.bell_presses, 0) << odd;
  }
  box.says("512,300,1,0,0\n");
  EXPECT_TRUE(panel->poll().controls.bell);
}

TEST(TramReaders, AHelloIsNoInputAndSpoilsNone) {
  BoxEnd box;
  const auto panel = careful_panel(box.path());
  panel->poll();
  box.says("tail,of,a,line\ntram-desk 1\n512,300,0,0,0\n");
  const PanelReading reading = panel->poll();
  EXPECT_EQ(reading.link, PanelLink::fresh);
  EXPECT_EQ(reading.controls.power, 512);
  EXPECT_EQ(reading.good_lines, 1);
}

// Says the same line again and again, as a box does, and counts until the game has come up to it.
int lines_until(const BoxEnd& box, PanelInput& panel, const std::string& line, int power) {
  constexpr int kLines_max = 20000;
  for (int lines = 1; lines <= kLines_max; ++lines) {
    box.says(line);
    if (panel.poll().controls.power == power) return lines;
  }
  ADD_FAILURE() << "never " << power;
  return kLines_max;
}

TEST(TramReaders, OneWildLineFromAWornTrackDoesNotMoveTheHandle) {
  BoxEnd box;
  const auto panel = connected(box);
  box.says("0,300,0,0,0\n");
  EXPECT_NEAR(panel->poll().controls.power, 512, 160);
  box.says("512,300,0,0,0\n");
  EXPECT_NEAR(panel->poll().controls.power, 512, 160);
}

// A pot that gives 60 to 960 reaches both ends once a hand has been there: 512 above the middle at
// 960 is full, where the bare number would be 94 % of it.
TEST(TramReaders, TheEndsOfAPotAreLearnt) {
  BoxEnd box;
  const auto panel = connected(box);
  EXPECT_GT(lines_until(box, *panel, "960,300,0,0,0\n", kPotTop), 1);
  EXPECT_GT(lines_until(box, *panel, "60,300,0,0,0\n", 0), 1);
  EXPECT_GT(lines_until(box, *panel, "512,300,0,0,0\n", 512), 1);
}

TEST(TramReaders, SixNumbersGoToThePanelAndSixNoughtsAtTheEnd) {
  BoxEnd box;
  auto panel = connected(box);
  panel->show({.signal_red = 1,
               .signal_amber = 2,
               .signal_green = 3,
               .door_lamp = 4,
               .speed_gauge = 5,
               .timetable = 130},
              "drive");
  panel->poll();
  EXPECT_EQ(box.heard(), "1,2,3,4,5,130\n");
  panel.reset();
  EXPECT_EQ(box.heard(), "0,0,0,0,0,0\n");
}

TEST(TramReaders, APortThatIsNotThereIsSaidInTheSystemsWords) {
  const auto panel = careful_panel("/nowhere/at/all");
  const PanelReading reading = panel->poll();
  EXPECT_EQ(reading.link, PanelLink::absent);
  EXPECT_NE(reading.trouble.find("No such file"), std::string::npos);
  EXPECT_EQ(naive_panel("/nowhere/at/all")->poll().link, PanelLink::absent);
}

}  // namespace
}  // namespace understudy::tram
