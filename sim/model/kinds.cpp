// The two tables of kinds.
#include "sim/model/kinds.h"

#include <algorithm>
#include <array>

#include "sim/base/check.h"

namespace understudy {
namespace {

using Parts = std::span<const std::string_view>;
using HandParts = std::span<const HandPart>;

constexpr std::array<std::string_view, 1> kWhole = {""};
constexpr std::array<std::string_view, 3> kStickParts = {"x", "y", "press"};
constexpr std::array<std::string_view, 2> kEncoderParts = {"count", "step"};
constexpr std::array<std::string_view, 3> kRgbParts = {"r", "g", "b"};

constexpr std::array<HandPart, 1> kSlides = {{{"", HandWay::kSlides}}};
constexpr std::array<HandPart, 1> kPresses = {{{"", HandWay::kPresses}}};
constexpr std::array<HandPart, 1> kToggles = {{{"", HandWay::kToggles}}};
constexpr std::array<HandPart, 1> kPlaces = {{{"", HandWay::kPlaces}}};
constexpr std::array<HandPart, 3> kStickHand = {
    {{"x", HandWay::kSlides}, {"y", HandWay::kSlides}, {"press", HandWay::kPresses}}};
constexpr std::array<HandPart, 1> kTurns = {{{"", HandWay::kTurns}}};

struct ControlRow {
  std::string_view word;
  Parts line;
  HandParts hand;
  int analogue_pins;
  int digital_pins;  // after the analogue ones; a selector has one for each place
};

constexpr std::array<ControlRow, 7> kControls = {{
    {"pot", kWhole, kSlides, 1, 0},
    {"button", kWhole, kPresses, 0, 1},
    {"switch", kWhole, kToggles, 0, 1},
    {"selector", kWhole, kPlaces, 0, 0},
    {"stick", kStickParts, kStickHand, 2, 1},
    {"encoder", kEncoderParts, kTurns, 0, 2},
    {"sensor", kWhole, {}, 1, 0},
}};

struct OutputRow {
  std::string_view word;
  Parts line;
  std::size_t pins;
};

// Digits hang on the two wires of their driver.
constexpr std::array<OutputRow, 5> kOutputs = {{
    {"lamp", kWhole, 1},
    {"rgb", kRgbParts, 3},
    {"gauge", kWhole, 1},
    {"buzzer", kWhole, 1},
    {"digits", kWhole, 2},
}};

const ControlRow& row_of(ControlKind kind) {
  return kControls[static_cast<std::size_t>(kind)];
}
const OutputRow& row_of(OutputKind kind) {
  return kOutputs[static_cast<std::size_t>(kind)];
}

bool lacks_press(const ControlDescription& control) {
  return control.kind == ControlKind::kStick && !control.stick.presses;
}

}  // namespace

std::string_view kind_word(ControlKind kind) {
  return row_of(kind).word;
}
std::string_view kind_word(OutputKind kind) {
  return row_of(kind).word;
}

std::span<const std::string_view> line_parts(const ControlDescription& control) {
  const Parts parts = row_of(control.kind).line;
  return lacks_press(control) ? parts.first(2) : parts;
}
std::span<const std::string_view> line_parts(const OutputDescription& output) {
  return row_of(output.kind).line;
}

std::string part_name(std::string_view name, std::string_view part) {
  std::string whole(name);
  if (!part.empty()) whole.append(".").append(part);
  return whole;
}

const Sends& sends_of(const ControlDescription& control, std::size_t part) {
  CHECK(part < line_parts(control).size(), "a control has no such part");
  if (control.kind == ControlKind::kStick && part == 2) return control.stick.press_sends;
  if (control.kind == ControlKind::kEncoder && part == 1) return control.encoder.step_sends;
  return control.sends;
}
const Sends& sends_of(const OutputDescription& output, std::size_t part) {
  CHECK(part < line_parts(output).size(), "an output has no such part");
  return output.sends;
}

std::span<const HandPart> hand_parts(const ControlDescription& control) {
  const HandParts parts = row_of(control.kind).hand;
  return lacks_press(control) ? parts.first(2) : parts;
}

std::int32_t rest_ppm(const ControlDescription& control, std::size_t hand_part) {
  if (control.kind == ControlKind::kEncoder) return 0;
  if (control.kind != ControlKind::kStick) return static_cast<std::int32_t>(control.rest_ppm);
  if (hand_part == 2) return 0;
  return static_cast<std::int32_t>(hand_part == 0 ? control.stick.centre_x_ppm
                                                  : control.stick.centre_y_ppm);
}

std::int32_t place_ppm(std::int64_t place, std::int64_t places) {
  return static_cast<std::int32_t>((place * 1'000'000 + (places - 1) / 2) / (places - 1));
}
std::int64_t place_at(std::int64_t ppm, std::int64_t places) {
  const std::int64_t place = (ppm * (places - 1) + 500'000) / 1'000'000;
  return std::clamp<std::int64_t>(place, 0, places - 1);
}
std::int32_t turn_ppm(std::int64_t clicks, std::int64_t detents) {
  const std::int64_t half = clicks < 0 ? -detents / 2 : detents / 2;
  return static_cast<std::int32_t>((clicks * 1'000'000 + half) / detents);
}

std::size_t pins_needed(const ControlDescription& control) {
  if (control.cell.given()) return 0;
  if (control.kind == ControlKind::kSelector)
    return static_cast<std::size_t>(control.selector.places);
  const ControlRow& row = row_of(control.kind);
  return static_cast<std::size_t>(row.analogue_pins + row.digital_pins) -
         (lacks_press(control) ? 1 : 0);
}
std::size_t pins_needed(const OutputDescription& output) {
  return row_of(output.kind).pins;
}

bool is_analogue_pin(const ControlDescription& control, std::size_t n) {
  return n < static_cast<std::size_t>(row_of(control.kind).analogue_pins);
}

std::vector<Channel> channels_of(const PanelDescription& panel) {
  std::vector<Channel> channels;
  for (std::size_t i = 0; i < panel.controls.size(); ++i) {
    const ControlDescription& control = panel.controls[i];
    std::size_t count = control.cell.given() ? 1 : pins_needed(control);
    if (control.kind == ControlKind::kEncoder && control.encoder.interrupts) count = 1;
    for (std::size_t n = 0; n < count; ++n)
      channels.push_back({.control = static_cast<std::uint16_t>(i),
                          .index = static_cast<std::uint8_t>(n),
                          .analogue = is_analogue_pin(control, n)});
  }
  return channels;
}

}  // namespace understudy
