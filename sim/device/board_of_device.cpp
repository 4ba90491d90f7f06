// Readings, printing and outputs: where the stages meet.
#include "sim/device/board_of_device.h"

#include <algorithm>

#include "sim/wire/receiver.h"

namespace understudy {

ReadingTimes Device::Board::reading_times(std::size_t control, Instant start) {
  const Blueprint& blueprint = *device_.blueprint_;
  if (!blueprint.controls[control].analogue)
    return {.samples_at = start, .done_at = start + blueprint.digital_read};
  const Conversion conversion = blueprint.adc.conversion(start, device_.first_conversion_);
  device_.first_conversion_ = false;
  return {.samples_at = conversion.samples_at, .done_at = conversion.done_at};
}

void Device::Board::set_output(std::size_t output, std::int64_t number, Instant t) {
  if (device_.shown_[output] == number) return;
  device_.shown_[output] = number;
  outputs_.changes.push_back({t, static_cast<std::uint16_t>(output), number});
}

std::int64_t Device::sample(std::size_t control, Instant at) {
  const ControlPlan& plan = blueprint_->controls[control];
  return plan.analogue ? sample_pot(plan, controls_[control], at)
                       : sample_contact(plan, controls_[control], at);
}

// Wiper, hold capacitor, noise, converter.
std::int64_t Device::sample_pot(const ControlPlan& plan, ControlState& state, Instant at) {
  const std::int64_t share = plan.track.share_ppb(state.position_ppm(at));
  const std::int64_t wiper_uv = blueprint_->supply_uv * share / kWholeTrackPpb;
  const std::int64_t left =
      plan.residue_in_2_24 == 0 ? 0 : (held_uv_ - wiper_uv) * plan.residue_in_2_24 / kResidueOne;
  held_uv_ = wiper_uv + left;
  if (plan.noise_uv == 0) return blueprint_->adc.code(held_uv_);
  const std::int64_t noise_uv = state.noise.gaussian_micro() * plan.noise_uv / 1'000'000;
  return blueprint_->adc.code(held_uv_ + noise_uv);
}

std::int64_t Device::sample_contact(const ControlPlan& plan, ControlState& state, Instant at) {
  const bool closed = state.closed(at, plan.contact);
  const std::size_t before = state.level_before ? 1 : 0;
  state.level_before = (closed ? plan.pin.closed : plan.pin.open)[before];
  return state.level_before ? 1 : 0;
}

// A UART takes bytes into its ring as the wire drains it, so the program is held until the last
// byte fits; a native port, and any port that the computer holds, takes no more than its ring has
// room for and holds the program until the computer collects.
Printed Device::print(Instant t, std::string_view bytes, StepOutputs& outputs) {
  const PanelDescription& description = blueprint_->panel->description;
  const bool gate_shut = description.host.dtr == DtrMeans::kOpensGate && !dtr_;
  if (gate_shut) {
    gate_dropped_ += static_cast<std::int64_t>(bytes.size());
    return {.accepted = bytes.size(), .resumes_at = t};
  }
  const bool waits_for_computer =
      description.wire.kind == WireKind::kNativeUsb || host_.holds_the_board();
  const std::size_t offered = waits_for_computer ? room_to_print(bytes.size()) : bytes.size();
  const std::size_t accepted = send_to_host(t, bytes.substr(0, offered), outputs);
  if (accepted < bytes.size()) {
    const Instant flush = host_.next_flush();
    const Instant resumes = flush == kNever ? kNever : later(t, flush) + microseconds(1);
    return {.accepted = accepted, .resumes_at = resumes};
  }
  if (waits_for_computer) return {.accepted = accepted, .resumes_at = t};
  const Instant fits = host_.flight().free_at() - blueprint_->print_ring_time;
  return {.accepted = accepted, .resumes_at = later(t, fits)};
}

// What finds room in the print ring; a line that is to stay whole finds room whole, or in an empty
// ring.
std::size_t Device::room_to_print(std::size_t wanted) const {
  const auto ring = static_cast<std::size_t>(blueprint_->panel->description.board.print_ring_bytes);
  const std::size_t used = host_.flight().size();
  const std::size_t room = ring > used ? ring - used : 0;
  if (!host_.whole_lines()) return std::min(wanted, room);
  return wanted <= room || used == 0 ? wanted : 0;
}

// Returns how many of the bytes the board is rid of.
std::size_t Device::send_to_host(Instant t, std::string_view bytes, StepOutputs& outputs) {
  if (bytes.empty()) return 0;
  if (!garbled_to_game_) return host_.send(t, bytes, blueprint_->board_byte_time);
  const WireDescription& wire = blueprint_->panel->description.wire;
  const ReceivedBytes read = received(bytes, {.sender_baud = blueprint_->board_baud,
                                              .own_baud = host_speed(),
                                              .samples_per_bit = 16,
                                              .data_bits = wire.data_bits,
                                              .stop_bits = wire.stop_bits});
  const std::size_t taken =
      host_.send_misread(t, bytes.size(), read.bytes, blueprint_->board_byte_time);
  // What finds no room is lost like what the receiver could not frame.
  const auto errors = read.frame_errors + static_cast<std::int64_t>(read.bytes.size() - taken);
  frame_errors_to_game_ += errors;
  if (errors > 0) outputs.notes.push_back({t, NoteKind::kFrameErrors, errors});
  return bytes.size();
}

}  // namespace understudy
