// Readings, printing and outputs: where the stages meet.
#include "sim/device/board_of_device.h"

#include <algorithm>

#include "sim/controls/matrix.h"
#include "sim/wire/receiver.h"

namespace understudy {

ReadingTimes Device::Board::reading_times(std::size_t channel, Instant start) {
  const Blueprint& blueprint = *device_.blueprint_;
  const ReadWay way = blueprint.readings.channels[channel].way;
  if (way != ReadWay::kTrack && way != ReadWay::kSensor)
    return {.samples_at = start, .done_at = start + blueprint.digital_read};
  const Conversion conversion = blueprint.adc.conversion(start, device_.first_conversion_);
  device_.first_conversion_ = false;
  return {.samples_at = conversion.samples_at, .done_at = conversion.done_at};
}

void Device::Board::set_output(std::size_t field, std::int64_t number, Instant t) {
  device_.show(field, number, t, outputs_);
}

void Device::show(std::size_t field, std::int64_t number, Instant t, StepOutputs& outputs) {
  if (outputs_.number(field) == number) return;
  outputs_.set(t, field, number, *blueprint_->panel);
  const FieldSource source = blueprint_->panel->to_panel_sources[field];
  outputs.changes.push_back(
      {.due = t, .output = source.part_of, .number = number, .part = source.part});
}

std::int64_t Device::sample(std::size_t channel, Instant at) {
  const ChannelPlan& plan = blueprint_->readings.channels[channel];
  switch (plan.way) {
    case ReadWay::kTrack: {
      MovedPart& part = parts_[plan.part];
      const std::int64_t share = plan.track.share_ppb(part.position_ppm(at));
      return convert(plan, blueprint_->supply_uv * share / kWholeTrackPpb, part.noise);
    }
    case ReadWay::kSensor: {
      SensorOfDevice& sensor = sensors_[plan.sensor];
      const std::int64_t share =
          sensor.state.share_ppm(at, blueprint_->readings.sensors[plan.sensor]);
      return convert(plan, blueprint_->supply_uv * share / 1'000'000, sensor.noise);
    }
    case ReadWay::kCount:
      return parts_[plan.part].quarters(at, blueprint_->readings.parts[plan.part]);
    case ReadWay::kContact:
    case ReadWay::kClick:
    case ReadWay::kCell:
      break;
  }
  return read_pin(plan, closed(plan, at)) ? 1 : 0;
}

// Hold capacitor, noise, converter.
std::int64_t Device::convert(const ChannelPlan& plan, std::int64_t pin_uv, Stream& noise) {
  const std::int64_t left =
      plan.residue_in_2_24 == 0 ? 0 : (held_uv_ - pin_uv) * plan.residue_in_2_24 / kResidueOne;
  held_uv_ = pin_uv + left;
  if (plan.noise_uv == 0) return blueprint_->adc.code(held_uv_);
  const std::int64_t noise_uv = noise.gaussian_micro() * plan.noise_uv / 1'000'000;
  return blueprint_->adc.code(held_uv_ + noise_uv);
}

// Whether what a pin looks at conducts.
bool Device::closed(const ChannelPlan& plan, Instant at) {
  const ReadingPlans& readings = blueprint_->readings;
  const MovedPartPlan& part = readings.parts[plan.part];
  if (plan.way == ReadWay::kContact) return parts_[plan.part].closed(at, part.contact);
  if (plan.way == ReadWay::kClick) return parts_[plan.part].closed(at, int{plan.pin}, part);
  MatrixContacts contacts;
  for (const CellPlan& cell : readings.cells)
    if (cell.conducts && parts_[cell.part].closed(at, readings.parts[cell.part].contact))
      contacts.close(static_cast<std::size_t>(cell.cell.row),
                     static_cast<std::size_t>(cell.cell.column));
  return contacts.joins(static_cast<std::size_t>(plan.cell.row),
                        static_cast<std::size_t>(plan.cell.column), readings.diodes);
}

bool Device::read_pin(const ChannelPlan& plan, bool closed) {
  std::uint64_t& levels = parts_[plan.part].levels_before;
  const std::uint64_t bit = std::uint64_t{1} << plan.pin;
  const std::size_t before = (levels & bit) != 0 ? 1 : 0;
  const bool level = (closed ? plan.readings.closed : plan.readings.open)[before];
  levels = level ? levels | bit : levels & ~bit;
  return level;
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
  send_garbled(t, bytes, blueprint_->board_baud, blueprint_->board_byte_time, outputs);
  return bytes.size();
}

// What the computer reads of bytes that come at a speed which is not its own.
void Device::send_garbled(Instant t, std::string_view bytes, Ratio baud, Ratio byte_time,
                          StepOutputs& outputs) {
  const WireDescription& wire = blueprint_->panel->description.wire;
  const ReceivedBytes read = received(bytes, {.sender_baud = baud,
                                              .own_baud = host_speed(),
                                              .samples_per_bit = 16,
                                              .data_bits = wire.data_bits,
                                              .stop_bits = wire.stop_bits});
  const std::size_t taken = host_.send_misread(t, bytes.size(), read.bytes, byte_time);
  // What finds no room is lost like what the receiver could not frame.
  const auto errors = read.frame_errors + static_cast<std::int64_t>(read.bytes.size() - taken);
  frame_errors_to_game_ += errors;
  if (errors > 0) outputs.notes.push_back({t, NoteKind::kFrameErrors, errors});
}

// A chip's ROM waits for nobody: what finds no room is gone.
void Device::send_boot_text(StepOutputs& outputs) {
  const Instant t = loader_.text_at();
  loader_.text_begins();
  const std::string_view text = blueprint_->panel->description.board.boot_text;
  const Ratio baud = blueprint_->boot_text_baud;
  const Ratio byte_time = blueprint_->boot_text_byte_time;
  if (readable(baud, host_speed(), blueprint_->host_range))
    (void)host_.send(t, text, byte_time);
  else
    send_garbled(t, text, baud, byte_time, outputs);
}

}  // namespace understudy
