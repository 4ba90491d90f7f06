// One input after the other; the device is brought along only as far as somebody needs it.
#include "sim/session/tapped_seat.h"

#include <limits>

namespace understudy {

void TappedSeat::step(Device& device, Instant until, std::span<const Input> inputs,
                      StepOutputs& outputs) {
  for_device_.clear();
  for (const Input& input : inputs) take(input, device, outputs);
  bring(device, until, outputs);
}

void TappedSeat::take(const Input& input, Device& device, StepOutputs& outputs) {
  passed_.clear();
  if (const auto* box = std::get_if<BoxBytes>(&input.what)) {
    if (source_ == SeatSource::kDevice) return;
    if (!rewriter_.passes_unaltered()) bring(device, input.at, outputs);
    const auto number = [&device](std::size_t field) { return device.field_number(field); };
    rewriter_.take(box->bytes, number, passed_);
    return put_chunk(input.at, outputs);
  }
  if (const auto* changed = std::get_if<SourceChanged>(&input.what))
    return change(input.at, changed->source, device, outputs);
  if (const auto* held = std::get_if<ControlHeld>(&input.what)) {
    if (source_ == SeatSource::kDevice) return;
    if (held->held)
      rewriter_.hold(held->control, held->part);
    else
      rewriter_.let_go(held->control, held->part, passed_);
    return put_chunk(input.at, outputs);
  }
  if (std::holds_alternative<Taken>(input.what)) return;
  if (const auto* opened = std::get_if<LinkOpened>(&input.what)) {
    rewriter_.begin_anew();
    for_device_.push_back({input.at, LinkOpened{.dtr = opened->dtr, .takes_at_once = true}});
    return;
  }
  if (const auto* reloaded = std::get_if<PanelReloaded>(&input.what)) {
    rewriter_.reload(reloaded->panel, passed_);
    if (source_ != SeatSource::kDevice) put_chunk(input.at, outputs);
  }
  const auto* game = std::get_if<BytesFromGame>(&input.what);
  if (game != nullptr && source_ == SeatSource::kBox) outputs.to_box += game->bytes;
  for_device_.push_back(input);
}

// What the device has to say by `until`, as far as it is asked.
void TappedSeat::bring(Device& device, Instant until, StepOutputs& outputs) {
  of_device_.clear();
  device.step(until, for_device_, of_device_);
  for_device_.clear();
  outputs.changes.insert(outputs.changes.end(), of_device_.changes.begin(),
                         of_device_.changes.end());
  outputs.notes.insert(outputs.notes.end(), of_device_.notes.begin(), of_device_.notes.end());
  if (source_ != SeatSource::kDevice) return;
  for (Chunk chunk : of_device_.chunks) {
    const std::string_view bytes = of_device_.bytes_of(chunk);
    chunk.first = outputs.bytes.size();
    outputs.bytes += bytes;
    outputs.chunks.push_back(chunk);
  }
}

// What the device hands over at this very time is of the new source.
void TappedSeat::change(Instant t, SeatSource source, Device& device, StepOutputs& outputs) {
  if (source == source_) return;
  bring(device, {t.ns - 1}, outputs);
  rewriter_.let_go_of_all(passed_);
  if (source_ != SeatSource::kDevice) put_chunk(t, outputs);
  rewriter_.begin_anew();
  source_ = source;
}

void TappedSeat::put_chunk(Instant t, StepOutputs& outputs) const {
  if (passed_.empty()) return;
  outputs.chunks.push_back({.due = t, .first = outputs.bytes.size(), .size = passed_.size()});
  outputs.bytes += passed_;
}

}  // namespace understudy
