// What an [[answer]] means for the numbers in lines: when a control has done what `when` says, and
// whether outputs show what `expect` says. The panel loader has checked the words.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/time.h"
#include "sim/model/panel.h"

namespace understudy {

// What has to happen to a field to the game.
enum class TriggerKind : std::uint8_t {
  kDown,     // a contact closes: "press", "down"
  kUp,       // it opens
  kChanges,  // any other number: selectors, encoders, "turns"
  kMoves,    // leaves where it rested, by more than noise: pots, sticks, sensors
  kReaches,  // comes to a number, from elsewhere
};

// Fires as numbers come. A regular value.
class Trigger {
 public:
  Trigger(TriggerKind kind, std::int64_t low, std::int64_t high, std::int64_t number = 0)
      : kind_(kind), low_(low), high_(high), number_(number) {}

  // The field has this number from t on: true where that is what it waits for. The first number is
  // where it begins.
  bool take(Instant t, std::int64_t number);
  void interrupt() { known_ = false; }

 private:
  bool take_slide(Instant t, std::int64_t number);
  [[nodiscard]] std::int64_t near() const;
  TriggerKind kind_;
  std::int64_t low_;
  std::int64_t high_;
  std::int64_t number_;
  bool known_ = false;
  std::int64_t last_ = 0;
  std::int64_t anchor_ = 0;  // kMoves: where it rests
  Instant moved_at_;         // kMoves: when it was last beyond that
  bool there_ = false;       // kReaches
  bool moving_ = false;
};

// What is asked of an output's parts.
enum class ShowsKind : std::uint8_t { kLit, kDark, kChanges, kNumber };

struct Expectation {
  ShowsKind kind = ShowsKind::kChanges;
  std::vector<std::uint16_t> fields;  // places in Panel::to_panel_fields
  std::int64_t number = 0;            // kNumber
};

struct TriggerOf {
  std::uint16_t field = 0;  // place in Panel::to_game_fields
  Trigger trigger;
};

// "doors press": one trigger for each field that it speaks of; none where no line carries it.
std::vector<TriggerOf> triggers_of(std::string_view when, const Panel& panel);
// "door_lamp lit"; nothing where no line carries it.
std::optional<Expectation> expectation_of(std::string_view expect, const Panel& panel);

// Whether the numbers show it; kChanges never does by itself.
bool is_shown(const Expectation& expected, std::span<const std::int64_t> numbers,
              const Panel& panel);

// "bell", "stick.press": what a field of each direction is called.
std::string to_game_name(const Panel& panel, std::size_t field);
std::string to_panel_name(const Panel& panel, std::size_t field);

}  // namespace understudy
