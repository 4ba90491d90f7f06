// A panel that was read anew, taken by a running device: what changes at once, what restarts the
// board as flashing would, what waits for the next opening of the port. What differs between two
// panels is worked out by sim/model/panel_change.h.
#include <utility>

#include "sim/device/device.h"
#include "sim/model/kinds.h"
#include "sim/model/panel_change.h"

namespace understudy {
namespace {

// Line formats know nothing of wire and host, so the compiled ones stay true.
std::shared_ptr<const Panel> with_wire_and_host_of(const Panel& before, const Panel& read) {
  auto panel = std::make_shared<Panel>(read);
  panel->description.wire = before.description.wire;
  panel->description.host = before.description.host;
  return panel;
}

bool same_course(SensorPart a, SensorPart b) {
  a.file.clear();
  b.file.clear();
  return a == b;
}

void add_to(Fingerprint& digest, const WireDescription& wire) {
  digest.add(static_cast<int>(wire.kind));
  digest.add(wire.baud);
  digest.add(wire.data_bits);
  digest.add(static_cast<int>(wire.parity));
  digest.add(wire.stop_bits);
  digest.add(wire.board_clock_error_ppm);
  digest.add(wire.host_clock_error_ppm);
}

void add_to(Fingerprint& digest, const HostDescription& host) {
  digest.add(host.flush.ns);
  digest.add(host.chunk_bytes_max);
  digest.add(host.buffer_bytes);
  digest.add(host.write_buffer_bytes);
  digest.add(static_cast<int>(host.full));
  digest.add(static_cast<int>(host.dtr));
}

}  // namespace

void Device::reload(Instant t, const std::shared_ptr<const Panel>& read, StepOutputs& outputs) {
  const std::shared_ptr<const Panel> before = blueprint_->panel;
  const PanelChange change = change_between(before->description, read->description);
  const bool waits = change.wire || change.host;
  waiting_ = waits ? read : nullptr;
  std::shared_ptr<const Panel> panel = waits ? with_wire_and_host_of(*before, *read) : read;
  if (change.board)
    write_board_anew(t, std::move(panel), outputs);
  else
    blueprint_ = make_blueprint(std::move(panel), blueprint_->options);
}

void Device::write_board_anew(Instant t, std::shared_ptr<const Panel> panel, StepOutputs& outputs) {
  draw_received(t, outputs);
  const std::shared_ptr<const Blueprint> before = blueprint_;
  blueprint_ = make_blueprint(std::move(panel), before->options);
  keep_hands(*before, t);
  outputs_ = PoweredOutputs(*blueprint_->panel, outputs_, *before->panel);
  received_.make_anew(blueprint_->panel->description.board.receive_ring_bytes);
  set_line(game_baud_);  // the divider of another chip makes another baud of it
  restart(t, outputs);
}

// A control of the same name and kind is the same thing: it stays where the hand has it, and its
// streams go on. Another sensor begins at t, at its own level; its steps are counted from power-on.
void Device::keep_hands(const Blueprint& before, Instant t) {
  const std::vector<MovedPart> parts = std::exchange(parts_, {});
  const std::vector<SensorOfDevice> sensors = std::exchange(sensors_, {});
  make_controls(blueprint_->options);
  const auto& controls = blueprint_->panel->description.controls;
  const PanelDescription& was = before.panel->description;
  std::size_t sensor = 0;
  for (std::size_t i = 0; i < controls.size(); ++i) {
    const ControlDescription* const old = same_control(controls[i], was);
    const std::size_t place =
        old == nullptr ? 0 : static_cast<std::size_t>(old - was.controls.data());
    if (controls[i].kind == ControlKind::kSensor) {
      SensorOfDevice& now = sensors_[sensor++];
      const SensorPart& part = controls[i].sensor;
      now.state.begin_at(t, part);
      if (old == nullptr) continue;
      const SensorOfDevice& then = sensors[before.readings.first_sensor[place]];
      now.noise = then.noise;
      if (same_course(part, old->sensor)) now.state = then.state;
      continue;
    }
    if (old == nullptr) continue;
    const auto names = hand_parts(controls[i]);
    const auto old_names = hand_parts(*old);
    for (std::size_t part = 0; part < names.size(); ++part)
      for (std::size_t other = 0; other < old_names.size(); ++other)
        if (names[part].name == old_names[other].name)
          parts_[blueprint_->readings.first_part[i] + part].go_on_from(
              parts[before.readings.first_part[place] + other]);
  }
}

// What waited is in force before anything else of the opening happens. A board with other wire keys
// is another program, so it starts anew, if not for DTR, then for that.
void Device::open(Instant t, const LinkOpened& opened, StepOutputs& outputs) {
  const bool other_wire = take_what_waits(t);
  host_.open(t, opened.takes_at_once, outputs);
  firmware_.released(t + microseconds(1));
  const bool restarted = raise_dtr(t, opened.dtr, outputs);
  if (other_wire && !restarted) restart(t, outputs);
}

// True: the wire is another one.
bool Device::take_what_waits(Instant t) {
  if (!waiting_) return false;
  const std::shared_ptr<const Panel> panel = std::exchange(waiting_, nullptr);
  const bool other_wire = panel->description.wire != blueprint_->panel->description.wire;
  blueprint_ = make_blueprint(panel, blueprint_->options);
  host_.change(t, panel->description.host, panel->description.wire.kind);
  set_line(game_baud_);
  return other_wire;
}

void Device::add_waiting_to(Fingerprint& digest) const {
  add_to(digest, waiting_->description.wire);
  add_to(digest, waiting_->description.host);
}

}  // namespace understudy
