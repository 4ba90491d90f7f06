// Input as it should be: never waits, takes every line that has come, believes only whole lines
// with the right number of fields, counts presses between frames, knows how old its news is, comes
// back by itself after a kicked cable, and turns the lamps off when the game ends. The work is done
// by the panel reader that any game may copy; this file gives the fields names.
#include "protocol/readers/panel_reader.h"

#include "scenarios/tram/game/input/panel_input.h"

namespace understudy::tram {

namespace {

// The order of the fields in the line to the game, as in tram.panel.toml.
enum Field : size_t { kPower, kHeater, kBell, kDoors, kSander, kFieldCount };

class CarefulPanel final : public PanelInput {
 public:
  explicit CarefulPanel(const std::string& address) : reader_(kFieldCount, address.c_str()) {}

  PanelReading poll() override {
    reader_.poll();
    PanelReading reading{.link = link(),
                         .trouble = reader_.trouble,
                         .good_lines = reader_.good_lines,
                         .bad_lines = reader_.bad_lines};
    // Until the first good line every value is 0, and 0 is a handle pulled to full brake.
    if (reading.link == PanelLink::silent || reading.link == PanelLink::absent) return reading;
    reading.controls = {.power = reader_.value(kPower),
                        .heater = reader_.value(kHeater),
                        .bell = reader_.down(kBell),
                        .sander = reader_.down(kSander),
                        .bell_presses = reader_.pressed(kBell),
                        .door_presses = reader_.pressed(kDoors)};
    return reading;
  }

  void show(const Lamps& lamps) override {
    reader_.set_lamps({lamps.signal_red, lamps.signal_amber, lamps.signal_green, lamps.door_lamp});
  }

 private:
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

  PanelReader reader_;
};

class NoPanel final : public PanelInput {
 public:
  PanelReading poll() override { return {.trouble = "no panel was named"}; }
  void show(const Lamps&) override {}
};

}  // namespace

std::unique_ptr<PanelInput> careful_panel(const std::string& address) {
  return std::make_unique<CarefulPanel>(address);
}

std::unique_ptr<PanelInput> no_panel() {
  return std::make_unique<NoPanel>();
}

}  // namespace understudy::tram
