// Pictures and words of each kind.
#include "sim/app/status_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "sim/board/buzzer.h"
#include "sim/board/digits.h"
#include "sim/board/pwm.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

constexpr int kBarCells = 20;
constexpr int kPartCells = 4;  // of each colour of an rgb

std::string bar(std::int64_t value, std::int64_t low, std::int64_t high, int cells = kBarCells) {
  if (low > high) std::swap(low, high);
  const std::int64_t span = std::max<std::int64_t>(1, high - low);
  const auto full = static_cast<int>((std::clamp(value, low, high) - low) * cells / span);
  return std::string(static_cast<std::size_t>(full), '#') +
         std::string(static_cast<std::size_t>(cells - full), '.');
}

// One mark among as many dots.
std::string mark(std::int64_t place, std::int64_t places) {
  std::string text(static_cast<std::size_t>(places), '.');
  text[static_cast<std::size_t>(std::clamp<std::int64_t>(place, 0, places - 1))] = '#';
  return text;
}

std::string number_text(std::int64_t number, const protocol::Field& field) {
  const std::int64_t place = number - field.min;
  if (!field.words.empty() && place >= 0 && place < static_cast<std::int64_t>(field.words.size()))
    return field.words[static_cast<std::size_t>(place)];
  if (field.decimals == 0) return std::to_string(number);
  double value = static_cast<double>(number);
  for (int i = 0; i < field.decimals; ++i) value /= 10;
  return fmt::format("{:.{}f}", value, field.decimals);
}

std::vector<std::size_t> fields_of(const std::vector<FieldSource>& sources, std::size_t index) {
  std::vector<std::size_t> fields;
  for (std::size_t i = 0; i < sources.size(); ++i)
    if (sources[i].part_of == index) fields.push_back(i);
  return fields;
}

std::int64_t percent(std::int32_t ppm) {
  return (ppm + 5'000) / 10'000;
}

// What a kind shows: cells, and a state that stands behind them.
struct Shown {
  std::string picture;
  std::string state;
};

Shown stick_shown(const RowOf& row, const ControlDescription& control) {
  const Device& device = row.session.device(row.seat);
  std::string text =
      fmt::format("x {:>3} %   y {:>3} %", percent(device.position_ppm(row.index, 0)),
                  percent(device.position_ppm(row.index, 1)));
  if (!control.stick.presses) return {text, ""};
  return {text, device.position_ppm(row.index, 2) * 2 >= kFullTravel ? "down" : "up"};
}

Shown sensor_shown(const RowOf& row) {
  const Panel& panel = row.session.panel(row.seat);
  const std::vector<std::size_t> fields = fields_of(panel.to_game_sources, row.index);
  if (fields.empty()) return {};
  const protocol::Field& field = panel.to_game_fields[fields.front()];
  const std::int64_t number = row.session.device(row.seat).field_number(fields.front());
  return {bar(number, field.min, field.max), ""};
}

Shown control_shown(const RowOf& row, const ControlDescription& control) {
  if (control.kind == ControlKind::kSensor) return sensor_shown(row);
  if (control.kind == ControlKind::kStick) return stick_shown(row, control);
  const std::int32_t position = row.session.device(row.seat).position_ppm(row.index);
  switch (hand_parts(control).front().way) {
    case HandWay::kSlides:
      return {bar(position, 0, kFullTravel), fmt::format("{:>3} %", percent(position))};
    case HandWay::kPlaces: {
      const std::int64_t places = control.selector.places;
      const std::int64_t place = place_at(position, places);
      return {mark(place, places), fmt::format("{} of {}", place + 1, places)};
    }
    case HandWay::kTurns: {  // the knob seen from above, unrolled; its angle may be beyond a turn
      const std::int64_t angle = ((position % kFullTravel) + kFullTravel) % kFullTravel;
      return {mark(angle * kBarCells / kFullTravel, kBarCells),
              fmt::format("{:>3} deg", (angle * 360 + kFullTravel / 2) / kFullTravel % 360)};
    }
    case HandWay::kPresses:
    case HandWay::kToggles:
      break;
  }
  return {bar(position, 0, kFullTravel), position * 2 >= kFullTravel ? "down" : "up"};
}

std::string numbers_text(const Session& session, std::size_t seat, std::size_t control) {
  const Panel& panel = session.panel(seat);
  std::string text;
  for (const std::size_t field : fields_of(panel.to_game_sources, control))
    text += (text.empty() ? "" : ",") +
            number_text(session.device(seat).field_number(field), panel.to_game_fields[field]);
  return text;
}

// As long as it looks bright.
std::string light_bar(std::int64_t number, const OutputDescription& output,
                      const BoardDescription& board, int cells) {
  const double bright = lightness(lamp_duty(number, output, board));
  return bar(static_cast<std::int64_t>(bright + 0.5), 0, 100, cells);
}

// The digits as they can be read, each with its point.
std::string digits_text(std::int64_t number, const OutputDescription& output) {
  constexpr std::string_view kReadable = "0123456789- abcdefghijlnopqrstuyz";
  const DigitRow shown = digits_shown(number, output);
  std::string text = "[";
  for (int i = 0; i < shown.count; ++i) {
    const std::uint8_t lit = shown.segments[static_cast<std::size_t>(i)];
    const auto* const character = std::find_if(kReadable.begin(), kReadable.end(), [&](char c) {
      return segments_of(c) == static_cast<std::uint8_t>(lit & ~kSegmentPoint);
    });
    text += character == kReadable.end() ? '?' : *character;
    if ((lit & kSegmentPoint) != 0) text += '.';
  }
  return text + "]";
}

Shown output_shown(const RowOf& row, const OutputDescription& output,
                   const std::vector<std::int64_t>& numbers) {
  const Device& device = row.session.device(row.seat);
  const BoardDescription& board = row.session.panel(row.seat).description.board;
  switch (output.kind) {
    case OutputKind::kLamp:
      return {light_bar(numbers[0], output, board, kBarCells), ""};
    case OutputKind::kRgb: {
      std::string picture;
      for (std::size_t i = 0; i < numbers.size(); ++i)
        picture += std::string(i == 0 ? "" : " ") + std::string(line_parts(output)[i]) +
                   light_bar(numbers[i], output, board, kPartCells);
      return {picture, ""};
    }
    case OutputKind::kGauge: {
      const std::int64_t angle = device.powered().needle_mdeg(device.now(), row.index);
      const std::int64_t cell =
          angle * kBarCells / std::max<std::int64_t>(1, output.gauge.sweep_mdeg);
      return {mark(cell, kBarCells), fmt::format("{:>3} deg", (angle + 500) / 1'000)};
    }
    case OutputKind::kBuzzer: {
      const std::int64_t pitch = sound_of(numbers[0], output).frequency_mhz;
      return {pitch == 0 ? "silent" : fmt::format("sounds, {} Hz", (pitch + 500) / 1'000), ""};
    }
    case OutputKind::kDigits:
      return {digits_text(numbers[0], output), ""};
  }
  return {};
}

}  // namespace

std::string control_row(const RowOf& row, bool selected, std::string_view keys) {
  const ControlDescription& control = row.session.panel(row.seat).description.controls[row.index];
  const Shown shown = control_shown(row, control);
  return fmt::format(" {} {:<14}{:<20} {:<7}  sends {:<10} {}", selected ? '>' : ' ', control.name,
                     shown.picture, shown.state, numbers_text(row.session, row.seat, row.index),
                     keys);
}

std::string output_row(const RowOf& row) {
  const Panel& panel = row.session.panel(row.seat);
  const OutputDescription& output = panel.description.outputs[row.index];
  std::vector<std::int64_t> numbers;
  std::string text;
  for (const std::size_t field : fields_of(panel.to_panel_sources, row.index)) {
    numbers.push_back(row.session.device(row.seat).output_number(field));
    text += (text.empty() ? "" : ",") + number_text(numbers.back(), panel.to_panel_fields[field]);
  }
  if (numbers.empty()) return fmt::format("   {:<14}", output.name);
  const Shown shown = output_shown(row, output, numbers);
  const bool coloured = output.kind == OutputKind::kLamp || output.kind == OutputKind::kDigits;
  return fmt::format("   {:<14}{:<20} {:<7}  shows {:<10} {}", output.name, shown.picture,
                     shown.state, text,
                     coloured ? std::string_view(output.colour) : kind_word(output.kind));
}

}  // namespace understudy
