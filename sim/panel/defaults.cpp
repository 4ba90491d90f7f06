// Defaults that are plain values, and those that are worked out from the rest of the file.
#include "sim/panel/defaults.h"

#include <algorithm>

#include "sim/model/kinds.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/layout.h"
#include "sim/panel/pins.h"
#include "sim/panel/presets.h"

namespace understudy {
namespace {

// Mean and maximum of 16 switches measured by J. Ganssle ("A Guide to Debouncing").
constexpr std::int64_t kBounceMeanNs = 1'557'000;
constexpr std::int64_t kBounceMaxNs = 6'200'000;

std::int64_t middle_of(Taper taper) {
  switch (taper) {
    case Taper::kLinear:
      return 500'000;
    case Taper::kLog:
      return 100'000;
    case Taper::kAntilog:
      return 900'000;
  }
  return 500'000;
}

void complete_control(ControlDescription& control, const BoardDescription& board) {
  PotPart& pot = control.pot;
  const std::int64_t step_uv = board.reference_uv >> board.adc_bits;
  if (pot.noise_uv == kFollows) pot.noise_uv = step_uv / 2;
  if (pot.source_mohm == kFollows) pot.source_mohm = pot.resistance_mohm / 4;
  if (pot.middle_ppm == kFollows) pot.middle_ppm = middle_of(pot.taper);
  control_kind(control.kind).complete(control, board);
}

std::size_t bytes_of(const Sends& sends) {
  std::size_t most = 0;
  for (const std::string& word : sends.words) most = std::max(most, word.size());
  if (!sends.words.empty()) return most;
  for (const std::int64_t n : {sends.low, sends.high}) {
    std::size_t bytes = std::to_string(n < 0 ? -n : n).size();
    const auto decimals = static_cast<std::size_t>(sends.decimals);
    if (decimals > 0) bytes = std::max(bytes, decimals + 1) + 1;
    most = std::max(most, bytes);
  }
  return most + (std::min(sends.low, sends.high) < 0 ? 1 : 0);
}

void make_up_line(PanelDescription& panel, bool to_game) {
  auto& lines = to_game ? panel.lines_to_game : panel.lines_to_panel;
  const bool nothing_to_say = to_game ? panel.controls.empty() : panel.outputs.empty();
  if (!lines.empty() || nothing_to_say) return;
  LineDescription line;
  line.text = made_up_line(panel, to_game);
  lines.push_back(std::move(line));
}

}  // namespace

PanelDescription fresh_panel() {
  PanelDescription panel;
  apply_preset(kDefaultPreset, panel);
  panel.manners.loop = milliseconds(20);
  return panel;
}

ControlDescription fresh_control() {
  ControlDescription control;
  control.pot.noise_uv = kFollows;
  control.pot.source_mohm = kFollows;
  control.pot.middle_ppm = kFollows;
  control.contact.bounce_mean_ns = kBounceMeanNs;
  control.contact.bounce_max_ns = kBounceMaxNs;
  return control;
}

OutputDescription fresh_output() {
  OutputDescription output;
  output.sends.low = 0;
  output.sends.high = 255;
  output.sends.given = true;
  output.forward_uv = forward_uv_of(output.colour);
  return output;
}

AnswerDescription fresh_answer() {
  AnswerDescription answer;
  answer.within = milliseconds(150);
  return answer;
}

void complete(PanelDescription& panel) {
  for (ControlDescription& control : panel.controls) complete_control(control, panel.board);
  give_out_pins(panel);
  lay_out(panel);
  make_up_line(panel, true);
  make_up_line(panel, false);
}

std::string made_up_line(const PanelDescription& panel, bool to_game) {
  std::string text;
  const auto add = [&](const auto& part) {
    for (const std::string_view each : line_parts(part))
      text += (text.empty() ? "{" : ",{") + part_name(part.name, each) + "}";
  };
  if (to_game) {
    for (const ControlDescription& control : panel.controls) add(control);
  } else {
    for (const OutputDescription& output : panel.outputs) add(output);
  }
  return text;
}

std::size_t made_up_line_bytes_max(const PanelDescription& panel, bool to_game) {
  std::size_t bytes = 0;
  const auto add = [&](const auto& part) {
    for (std::size_t i = 0; i < line_parts(part).size(); ++i)
      bytes += bytes_of(sends_of(part, i)) + 1;
  };
  if (to_game) {
    for (ControlDescription control : panel.controls) {
      complete_control(control, panel.board);
      add(control);
    }
  } else {
    for (const OutputDescription& output : panel.outputs) add(output);
  }
  return bytes == 0 ? 0 : bytes - 1;
}

}  // namespace understudy
