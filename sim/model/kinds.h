// What is fixed about each kind of control and output: its word, the parts that lines can carry,
// the parts that a hand can move, and what the board's program has to read for it. A new kind is a
// row here; what it does stands in sim/controls or sim/board, its keys in sim/panel.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/model/panel_description.h"

namespace understudy {

// "pot", "button"... and "lamp", "rgb"...: as in panel files.
std::string_view kind_word(ControlKind kind);
std::string_view kind_word(OutputKind kind);

// The parts of it that stand in lines, as NAME.part; one empty word where it is NAME alone. A stick
// that does not press has two.
std::span<const std::string_view> line_parts(const ControlDescription& control);
std::span<const std::string_view> line_parts(const OutputDescription& output);
// "stick" and "x" -> "stick.x"; the name alone where the part is empty.
std::string part_name(std::string_view name, std::string_view part);

// The range and words of one part. REQUIRES: part < line_parts().size()
const Sends& sends_of(const ControlDescription& control, std::size_t part);
const Sends& sends_of(const OutputDescription& output, std::size_t part);

// How a hand moves one part of a control.
enum class HandWay : std::uint8_t {
  kSlides,   // stays anywhere between both ends
  kPlaces,   // stays at one of some places
  kPresses,  // springs back
  kToggles,  // stays at either end
  kTurns,    // round and round: an action says how far, not where to; 1'000'000 is one turn
};
struct HandPart {
  std::string_view name;  // empty: the control itself
  HandWay way = HandWay::kSlides;
};
// What a hand can move of it, in the order of HandAction::part: none of a sensor.
std::span<const HandPart> hand_parts(const ControlDescription& control);
// Where a part lies when nobody holds it, in ppm of its travel (a pot: where it lies at power-on).
std::int32_t rest_ppm(const ControlDescription& control, std::size_t hand_part);

// The position of a selector at a place counted from 0, and the place nearest to a position.
// REQUIRES: places > 1; 0 <= place < places
std::int32_t place_ppm(std::int64_t place, std::int64_t places);
std::int64_t place_at(std::int64_t ppm, std::int64_t places);
// How far so many detents turn, to the nearest millionth of a turn. REQUIRES: detents > 0; at most
// a thousand turns
std::int32_t turn_ppm(std::int64_t clicks, std::int64_t detents);

// How many pins of the board it takes, without those of a matrix.
std::size_t pins_needed(const ControlDescription& control);
std::size_t pins_needed(const OutputDescription& output);
// Whether the n-th of them goes to the converter.
bool is_analogue_pin(const ControlDescription& control, std::size_t n);

// One reading of the board's program: it reads all channels of all controls in this order.
struct Channel {
  std::uint16_t control = 0;
  std::uint8_t index = 0;  // among those of its control, in the order of its pins
  bool analogue = false;
  friend bool operator==(const Channel&, const Channel&) = default;
};
// An encoder whose program counts edges has one channel: the count.
std::vector<Channel> channels_of(const PanelDescription& panel);

}  // namespace understudy
