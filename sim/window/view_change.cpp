// Looks at what can be seen only: a device's clock and its insides go on all the time.
#include "sim/window/view_change.h"

#include <algorithm>

#include "sim/model/kinds.h"

namespace understudy {
namespace {

bool controls_moved(const Device& older, const Device& newer) {
  const std::vector<ControlDescription>& controls = newer.panel().description.controls;
  for (std::size_t i = 0; i < controls.size(); ++i) {
    const std::size_t parts = hand_parts(controls[i]).size();
    for (std::size_t part = 0; part < parts; ++part) {
      if (older.position_ppm(i, part) != newer.position_ppm(i, part)) return true;
    }
  }
  return false;
}

bool outputs_changed(const Device& older, const Device& newer) {
  const Panel& panel = newer.panel();
  for (std::size_t i = 0; i < panel.to_panel_fields.size(); ++i) {
    if (older.output_number(i) != newer.output_number(i)) return true;
  }
  for (std::size_t i = 0; i < panel.description.outputs.size(); ++i) {
    if (older.powered().needle_mdeg(older.now(), i) != newer.powered().needle_mdeg(newer.now(), i))
      return true;
  }
  return older.powered().voltage_uv() != newer.powered().voltage_uv();
}

bool links_opened(const SeatView& older, const SeatView& newer) {
  return !std::equal(older.links.begin(), older.links.end(), newer.links.begin(), newer.links.end(),
                     [](const LinkView& one, const LinkView& other) {
                       return one.open == other.open && one.where == other.where;
                     });
}

bool seat_changed(const SeatView& older, const SeatView& newer) {
  const Device& before = older.device;
  const Device& now = newer.device;
  return &before.panel() != &now.panel() || older.path != newer.path ||
         before.starting() != now.starting() || before.stopped() != now.stopped() ||
         before.is_open() != now.is_open() || before.dtr() != now.dtr() ||
         links_opened(older, newer) || controls_moved(before, now) || outputs_changed(before, now);
}

std::int64_t lines_of(const Traffic& traffic) {
  const LineCounts& counts = traffic.counts();
  return counts.bytes + counts.known + counts.unknown + counts.broken;
}

bool traffic_passed(const SeatView& older, const SeatView& newer) {
  return lines_of(older.observer.traffic_to_game()) != lines_of(newer.observer.traffic_to_game()) ||
         lines_of(older.observer.traffic_to_panel()) != lines_of(newer.observer.traffic_to_panel());
}

// Where it stands changes with traffic; the rest is seen at once.
bool timeline_changed(const SessionView& older, const SessionView& newer) {
  if (older.timeline.has_value() != newer.timeline.has_value()) return true;
  if (!older.timeline) return false;
  const TimelineView& before = *older.timeline;
  const TimelineView& now = *newer.timeline;
  return before.playing != now.playing || before.speed != now.speed || before.jumps != now.jumps ||
         before.repeated != now.repeated || before.taken_over != now.taken_over;
}

}  // namespace

ViewChange change_between(const SessionView& older, const SessionView& newer) {
  if (older.seats.size() != newer.seats.size() || older.game.state != newer.game.state ||
      older.game.pid != newer.game.pid || older.recording != newer.recording ||
      timeline_changed(older, newer)) {
    return ViewChange::kFace;
  }
  const bool passes = newer.timeline && older.now != newer.now;
  ViewChange change = passes ? ViewChange::kTraffic : ViewChange::kNone;
  for (std::size_t i = 0; i < newer.seats.size(); ++i) {
    if (seat_changed(older.seats[i], newer.seats[i])) return ViewChange::kFace;
    if (traffic_passed(older.seats[i], newer.seats[i])) change = ViewChange::kTraffic;
  }
  return change;
}

}  // namespace understudy
