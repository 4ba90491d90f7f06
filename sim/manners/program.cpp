// Works out, once, what the running program would look up each time.
#include "sim/manners/program.h"

#include <algorithm>

#include "sim/base/ratio.h"
#include "sim/manners/wire_numbers.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

// A converter's reading or a pin's becomes the number of one field.
void plan_number(ReadingPlan& plan, const Sends& sends, int adc_bits) {
  if (plan.analogue) {
    plan.raw_top = (std::int64_t{1} << adc_bits) - 1;
    plan.identity = !sends.given || (sends.low == 0 && sends.high == plan.raw_top);
  } else if (sends.given) {
    const bool low_is_down = plan.closed_raw == 0;
    plan.numbers = {wire_number_of_state(low_is_down, sends),
                    wire_number_of_state(!low_is_down, sends)};
  }
}

ReadingUse use_of(const ControlDescription& control) {
  if (control.kind == ControlKind::kSelector) return ReadingUse::kPlacePin;
  if (control.kind != ControlKind::kEncoder) return ReadingUse::kNumber;
  return control.encoder.interrupts ? ReadingUse::kTurnCount : ReadingUse::kTurnPin;
}

// What a board means by a time when its clock is fast by so much.
Duration on_clock(Duration meant, std::int64_t fast_ppm) {
  return {scaled(meant.ns, {1'000'000, 1'000'000 + fast_ppm})};
}

std::vector<std::uint16_t> order_of_outputs(const Panel& panel) {
  std::vector<std::uint16_t> order;
  if (panel.to_panel.size() > 0)
    for (const std::uint16_t field : panel.to_panel.format(0).fields()) order.push_back(field);
  return order;
}

// Boards look at one byte at a time: the last one of whatever ends a line.
std::string ends_of_lines(const PanelDescription& panel) {
  std::string last_bytes;
  const auto add = [&](const std::string& ending) {
    if (!ending.empty() && last_bytes.find(ending.back()) == std::string::npos)
      last_bytes += ending.back();
  };
  if (panel.manners.gather == Gathering::kUntil) {
    add(panel.manners.gather_until);
    return last_bytes;
  }
  add(panel.to_panel.ends);
  for (const std::string& accepted : panel.to_panel.accepts) add(accepted);
  return last_bytes;
}

}  // namespace

Program::Program(const Panel& panel)
    : panel_(&panel), manners_(panel.description.manners), output_order_(order_of_outputs(panel)) {
  const PanelDescription& description = panel.description;
  const std::int64_t error_ppm = description.wire.board_clock_error_ppm;
  for (Duration* time : {&manners_.loop, &manners_.work, &manners_.gather_at_most})
    *time = on_clock(*time, error_ppm);
  plan_readings();
  line_ends_ = ends_of_lines(description);
  if (!description.to_panel.starts.empty()) line_start_ = description.to_panel.starts.back();
  for (std::size_t i = 0; i < panel.game_formats.size(); ++i) {
    const SendMode mode = panel.game_formats[i].send.mode;
    is_asked_ = is_asked_ || mode == SendMode::kAsked;
    sends_.push_back(panel.game_formats[i].send);
    sends_.back().every = on_clock(sends_.back().every, error_ppm);
    sends_.back().refresh = on_clock(sends_.back().refresh, error_ppm);
    remembered_from_.push_back(remembered_count_);
    if (mode == SendMode::kOnChange) remembered_count_ += panel.to_game.format(i).fields().size();
  }
}

std::string_view Program::bare(std::string_view line) const {
  const FramingDescription& framing = panel_->description.to_panel;
  if (!framing.starts.empty() && line.starts_with(framing.starts))
    line.remove_prefix(framing.starts.size());
  for (std::size_t kept = framing.ends.size(); kept > 0; --kept) {
    const std::string_view rest = std::string_view(framing.ends).substr(0, kept);
    if (!line.ends_with(rest)) continue;
    line.remove_suffix(kept);
    break;
  }
  while (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

void Program::plan_readings() {
  const PanelDescription& description = panel_->description;
  const auto& sources = panel_->to_game_sources;
  for (const Channel& channel : channels_of(description)) {
    const ControlDescription& control = description.controls[channel.control];
    ReadingPlan plan{.use = use_of(control),
                     .control = channel.control,
                     .pin = channel.index,
                     .closed_raw = control.contact.wired == Wiring::kPullUp ? 0 : 1,
                     .analogue = channel.analogue};
    const bool part_a_pin = plan.use == ReadingUse::kNumber;
    const auto source = std::find_if(sources.begin(), sources.end(), [&](const FieldSource& from) {
      return from.part_of == channel.control && (!part_a_pin || from.part == channel.index);
    });
    plan.field = static_cast<std::uint16_t>(source - sources.begin());
    if (part_a_pin)
      plan_number(plan, sends_of(control, channel.index), description.board.adc_bits);
    else
      plan.last_pin = std::size_t{plan.pin} + 1 == pins_needed(control);
    readings_.push_back(plan);
  }
  for (const FieldSource& source : sources) {
    const bool step =
        description.controls[source.part_of].kind == ControlKind::kEncoder && source.part == 1;
    step_of_.push_back(step ? source.part_of : kNoControl);
    has_steps_ = has_steps_ || step;
  }
}

std::int64_t Program::scaled_number(const ReadingPlan& plan, std::int64_t raw) const {
  const ControlDescription& control = panel_->description.controls[plan.control];
  return wire_number_of_reading(raw, plan.raw_top, control.sends);
}

}  // namespace understudy
