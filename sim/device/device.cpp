// The device's clock: inputs, program and host side in order of (time, class).
#include "sim/device/device.h"

#include <algorithm>
#include <string>

#include "sim/base/check.h"
#include "sim/device/board_of_device.h"
#include "sim/wire/receiver.h"

namespace understudy {
namespace {

Duration drawn_boot(const BoardDescription& board, Stream& stream) {
  if (board.boot_spread.ns == 0) return board.boot;
  return board.boot + Duration{stream.between(-board.boot_spread.ns, board.boot_spread.ns)};
}

constexpr Duration kUsbFrame = milliseconds(1);

}  // namespace

Device::Device(std::shared_ptr<const Panel> panel, const DeviceOptions& options)
    : blueprint_(make_blueprint(std::move(panel), options)) {
  const PanelDescription& description = blueprint_->panel->description;
  make_controls(options);
  outputs_ = PoweredOutputs(*blueprint_->panel);
  host_ = HostSide(description.host, description.wire.kind, options.whole_lines);
  received_ = ReceiveRing(description.board.receive_ring_bytes);
  boot_ = Stream(options.seed, options.name + ".boot");
  set_line(0);
  start_board({}, drawn_boot(description.board, boot_));
}

void Device::make_controls(const DeviceOptions& options) {
  const auto& controls = blueprint_->panel->description.controls;
  const ReadingPlans& readings = blueprint_->readings;
  for (std::size_t i = 0; i < controls.size(); ++i) {
    const std::string key = options.name + ".control." + controls[i].name;
    const auto parts = hand_parts(controls[i]);
    for (std::size_t part = 0; part < parts.size(); ++part)
      parts_.emplace_back(readings.parts[parts_.size()], options.seed,
                          part_name(key, parts[part].name));
    if (controls[i].kind == ControlKind::kSensor)
      sensors_.push_back({.state = {controls[i].sensor, Stream(options.seed, key + ".course")},
                          .noise = Stream(options.seed, key + ".noise")});
  }
}

void Device::step(Instant until, std::span<const Input> inputs, StepOutputs& outputs) {
  CHECK(until >= now_, "a device cannot step back");
  const Input* before = nullptr;
  while (!inputs.empty()) {
    const Input& input = inputs.front();
    CHECK(input.at > now_ && input.at <= until, "an input lies outside of its step");
    CHECK(before == nullptr || before->at < input.at || class_of(*before) <= class_of(input),
          "the inputs of one instant are not in the order of their classes");
    run({input.at.ns - 1}, outputs);
    now_ = {input.at.ns - 1};
    before = &input;
    std::size_t used = 1;
    const bool outdone =
        inputs.size() > 1 && inputs[1].at == input.at && class_of(inputs[1]) == InputClass::kReload;
    if (outdone) {
      // Of several reloads at one instant the last counts.
    } else if (std::holds_alternative<BytesFromGame>(input.what))
      used = take_joined(inputs, outputs);
    else
      apply(input, outputs);
    inputs = inputs.subspan(used);
  }
  run(until, outputs);
  now_ = until;
}

// Bytes of one instant are one chunk, however many reads they came in. Returns how many inputs
// they were. REQUIRES: the first of them is bytes
std::size_t Device::take_joined(std::span<const Input> inputs, StepOutputs& outputs) {
  const Instant t = inputs.front().at;
  const auto* bytes = &std::get<BytesFromGame>(inputs.front().what);
  std::size_t used = 1;
  const auto more = [&] {
    return used < inputs.size() && inputs[used].at == t
               ? std::get_if<BytesFromGame>(&inputs[used].what)
               : nullptr;
  };
  const BytesFromGame* next = more();
  if (next == nullptr) {
    take_from_game(t, bytes->bytes, outputs);
    return used;
  }
  std::string joined = bytes->bytes;
  for (; next != nullptr; next = more()) {
    joined += next->bytes;
    ++used;
  }
  take_from_game(t, joined, outputs);
  return used;
}

// At one instant power goes first, then the loader, the program (manners), and the host side hands
// over.
void Device::run(Instant horizon, StepOutputs& outputs) {
  Board board(*this, outputs);
  for (;;) {
    const Instant flush = host_.next_flush();
    const Instant program = firmware_.due();
    const Instant power = outputs_.next_due();
    const Instant loader = loader_due();
    if (power <= loader && power <= program && power <= flush && power <= horizon) {
      pass_power(outputs);
    } else if (loader <= program && loader <= flush && loader <= horizon) {
      pass_loader(outputs);
    } else if (program <= flush && program <= horizon) {
      const Instant before_power{power.ns - 1};
      firmware_.run(blueprint_->program, board, earlier(before_power, earlier(horizon, flush)));
    } else if (flush <= horizon) {
      host_.flush(blueprint_->panel->description.host, outputs);
    } else {
      return;
    }
  }
}

void Device::pass_power(StepOutputs& outputs) {
  const Instant t = outputs_.next_due();
  if (!outputs_.pass(t, *blueprint_->panel)) return;
  outputs.notes.push_back({t, NoteKind::kBrownedOut, outputs_.load_ua()});
  restart(t, outputs);
}

void Device::apply(const Input& input, StepOutputs& outputs) {
  const Instant t = input.at;
  if (const auto* hand = std::get_if<HandAction>(&input.what)) {
    move_by_hand(t, *hand);
  } else if (const auto* taken = std::get_if<Taken>(&input.what)) {
    host_.taken(t, taken->bytes);
    firmware_.released(t + microseconds(1));
  } else if (const auto* opened = std::get_if<LinkOpened>(&input.what)) {
    open(t, *opened, outputs);
  } else if (std::holds_alternative<LinkClosed>(input.what)) {
    host_.close(t);
    firmware_.released(t + microseconds(1));
    raise_dtr(t, false, outputs);
    set_line(0);
  } else if (const auto* settings = std::get_if<LineSettings>(&input.what)) {
    set_line(settings->baud);
  } else if (const auto* lines = std::get_if<ModemLines>(&input.what)) {
    raise_dtr(t, lines->dtr, outputs);
  } else if (const auto* reloaded = std::get_if<PanelReloaded>(&input.what)) {
    reload(t, reloaded->panel, outputs);
  }
}

void Device::move_by_hand(Instant t, const HandAction& hand) {
  const auto& controls = blueprint_->panel->description.controls;
  CHECK(hand.control < controls.size() && hand.part < hand_parts(controls[hand.control]).size(),
        "a hand moved a control that is not there");
  const std::size_t part = blueprint_->readings.first_part[hand.control] + std::size_t{hand.part};
  parts_[part].move(t, hand, blueprint_->readings.parts[part]);
}

bool Device::raise_dtr(Instant t, bool dtr, StepOutputs& outputs) {
  const bool rises = dtr && !dtr_;
  const bool falls = !dtr && dtr_;
  dtr_ = dtr;
  // Behind a shut gate nothing holds the program up any more.
  if (falls) firmware_.released(t + microseconds(1));
  const bool restarts = rises && blueprint_->panel->description.host.dtr == DtrMeans::kRestarts;
  if (restarts) restart(t, outputs);
  return restarts;
}

void Device::restart(Instant t, StepOutputs& outputs) {
  const Duration boot = drawn_boot(blueprint_->panel->description.board, boot_);
  outputs.notes.push_back({t, NoteKind::kRestarted, boot.ns});
  draw_received(t, outputs);
  received_.clear();
  host_.cut_at(t);
  held_uv_ = 0;
  first_conversion_ = true;
  darken(t, t + boot, outputs);
  start_board(t, boot);
}

void Device::start_board(Instant t, Duration boot) {
  const PanelDescription& description = blueprint_->panel->description;
  firmware_.restart(blueprint_->program, t, boot);
  loader_.restart(t, t + boot,
                  description.wire.kind == WireKind::kUart && !description.board.boot_text.empty());
  if (description.board.boot_disturbed.ns == 0) loader_.leave();
}

// Its text begins; or the first byte from the game disturbs it; or the program would begin, and it
// is time to look whether further bytes did. The program does not begin before it has left.
Instant Device::loader_due() const {
  if (loader_.has_left()) return loader_.text_at();
  const Instant begins = firmware_.listens_from();
  const Instant first = loader_.heard() > 0 ? kNever : to_board_.first_arrival();
  return earlier(loader_.text_at(), earlier(first, begins));
}

void Device::pass_loader(StepOutputs& outputs) {
  const Instant t = loader_due();
  if (t == loader_.text_at()) return send_boot_text(outputs);
  draw_received(t, outputs);
  if (t >= firmware_.listens_from()) loader_.leave();
}

void Device::hear_in_loader(Instant t, StepOutputs& outputs) {
  const Duration silence = blueprint_->panel->description.board.boot_disturbed;
  const bool heard_before = loader_.heard() > 0;
  const Instant begins = loader_.hear(to_board_, t, firmware_.listens_from(), silence);
  if (begins > firmware_.listens_from()) {
    firmware_.postpone(begins);
    outputs_.postpone(begins);
  }
  if (!heard_before && loader_.heard() > 0)
    outputs.notes.push_back({t, NoteKind::kHeldInLoader, silence.ns});
}

void Device::darken(Instant t, Instant runs_from, StepOutputs& outputs) {
  const Panel& panel = *blueprint_->panel;
  for (std::size_t field = 0; field < panel.to_panel_sources.size(); ++field) {
    const std::int64_t dark = PoweredOutputs::dark_number(panel, field);
    const FieldSource source = panel.to_panel_sources[field];
    if (outputs_.number(field) != dark)
      outputs.changes.push_back(
          {.due = t, .output = source.part_of, .number = dark, .part = source.part});
  }
  outputs_.restart(t, runs_from, panel);
}

// Baud 0: nothing set, and the computer's end runs at the panel's own speed.
void Device::set_line(std::int64_t baud) {
  const WireDescription& wire = blueprint_->panel->description.wire;
  game_baud_ = baud = std::clamp<std::int64_t>(baud, 0, kBaudMax);
  garbled_to_game_ = garbled_to_panel_ = false;
  if (wire.kind == WireKind::kNativeUsb) {
    to_board_.set_byte_time(blueprint_->board_byte_time);
    return;
  }
  const Ratio host = host_speed();
  to_board_.set_byte_time(byte_time(host, blueprint_->bits_per_byte));
  garbled_to_game_ = !readable(blueprint_->board_baud, host, blueprint_->host_range);
  garbled_to_panel_ = !readable(host, blueprint_->board_baud, blueprint_->board_range);
}

Ratio Device::host_speed() const {
  const WireDescription& wire = blueprint_->panel->description.wire;
  return host_baud(wire, game_baud_ > 0 ? game_baud_ : wire.baud);
}

void Device::take_from_game(Instant t, std::string_view bytes, StepOutputs& outputs) {
  draw_received(t, outputs);
  const PanelDescription& description = blueprint_->panel->description;
  const auto limit = static_cast<std::size_t>(description.host.write_buffer_bytes);
  const std::size_t room = limit > to_board_.size() ? limit - to_board_.size() : 0;
  if (bytes.size() > room) {
    const auto lost = static_cast<std::int64_t>(bytes.size() - room);
    write_dropped_ += lost;
    outputs.notes.push_back({t, NoteKind::kWriteBufferFull, lost});
    bytes = bytes.substr(0, room);
  }
  const bool native = description.wire.kind == WireKind::kNativeUsb;
  const Instant start = native ? grid_at_or_after(t, {}, kUsbFrame) : t;
  send_to_board(start, bytes, outputs);
  firmware_.byte_coming(to_board_.first_arrival());
}

void Device::send_to_board(Instant start, std::string_view bytes, StepOutputs& outputs) {
  std::int64_t lost = 0;
  if (!garbled_to_panel_) {
    lost = static_cast<std::int64_t>(bytes.size() - to_board_.send(start, bytes));
  } else {
    const WireDescription& wire = blueprint_->panel->description.wire;
    const ReceivedBytes read =
        received(bytes, {.sender_baud = host_speed(),
                         .own_baud = blueprint_->board_baud,
                         .samples_per_bit = blueprint_->board_samples_per_bit,
                         .data_bits = wire.data_bits,
                         .stop_bits = wire.stop_bits});
    frame_errors_to_panel_ += read.frame_errors;
    if (read.frame_errors > 0)
      outputs.notes.push_back({start, NoteKind::kFrameErrors, read.frame_errors});
    const std::size_t taken = to_board_.send_misread(start, bytes.size(), read.bytes);
    lost = static_cast<std::int64_t>(read.bytes.size() - taken);
  }
  if (lost == 0) return;
  write_dropped_ += lost;
  outputs.notes.push_back({start, NoteKind::kWriteBufferFull, lost});
}

void Device::draw_received(Instant t, StepOutputs& outputs) {
  if (to_board_.first_arrival() > t) return;
  if (!loader_.has_left()) hear_in_loader(t, outputs);
  const ReceiveCounts before = received_.counts();
  received_.draw(to_board_, t, firmware_.listens_from());
  const ReceiveCounts& after = received_.counts();
  if (after.overrun > before.overrun)
    outputs.notes.push_back({t, NoteKind::kReceiveOverrun, after.overrun - before.overrun});
  if (after.lost_in_boot > before.lost_in_boot)
    outputs.notes.push_back({t, NoteKind::kLostInBoot, after.lost_in_boot - before.lost_in_boot});
}

Instant Device::next_due() const {
  return earlier(earlier(next_from_program(), loader_due()), outputs_.gives_way_at());
}

Instant Device::next_from_program() const {
  const Instant program = firmware_.due();
  const bool something_to_read =
      !received_.empty() || !to_board_.empty() || firmware_.waits_for_bytes();
  const Instant heard = something_to_read ? program : kNever;
  if (!host_.is_open()) return heard;
  // Garbled bytes may be more than those sent, so a chunk of them is full sooner.
  if (garbled_to_game_) return earlier(program, host_.next_flush());
  return earlier(heard, host_.earliest_flush(program, blueprint_->board_byte_time));
}

DeviceCounts Device::counts() const {
  return {.host = host_.counts(),
          .receive = received_.counts(),
          .write_dropped = write_dropped_,
          .frame_errors_to_game = frame_errors_to_game_,
          .frame_errors_to_panel = frame_errors_to_panel_,
          .gate_dropped = gate_dropped_,
          .lines_printed = firmware_.lines_printed()};
}

std::size_t Device::write_room() const {
  const auto limit =
      static_cast<std::size_t>(blueprint_->panel->description.host.write_buffer_bytes);
  const std::size_t on_the_way = to_board_.size() - to_board_.arrived(now_, to_board_.size());
  return limit > on_the_way ? limit - on_the_way : 0;
}

std::uint64_t Device::fingerprint() const {
  Fingerprint digest;
  digest.add(now_.ns);
  for (const MovedPart& part : parts_) part.add_to(digest);
  for (const SensorOfDevice& sensor : sensors_) {
    sensor.state.add_to(digest);
    digest.add(sensor.noise.count());
  }
  outputs_.add_to(digest);
  firmware_.add_to(digest);
  host_.add_to(digest);
  to_board_.add_to(digest);
  received_.add_to(digest);
  if (loader_.is_in_use()) loader_.add_to(digest);
  digest.add(boot_.count());
  digest.add(held_uv_);
  digest.add(game_baud_);
  digest.add(write_dropped_);
  digest.add(frame_errors_to_game_);
  digest.add(frame_errors_to_panel_);
  digest.add(gate_dropped_);
  digest.add(dtr_);
  digest.add(first_conversion_);
  if (waiting_) add_waiting_to(digest);
  return digest.value();
}

}  // namespace understudy
