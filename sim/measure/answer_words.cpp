// Words to fields, and fields to happenings.
#include "sim/measure/answer_words.h"

#include <algorithm>
#include <charconv>

#include "sim/base/units.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

// A slide has left where it rested, or has come to a number, by this part of its span.
constexpr std::int64_t kNearPercent = 2;
// Afterwards it rests again when it stayed within that for so long.
constexpr Duration kRestsAfter = milliseconds(300);
constexpr std::int64_t kPpm = 1'000'000;

struct Said {
  std::string_view name;
  std::string_view does;
};

Said split(std::string_view text) {
  const std::size_t space = std::min(text.find(' '), text.size());
  return {text.substr(0, space), text.substr(std::min(space + 1, text.size()))};
}

std::int64_t distance(std::int64_t a, std::int64_t b) {
  return a < b ? b - a : a - b;
}

std::optional<std::int64_t> whole_number(std::string_view text) {
  std::int64_t number = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return number;
}

// How the part of a control answers to the words.
bool is_contact(const ControlDescription& control, std::size_t part) {
  return control.kind == ControlKind::kButton || control.kind == ControlKind::kSwitch ||
         (control.kind == ControlKind::kStick && part == 2);
}

bool slides(const ControlDescription& control, std::size_t part) {
  return control.kind == ControlKind::kPot || control.kind == ControlKind::kSensor ||
         (control.kind == ControlKind::kStick && part < 2);
}

std::optional<Trigger> trigger_of(std::string_view does, const ControlDescription& control,
                                  std::size_t part) {
  const Sends& sends = sends_of(control, part);
  const auto make = [&](TriggerKind kind, std::int64_t number = 0) {
    return Trigger(kind, sends.low, sends.high, number);
  };
  if (is_contact(control, part)) {
    if (does == "up") return make(TriggerKind::kUp);
    if (does == "down" || does == "press") return make(TriggerKind::kDown);
    return std::nullopt;
  }
  if (does.starts_with("to ") && slides(control, part)) {
    const auto ppm = parse_quantity(does.substr(3), Unit::kShare);
    if (!ppm) return std::nullopt;
    const auto way = static_cast<__int128>(sends.high - sends.low) * *ppm / kPpm;
    return make(TriggerKind::kReaches, sends.low + static_cast<std::int64_t>(way));
  }
  if (does.starts_with("is ") && control.kind == ControlKind::kSelector) {
    const std::string_view value = does.substr(3);
    const auto word = std::find(sends.words.begin(), sends.words.end(), value);
    if (word != sends.words.end()) return make(TriggerKind::kReaches, word - sends.words.begin());
    if (const auto number = whole_number(value)) return make(TriggerKind::kReaches, *number);
    return std::nullopt;
  }
  if (does != "moves" && does != "turns" && does != "changes") return std::nullopt;
  return make(slides(control, part) ? TriggerKind::kMoves : TriggerKind::kChanges);
}

bool names(std::string_view said, std::string_view name, std::string_view part) {
  return said == name || said == part_name(name, part);
}

}  // namespace

std::string to_game_name(const Panel& panel, std::size_t field) {
  return panel.to_game_fields[field].name;
}

std::string to_panel_name(const Panel& panel, std::size_t field) {
  return panel.to_panel_fields[field].name;
}

std::int64_t Trigger::near() const {
  const std::int64_t span = distance(low_, high_);
  return span / 100 * kNearPercent + span % 100 * kNearPercent / 100;
}

bool Trigger::take_slide(Instant t, std::int64_t number) {
  if (kind_ == TriggerKind::kReaches) {
    const bool was_there = there_;
    there_ = distance(number, number_) <= near();
    return there_ && !was_there;
  }
  if (distance(number, anchor_) <= std::max<std::int64_t>(near(), 1)) {
    if (moving_ && t - moved_at_ >= kRestsAfter) moving_ = false;
    return false;
  }
  const bool begins = !moving_ || t - moved_at_ >= kRestsAfter;
  moving_ = true;
  moved_at_ = t;
  anchor_ = number;
  return begins;
}

bool Trigger::take(Instant t, std::int64_t number) {
  const bool known = known_;
  const std::int64_t last = last_;
  known_ = true;
  last_ = number;
  if (!known) {
    anchor_ = number;
    moving_ = false;
    there_ = distance(number, number_) <= near();
    return false;
  }
  switch (kind_) {
    case TriggerKind::kDown:
      return number == high_ && last != high_;
    case TriggerKind::kUp:
      return number == low_ && last != low_;
    case TriggerKind::kChanges:
      return number != last;
    case TriggerKind::kMoves:
    case TriggerKind::kReaches:
      return take_slide(t, number);
  }
  return false;
}

std::vector<TriggerOf> triggers_of(std::string_view when, const Panel& panel) {
  const Said said = split(when);
  std::vector<TriggerOf> triggers;
  for (std::size_t i = 0; i < panel.to_game_sources.size(); ++i) {
    const FieldSource& source = panel.to_game_sources[i];
    const ControlDescription& control = panel.description.controls[source.part_of];
    if (!names(said.name, control.name, line_parts(control)[source.part])) continue;
    if (auto trigger = trigger_of(said.does, control, source.part))
      triggers.push_back({static_cast<std::uint16_t>(i), *trigger});
  }
  return triggers;
}

std::optional<Expectation> expectation_of(std::string_view expect, const Panel& panel) {
  const Said said = split(expect);
  Expectation expected;
  for (std::size_t i = 0; i < panel.to_panel_sources.size(); ++i) {
    const FieldSource& source = panel.to_panel_sources[i];
    const OutputDescription& output = panel.description.outputs[source.part_of];
    if (names(said.name, output.name, line_parts(output)[source.part]))
      expected.fields.push_back(static_cast<std::uint16_t>(i));
  }
  if (expected.fields.empty()) return std::nullopt;
  if (said.does == "lit" || said.does == "sounds") {
    expected.kind = ShowsKind::kLit;
  } else if (said.does == "dark" || said.does == "silent") {
    expected.kind = ShowsKind::kDark;
  } else if (said.does.starts_with("shows ")) {
    const auto number = whole_number(said.does.substr(6));
    if (!number) return std::nullopt;
    expected.kind = ShowsKind::kNumber;
    expected.number = *number;
  }
  return expected;
}

bool is_shown(const Expectation& expected, std::span<const std::int64_t> numbers,
              const Panel& panel) {
  const auto dark = [&](std::uint16_t field) {
    const FieldSource& source = panel.to_panel_sources[field];
    return numbers[field] == sends_of(panel.description.outputs[source.part_of], source.part).low;
  };
  const bool all_dark = std::all_of(expected.fields.begin(), expected.fields.end(), dark);
  switch (expected.kind) {
    case ShowsKind::kLit:
      return !all_dark;
    case ShowsKind::kDark:
      return all_dark;
    case ShowsKind::kNumber:
      return numbers[expected.fields.front()] == expected.number;
    case ShowsKind::kChanges:
      return false;
  }
  return false;
}

}  // namespace understudy
