// Goes through the events; lines are read by the observer.
#include "sim/record/performance.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/model/kinds.h"
#include "sim/record/input_digest.h"
#include "sim/record/ordered_events.h"
#include "sim/record/recorded_panel.h"
#include "sim/record/session_events.h"

namespace understudy {
namespace {

using namespace recorded;

std::string share_text(std::int64_t ppm) {
  return write_quantity(ppm, Unit::kShare);
}

// "bell pressed"; how a movement is told apart from another.
std::string words_of(const HandAction& hand, const ControlDescription& control) {
  const HandPart& part = hand_parts(control)[hand.part];
  std::string text = printable(part_name(control.name, part.name));
  switch (part.way) {
    case HandWay::kPresses:
      text += hand.to_ppm >= kFullTravel / 2 ? " pressed" : " let go";
      break;
    case HandWay::kToggles:
      text += hand.to_ppm >= kFullTravel / 2 ? " on" : " off";
      break;
    case HandWay::kPlaces:
      text += fmt::format(" to {}", place_at(hand.to_ppm, control.selector.places) + 1);
      break;
    case HandWay::kSlides:
      text += " to " + share_text(hand.to_ppm);
      break;
    case HandWay::kTurns:
      text += fmt::format(" turned by {:.3f} turns", hand.to_ppm / 1e6);
      break;
  }
  return hand.duration > Duration{} ? text + " in " + write_duration(hand.duration) : text;
}

bool is_contact(HandWay way) {
  return way == HandWay::kPresses || way == HandWay::kToggles || way == HandWay::kPlaces;
}

class PerformanceReading {
 public:
  PerformanceReading(RecordingReader& reader, std::vector<SeatOptions> seats,
                     const PerformanceFrom& from)
      : reader_(reader), from_(from), events_(reader), inputs_(seats) {
    for (const SeatOptions& seat : seats) add_seat(seat);
  }

  Result<Performance> run() {
    RecordedEvent event;
    for (;;) {
      const Result<bool> got = events_.next(event);
      if (!got.ok()) return got.error();
      if (!got.value()) break;
      found_.end = event.at;
      const Result<Done> taken = take(event);
      if (!taken.ok()) return wrong_line(reader_.line_number(), taken.error().text);
    }
    found_.complete = reader_.saw_ending() && !reader_.torn();
    return std::move(found_);
  }

 private:
  struct Seat {
    std::shared_ptr<const Panel> panel;  // as read so far
    Observer observer;
    std::vector<std::optional<std::int64_t>> contacts;  // by field to the game: as last seen
    std::map<std::string, std::uint16_t, std::less<>> outputs;  // "glow.r": its place
  };

  void add_seat(const SeatOptions& options) {
    const PanelDescription& panel = options.panel->description;
    const auto seat = static_cast<std::uint16_t>(seats_.size());
    found_.seats.push_back(options.name);
    std::vector<std::string>& controls = found_.controls.emplace_back();
    for (const ControlDescription& control : panel.controls)
      controls.push_back(fmt::format("{} ({})", control.name, kind_word(control.kind)));
    seats_.push_back({.panel = options.panel,
                      .observer = Observer(options.panel),
                      .contacts = {},
                      .outputs = {}});
    for (const OutputDescription& output : panel.outputs)
      for (const std::string_view part : line_parts(output)) {
        seats_.back().outputs[part_name(output.name, part)] =
            static_cast<std::uint16_t>(found_.outputs.size());
        found_.outputs.push_back({seat, part_name(output.name, part)});
        shown_.push_back(0);
      }
  }

  Result<Done> take(const RecordedEvent& event) {
    if (event.seat == kWholeSession) return Done{};
    if (std::holds_alternative<LinkOpened>(event.what) && !found_.opened) found_.opened = event.at;
    if (const auto* set = std::get_if<OutputSet>(&event.what)) {
      if (!from_.lines_for_outputs)
        show(event.seat, event.at, part_name(set->output, set->part), set->number);
    } else if (const auto* chunk = std::get_if<ToGame>(&event.what)) {
      if (from_.lines_for_hands) look_at_contacts(event.seat, event.at, chunk->bytes);
    } else if (const auto* bytes = std::get_if<FromGame>(&event.what)) {
      if (from_.lines_for_outputs) look_at_outputs(event.seat, event.at, bytes->bytes);
    } else if (is_input(event.what)) {
      return take_input(event);
    }
    return Done{};
  }

  Result<Done> take_input(const RecordedEvent& event) {
    const auto input = inputs_.input_of(event);
    if (!input.ok()) return input.error();
    Seat& seat = seats_[event.seat];
    seat.observer.event(input.value().input);
    if (const auto* reloaded = std::get_if<PanelReloaded>(&input.value().input.what)) {
      seat.panel = reloaded->panel;
      seat.contacts.clear();
    }
    const auto* hand = std::get_if<HandAction>(&input.value().input.what);
    if (hand == nullptr || from_.lines_for_hands) return Done{};
    const ControlDescription& control = seat.panel->description.controls[hand->control];
    add_deed(event.seat, event.at, words_of(*hand, control), control.name);
    return Done{};
  }

  void add_deed(std::uint16_t seat, Instant at, const std::string& words,
                const std::string& control) {
    auto& deeds = found_.deeds;
    if (deeds.empty() || deeds.back().at != at || deeds.back().seat != seat) {
      deeds.push_back({at, seat, words, {control}});
      return;
    }
    deeds.back().words += ", " + words;
    deeds.back().controls.push_back(control);
  }

  void show(std::uint16_t seat, Instant at, std::string_view name, std::int64_t number) {
    const auto found = seats_[seat].outputs.find(name);
    if (found == seats_[seat].outputs.end()) return;  // of a panel that was read later
    if (shown_[found->second] == number) return;
    shown_[found->second] = number;
    found_.changes.push_back({at, found->second, number});
  }

  void look_at_contacts(std::uint16_t index, Instant at, std::string_view bytes) {
    Seat& seat = seats_[index];
    seat.observer.to_game(at, bytes, [&](const SeenLine& line) {
      if (line.sort != LineSort::kRead) return;
      const Panel& panel = *seat.panel;
      seat.contacts.resize(panel.to_game_fields.size());
      for (const std::uint16_t field :
           panel.to_game.format(static_cast<std::size_t>(line.format)).fields())
        look_at_contact(index, at, field, line.numbers[field]);
    });
  }

  void look_at_contact(std::uint16_t index, Instant at, std::uint16_t field, std::int64_t number) {
    Seat& seat = seats_[index];
    const FieldSource& source = seat.panel->to_game_sources[field];
    const ControlDescription& control = seat.panel->description.controls[source.part_of];
    const std::string_view name = line_parts(control)[source.part];
    for (const HandPart& part : hand_parts(control)) {
      if (part.name != name || !is_contact(part.way)) continue;
      const bool known = seat.contacts[field].has_value();
      if (known && seat.contacts[field] != number)
        add_deed(index, at, fmt::format("{} {}", printable(part_name(control.name, name)), number),
                 control.name);
      seat.contacts[field] = number;
    }
  }

  void look_at_outputs(std::uint16_t index, Instant at, std::string_view bytes) {
    Seat& seat = seats_[index];
    seat.observer.to_panel(at, bytes, [&](const SeenLine& line) {
      if (line.sort != LineSort::kRead) return;
      const Panel& panel = *seat.panel;
      for (const std::uint16_t field :
           panel.to_panel.format(static_cast<std::size_t>(line.format)).fields()) {
        const FieldSource& source = panel.to_panel_sources[field];
        const OutputDescription& output = panel.description.outputs[source.part_of];
        show(index, at, part_name(output.name, line_parts(output)[source.part]),
             line.numbers[field]);
      }
    });
  }

  RecordingReader& reader_;
  PerformanceFrom from_;
  OrderedEvents events_;
  SessionEvents inputs_;
  std::vector<Seat> seats_;
  std::vector<std::int64_t> shown_;  // by output: dark at power-on
  Performance found_;
};

}  // namespace

Result<Performance> read_performance(RecordingReader& reader, const PerformanceFrom& from) {
  auto seats = recorded_seats(reader.header());
  if (!seats.ok()) return seats.error();
  return PerformanceReading(reader, std::move(seats).value(), from).run();
}

}  // namespace understudy
