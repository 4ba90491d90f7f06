// A panel file read anew while a session runs: what changes at once, what restarts the board, what
// waits for the next opening of the port.
#include <gtest/gtest.h>

#include "sim/model/panel_change.h"
#include "sim/session/session.h"
#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

const std::string kDesk = R"(
panel = "Desk"
[manners]
loop = "20 ms"
[[control]]
name = "power"
kind = "pot"
[[control]]
name = "bell"
kind = "button"
sends = [0, 1]
[[output]]
name = "lamp"
kind = "lamp"
)";
const std::string kHorn = "[[control]]\nname = \"horn\"\nkind = \"button\"\nsends = [0, 1]\n";

struct DeskRun {
  Session session{7};
  SessionOutputs outputs;
  std::string bytes;
  std::vector<Note> notes;

  DeskRun() { session.add_seat({.name = "desk", .panel = panel_of(kDesk)}); }
  void step(int until_ms, std::vector<SeatInput> inputs = {}) {
    session.step(at_ms(until_ms), inputs, outputs);
    bytes += outputs.seats[0].bytes;
    notes.insert(notes.end(), outputs.seats[0].notes.begin(), outputs.seats[0].notes.end());
  }
  void open(int ms) {
    step(ms, {{0, {at_ms(ms), LinkOpened{.dtr = true, .takes_at_once = true}}}});
  }
  void reload(int ms, const std::string& text) {
    step(ms, {{0, {at_ms(ms), PanelReloaded{panel_of(text)}}}});
  }
  [[nodiscard]] std::size_t restarts() const {
    std::size_t count = 0;
    for (const Note& note : notes) count += note.kind == NoteKind::kRestarted ? 1 : 0;
    return count;
  }
};

std::string with(std::string text, const std::string& what, const std::string& by) {
  return text.replace(text.find(what), what.size(), by);
}

TEST(Reload, OtherLooksChangeAtOnceAndNoByteAndNoFingerprint) {
  DeskRun plain;
  DeskRun other;
  for (DeskRun* run : {&plain, &other}) run->open(100);
  other.reload(3'011, with(kDesk, "kind = \"pot\"", "kind = \"pot\"\nkeys = { more = \"W\" }"));
  EXPECT_EQ(other.session.device(0).panel().description.controls[0].keys.more, "W");
  for (DeskRun* run : {&plain, &other}) run->step(6'000);
  EXPECT_EQ(plain.bytes, other.bytes);
  EXPECT_FALSE(plain.bytes.empty());
  EXPECT_EQ(plain.session.fingerprint(), other.session.fingerprint());
}

TEST(Reload, AnotherControlRestartsTheBoardAndTheHandStaysWhereItIs) {
  DeskRun run;
  run.open(100);
  run.step(200, {{0, {at_ms(200), HandAction{.control = 0, .to_ppm = 400'000}}},
                 {0, {at_ms(200), HandAction{.control = 1, .to_ppm = kFullTravel}}}});
  run.step(3'000);
  run.step(3'001, {{0, {at_ms(3'001), BytesFromGame{"200\n"}}}});
  run.step(3'500);
  ASSERT_EQ(run.session.device(0).output_number(0), 200);
  const std::size_t restarts = run.restarts();
  run.reload(4'000, with(kDesk, "[[control]]", kHorn + "[[control]]"));
  const Device& device = run.session.device(0);
  EXPECT_EQ(run.restarts(), restarts + 1);
  EXPECT_TRUE(device.starting());
  EXPECT_EQ(device.output_number(0), 0);
  ASSERT_EQ(run.outputs.seats[0].changes.size(), 1U);
  EXPECT_EQ(run.outputs.seats[0].changes[0].number, 0);
  EXPECT_EQ(device.position_ppm(0), 0);  // the horn
  EXPECT_EQ(device.position_ppm(1), 400'000);
  EXPECT_EQ(device.position_ppm(2), kFullTravel);
  run.bytes.clear();
  run.step(8'000);
  EXPECT_NE(run.bytes.find("\n0,409,1\n"), std::string::npos) << run.bytes.substr(0, 200);
}

TEST(Reload, AControlThatIsGoneTakesItsQueuedHandsWithIt) {
  const auto before = panel_of(kDesk);
  const auto after =
      panel_of(with(kDesk, "name = \"power\"\nkind = \"pot\"", "name = \"horn\"\nkind = \"pot\""));
  const HandAction power{.control = 0, .to_ppm = 1};
  const HandAction bell{.control = 1, .to_ppm = 2};
  EXPECT_EQ(hand_on(after->description, power, before->description), std::nullopt);
  EXPECT_EQ(hand_on(after->description, bell, before->description), bell);
  const auto more = panel_of(with(kDesk, "[[control]]", kHorn + "[[control]]"));
  const auto moved = hand_on(more->description, bell, before->description);
  ASSERT_TRUE(moved.has_value());
  EXPECT_EQ(moved->control, 2);
}

TEST(Reload, AnotherBaudWaitsForTheNextOpening) {
  DeskRun run;
  run.open(100);
  run.step(3'000);
  const std::size_t restarts = run.restarts();
  run.reload(3'001, kDesk + "[wire]\nbaud = 9600\n[host]\ndtr = \"nothing\"\n");
  run.step(4'000);
  EXPECT_EQ(run.restarts(), restarts);
  EXPECT_EQ(run.session.device(0).panel().description.wire.baud, 115'200);
  ASSERT_NE(run.session.device(0).waiting(), nullptr);
  run.step(4'100, {{0, {at_ms(4'100), LinkClosed{}}}});
  run.open(4'200);
  EXPECT_EQ(run.session.device(0).panel().description.wire.baud, 9'600);
  EXPECT_EQ(run.session.device(0).waiting(), nullptr);
  // DTR means nothing now; the board speaks at another baud, so it runs another program.
  EXPECT_EQ(run.restarts(), restarts + 1);
}

TEST(Reload, APlayerGoesOnWithTheNewPanelAndTheObserverKeepsItsCounts) {
  Session session(7);
  session.add_seat({.name = "desk", .panel = panel_of(kDesk), .play = PlayKind::kSweep});
  SessionOutputs outputs;
  session.step(at_ms(100), std::vector<SeatInput>{{0, {at_ms(100), LinkOpened{}}}}, outputs);
  session.step(at_ms(5'000), {}, outputs);
  const std::int64_t known = session.observer(0).traffic_to_game().counts().known;
  EXPECT_GT(known, 50);
  const auto panel = panel_of(with(kDesk, "[[control]]", kHorn + "[[control]]"));
  session.step(at_ms(30'000), std::vector<SeatInput>{{0, {at_ms(5'001), PanelReloaded{panel}}}},
               outputs);
  std::vector<bool> moved(3);
  for (const SeatInput& hand : outputs.played)
    moved[std::get<HandAction>(hand.input.what).control] = true;
  EXPECT_EQ(moved, std::vector<bool>(3, true));
  EXPECT_EQ(session.observer(0).traffic_to_game().numbers().size(), 3U);
  EXPECT_GT(session.observer(0).traffic_to_game().counts().known, known);
}

}  // namespace
}  // namespace understudy
