// Readings, printing and outputs: where the stages meet.
#include "sim/device/board_of_device.h"

#include <algorithm>

#include "sim/board/pins.h"
#include "sim/wire/receiver.h"

namespace understudy {

ReadingTimes Device::Board::reading_times(std::size_t control, Instant start) {
  const Blueprint& blueprint = *device_.blueprint_;
  if (!blueprint.program.readings()[control].analogue)
    return {.samples_at = start, .done_at = start + blueprint.panel->description.board.digital_read};
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
  return blueprint_->program.readings()[control].analogue ? sample_pot(control, at)
                                                          : sample_contact(control, at);
}

// Wiper, hold capacitor, noise, converter.
std::int64_t Device::sample_pot(std::size_t control, Instant at) {
  const PanelDescription& description = blueprint_->panel->description;
  ControlState& state = controls_[control];
  const std::int64_t share = blueprint_->tracks[control].share_ppb(state.position_ppm(at));
  const std::int64_t wiper_uv = description.board.supply_uv * share / kWholeTrackPpb;
  const std::int64_t residue = blueprint_->residue_in_2_24[control];
  const std::int64_t left = residue == 0 ? 0 : (held_uv_ - wiper_uv) * residue / kResidueOne;
  held_uv_ = wiper_uv + left;
  const std::int64_t noise_uv = description.controls[control].pot.noise_uv;
  if (noise_uv == 0) return blueprint_->adc.code(held_uv_);
  return blueprint_->adc.code(held_uv_ + state.noise.gaussian_micro() * noise_uv / 1'000'000);
}

std::int64_t Device::sample_contact(std::size_t control, Instant at) {
  const PanelDescription& description = blueprint_->panel->description;
  const ContactPart& part = description.controls[control].contact;
  ControlState& state = controls_[control];
  const bool closed = state.closed(at, part);
  const std::int64_t microvolts =
      pin_microvolts(closed, part.contact_mohm, part.wired, description.board.pull_up_mohm,
                     description.board.supply_uv);
  state.level_before = level_read(microvolts, description.board.supply_uv, state.level_before);
  return state.level_before ? 1 : 0;
}

// A UART takes bytes into its ring as the wire drains it, so the program is held until the last
// byte fits; a native port holds it until the computer collects.
Printed Device::print(Instant t, std::string_view bytes, StepOutputs& outputs) {
  const PanelDescription& description = blueprint_->panel->description;
  const bool gate_shut = description.host.dtr == DtrMeans::kOpensGate && !dtr_;
  if (gate_shut) {
    gate_dropped_ += static_cast<std::int64_t>(bytes.size());
    return {.accepted = bytes.size(), .resumes_at = t};
  }
  const auto ring = static_cast<std::size_t>(description.board.print_ring_bytes);
  if (description.wire.kind == WireKind::kNativeUsb) {
    const std::size_t used = host_.flight().size();
    const std::size_t accepted = std::min(bytes.size(), ring > used ? ring - used : 0);
    host_.send(t, bytes.substr(0, accepted), blueprint_->board_byte_time);
    if (accepted == bytes.size()) return {.accepted = accepted, .resumes_at = t};
    const Instant flush = host_.next_flush();
    return {.accepted = accepted,
            .resumes_at = flush == kNever ? kNever : later(t, flush) + microseconds(1)};
  }
  send_to_host(t, bytes, outputs);
  const FlightToHost& flight = host_.flight();
  const Ratio time = blueprint_->board_byte_time;
  const Duration ring_time{static_cast<std::int64_t>(ring) * time.num / time.den};
  return {.accepted = bytes.size(), .resumes_at = later(t, flight.free_at() - ring_time)};
}

void Device::send_to_host(Instant t, std::string_view bytes, StepOutputs& outputs) {
  if (!garbled_to_game_) return host_.send(t, bytes, blueprint_->board_byte_time);
  const WireDescription& wire = blueprint_->panel->description.wire;
  const ReceivedBytes read = received(bytes, {.sender_baud = blueprint_->board_baud,
                                              .own_baud = host_baud(wire, game_baud_),
                                              .samples_per_bit = 16,
                                              .data_bits = wire.data_bits,
                                              .stop_bits = wire.stop_bits});
  frame_errors_to_game_ += read.frame_errors;
  if (read.frame_errors > 0) outputs.notes.push_back({t, NoteKind::kFrameErrors, read.frame_errors});
  if (read.bytes.empty()) return;
  const auto sent = static_cast<std::int64_t>(bytes.size());
  const auto count = static_cast<std::int64_t>(read.bytes.size());
  host_.send(t, read.bytes, {blueprint_->board_byte_time.num * sent, blueprint_->board_byte_time.den * count});
}

}  // namespace understudy
