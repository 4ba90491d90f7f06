// Keeps load and supply up to date, output by output.
#include "sim/device/powered_outputs.h"

#include "sim/model/kinds.h"
#include "sim/model/panel_change.h"

namespace understudy {

PoweredOutputs::PoweredOutputs(const Panel& panel) {
  const auto& outputs = panel.description.outputs;
  first_field_.resize(outputs.size());
  for (std::size_t field = panel.to_panel_sources.size(); field > 0; --field)
    first_field_[panel.to_panel_sources[field - 1].part_of] = static_cast<std::uint16_t>(field - 1);
  for (std::size_t field = 0; field < panel.to_panel_sources.size(); ++field)
    shown_.push_back(dark_number(panel, field));
  for (std::size_t i = 0; i < outputs.size(); ++i)
    if (outputs[i].kind == OutputKind::kGauge)
      needles_.push_back({static_cast<std::uint16_t>(i),
                          Needle(gauge_goal_mdeg(shown_[first_field_[i]], outputs[i]))});
  supply_ = Supply(panel.description.board, panel.description.board.base_current_ua);
  for (std::size_t i = 0; i < outputs.size(); ++i) weigh({}, i, panel);
}

PoweredOutputs::PoweredOutputs(const Panel& panel, const PoweredOutputs& before,
                               const Panel& panel_before)
    : PoweredOutputs(panel) {
  const auto& outputs = panel_before.description.outputs;
  for (std::size_t i = 0; i < panel.description.outputs.size(); ++i) {
    const OutputDescription& output = panel.description.outputs[i];
    const OutputDescription* const was = same_output(output, panel_before.description);
    if (was == nullptr) continue;
    const auto place = static_cast<std::size_t>(was - outputs.data());
    for (std::size_t part = 0; part < line_parts(output).size(); ++part)
      shown_[first_field_[i] + part] = before.shown_[before.first_field_[place] + part];
    if (NeedleOfOutput* const gauge = needle_of(i))
      for (const NeedleOfOutput& old : before.needles_)
        if (old.output == place) gauge->needle = old.needle;
  }
}

std::int64_t PoweredOutputs::dark_number(const Panel& panel, std::size_t field) {
  const FieldSource source = panel.to_panel_sources[field];
  return sends_of(panel.description.outputs[source.part_of], source.part).low;
}

PoweredOutputs::NeedleOfOutput* PoweredOutputs::needle_of(std::size_t output) {
  for (NeedleOfOutput& gauge : needles_)
    if (gauge.output == output) return &gauge;
  return nullptr;
}

void PoweredOutputs::set(Instant t, std::size_t field, std::int64_t number, const Panel& panel) {
  shown_[field] = number;
  const std::size_t output = panel.to_panel_sources[field].part_of;
  if (NeedleOfOutput* gauge = needle_of(output)) {
    const OutputDescription& described = panel.description.outputs[output];
    gauge->needle.set(t, gauge_goal_mdeg(number, described), described.gauge);
    see_needles(t);
  }
  weigh(t, output, panel);
}

void PoweredOutputs::restart(Instant t, Instant runs_from, const Panel& panel) {
  for (std::size_t field = 0; field < shown_.size(); ++field)
    shown_[field] = dark_number(panel, field);
  for (NeedleOfOutput& gauge : needles_) gauge.needle.let_go(t);
  needle_rests_ = kNever;
  needles_wake_ = needles_.empty() ? kNever : later(runs_from, t + nanoseconds(1));
  for (std::size_t i = 0; i < panel.description.outputs.size(); ++i) weigh(t, i, panel);
  supply_.restart(t, whole_load_ua(panel), panel.description.board);
}

// What needles draw changes before the supply is asked.
bool PoweredOutputs::pass(Instant t, const Panel& panel) {
  if (needles_wake_ <= t) {
    needles_wake_ = kNever;
    for (const NeedleOfOutput& gauge : needles_) {
      const std::size_t field = first_field_[gauge.output];
      set(t, field, shown_[field], panel);
    }
  }
  if (needle_rests_ <= t) {
    for (const NeedleOfOutput& gauge : needles_)
      if (gauge.needle.ends() == t) weigh(t, gauge.output, panel);
    see_needles(t);
  }
  return supply_.happened(t);
}

void PoweredOutputs::weigh(Instant t, std::size_t output, const Panel& panel) {
  const OutputDescription& described = panel.description.outputs[output];
  const NeedleOfOutput* gauge = needle_of(output);
  const bool moving = gauge != nullptr && gauge->needle.moving(t);
  const std::span numbers(shown_.data() + first_field_[output], line_parts(described).size());
  load_.set(output, understudy::output_ua(described, numbers, moving, panel.description.board));
  supply_.set_load(t, whole_load_ua(panel), panel.description.board);
}

void PoweredOutputs::see_needles(Instant t) {
  needle_rests_ = kNever;
  for (const NeedleOfOutput& gauge : needles_)
    if (gauge.needle.moving(t)) needle_rests_ = earlier(needle_rests_, gauge.needle.ends());
}

std::int64_t PoweredOutputs::whole_load_ua(const Panel& panel) const {
  return panel.description.board.base_current_ua + load_.outputs_ua();
}

std::int64_t PoweredOutputs::needle_mdeg(Instant t, std::size_t output) const {
  for (const NeedleOfOutput& gauge : needles_)
    if (gauge.output == output) return gauge.needle.angle_mdeg(t);
  return 0;
}

}  // namespace understudy
