// Input as it should be: the whole of what this game does between a home-made box and its rules.
// docs/good-input-code.md goes through it part by part and says what goes wrong without each.
// Bytes, lines and ports are the work of the panel reader, which any game may copy
// (protocol/readers/panel_reader.h); who drives when both panel and keyboard are there is desk.h's.
#include <cmath>

#include "protocol/readers/panel_reader.h"
#include "scenarios/tram/game/input/panel_input.h"

namespace understudy::tram {

namespace {

// The order of the fields in the line to the game, as in tram.panel.toml.
enum Field : size_t { kPower, kHeater, kBell, kDoors, kSander, kFieldCount };

// A hung board keeps its port open. One late line is no accident; half a second without one is.
constexpr int kStale_ms = 500;

// Where the ends of a pot are before a hand has been there; they widen to what really comes. Few
// pots send their whole range, and a guess of 0 and 1023 would never be corrected.
constexpr int kLowGuess = 100;
constexpr int kHighGuess = 923;
constexpr double kDeadEnds = 0.02;   // the last of the travel is full already
constexpr double kDeadMiddle = 0.1;  // a handle let go of stands near the middle, seldom on it

// Further than a hand moves between two lines. A worn track or an open wiper jumps as far, but is
// back within a line or two.
constexpr double kJump = 0.3;
constexpr long kJumpLines = 3;

// One axis that is believed at once while it moves as a hand does, and only after kJumpLines lines
// in a row where it has jumped.
class Believed {
 public:
  double take(double axis, long lines) {
    const bool jumped = known_ && std::abs(axis - value_) > kJump;
    if (jumped && doubted_since_ < 0) doubted_since_ = lines;
    if (jumped && lines - doubted_since_ < kJumpLines) return value_;
    known_ = true;
    doubted_since_ = -1;
    return value_ = axis;
  }
  void forget() { *this = {}; }

 private:
  double value_ = 0.0;
  long doubted_since_ = -1;  // the number of the line that jumped; -1: none did
  bool known_ = false;
};

class CarefulPanel final : public PanelInput {
 public:
  explicit CarefulPanel(const std::string& address)
      : where_(address), reader_(kFieldCount, address.c_str()) {
    reader_.stale_after_ms = kStale_ms;
    for (const Field pot : {kPower, kHeater}) {
      reader_.learn_ends(pot);
      reader_.dead_ends(pot, kDeadEnds);
      reader_.smooth(pot);  // One Euro: calm at rest, quick in motion
    }
    reader_.centre(kPower, kHandleMiddle, kDeadMiddle);
    begin_to_learn();
  }

  PanelReading poll() override {
    reader_.poll();  // takes every line that has come, and never waits for one
    PanelReading reading{.link = link(),
                         .where = where_,
                         .trouble = reader_.trouble,
                         .good_lines = reader_.good_lines,
                         .bad_lines = reader_.bad_lines};
    if (reading.link != PanelLink::fresh) {  // old news: what the hand does now, nobody knows
      handle_.forget();
      heater_.forget();
      if (reading.link != PanelLink::stale) begin_to_learn();  // another box may come back
      return reading;
    }
    if (!plausible()) {  // a line of our shape, and yet not from our box: as it was before
      begin_to_learn();
      reading.controls = last_;
      reading.controls.bell_presses = reading.controls.door_presses = 0;
      return reading;
    }
    const double handle = handle_.take(reader_.axis(kPower), reader_.good_lines);
    const double heater = heater_.take(reader_.axis(kHeater), reader_.good_lines);
    reading.controls = {.power = wire_number_of_handle(handle),
                        .heater = static_cast<int>(std::lround(kPotTop * heater)),
                        .bell = reader_.down(kBell),
                        .sander = reader_.down(kSander),
                        .bell_presses = reader_.pressed(kBell),  // edges of all lines of the frame
                        .door_presses = reader_.pressed(kDoors)};
    last_ = reading.controls;
    return reading;
  }

  void show(const Outputs& outputs, const char* doing) override {
    // Written when something changed, again twice a second, and as zeros when the game ends: the
    // reader sees to that.
    reader_.set_lamps({outputs.signal_red, outputs.signal_amber, outputs.signal_green,
                       outputs.door_lamp, outputs.speed_gauge, outputs.timetable});
    reader_.witness(doing, reader_.value(kPower), reader_.value(kHeater), reader_.value(kBell),
                    reader_.value(kDoors), reader_.value(kSander));
  }

 private:
  void begin_to_learn() {
    reader_.calibrate(kPower, kLowGuess, kHighGuess);
    reader_.calibrate(kHeater, kLowGuess, kHighGuess);
  }

  // Ranges of the fields. A number outside says that the bytes were hurt on their way, or that the
  // wrong box is plugged in.
  bool plausible() const {
    for (const Field pot : {kPower, kHeater}) {
      if (reader_.value(pot) < 0 || reader_.value(pot) > kPotTop) return false;
    }
    for (const Field contact : {kBell, kDoors, kSander}) {
      if (reader_.value(contact) != 0 && reader_.value(contact) != 1) return false;
    }
    return true;
  }

  // From -1 to 1 with the middle at rest, to the numbers that the rules know.
  static int wire_number_of_handle(double axis) {
    const double way = axis < 0.0 ? kHandleMiddle : kPotTop - kHandleMiddle;
    return kHandleMiddle + static_cast<int>(std::lround(axis * way));
  }

  PanelLink link() const {
    if (!reader_.trouble.empty()) return PanelLink::absent;
    switch (reader_.state()) {
      case PanelState::fresh:
        return PanelLink::fresh;
      case PanelState::stale:
        return PanelLink::stale;
      case PanelState::silent:
        break;
    }
    return PanelLink::silent;
  }

  std::string where_;
  PanelReader reader_;
  Believed handle_;
  Believed heater_;
  Controls last_;
};

class NoPanel final : public PanelInput {
 public:
  PanelReading poll() override { return {.trouble = "no panel was named"}; }
  void show(const Outputs&, const char*) override {}
};

}  // namespace

std::unique_ptr<PanelInput> careful_panel(const std::string& address) {
  return std::make_unique<CarefulPanel>(address);
}

std::unique_ptr<PanelInput> no_panel() {
  return std::make_unique<NoPanel>();
}

}  // namespace understudy::tram
