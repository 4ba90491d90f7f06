// Sorts small places rather than events; in the usual step they stand in order already.
#include "sim/record/session_events.h"

#include <algorithm>

#include "sim/base/text.h"
#include "sim/model/kinds.h"
#include "sim/panel/panel_file.h"
#include "sim/record/recorded_panel.h"

namespace understudy {
namespace {

using namespace recorded;

// Below this, lateness says more about the machine's timers than about the link.
constexpr std::int64_t kLateUsMin = 50;
// No hand takes longer for one movement; it also keeps sums of times far from their limits.
constexpr Duration kGestureMax = seconds(24 * 3'600);
// Nor turns anything further than a thousand times round.
constexpr std::int64_t kTurnPpmMax = 1'000'000'000;

std::int64_t late_us(Instant due, std::optional<Instant> taken_at) {
  if (!taken_at) return 0;
  const std::int64_t late = (*taken_at - due).ns / 1'000;
  return late < kLateUsMin ? 0 : late;
}

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

std::string out_of_range(const char* key, std::int64_t value, std::int64_t low, std::int64_t high) {
  return "\"" + std::string(key) + "\" is " + std::to_string(value) +
         "; it should be a whole number from " + std::to_string(low) + " to " +
         std::to_string(high);
}

struct NamedPart {
  std::uint16_t control = 0;
  std::uint8_t part = 0;
  HandWay way = HandWay::kSlides;
};

// The part of a control that a hand moves.
template <class Gesture>
Result<NamedPart> part_from(const Gesture& hand, const Panel& panel) {
  const auto& controls = panel.description.controls;
  const auto control =
      std::find_if(controls.begin(), controls.end(),
                   [&](const ControlDescription& c) { return c.name == hand.control; });
  if (control == controls.end())
    return unusable("the panel has no control \"" + printable(hand.control) + "\"");
  const std::span<const HandPart> parts = hand_parts(*control);
  const auto part = std::find_if(parts.begin(), parts.end(),
                                 [&](const HandPart& p) { return p.name == hand.part; });
  if (part == parts.end())
    return unusable("no hand moves \"" + printable(part_name(hand.control, hand.part)) + "\"");
  return NamedPart{static_cast<std::uint16_t>(control - controls.begin()),
                   static_cast<std::uint8_t>(part - parts.begin()), part->way};
}

// The part of the control that was moved or turned; the rest of the action is the caller's.
template <class Gesture>
Result<HandAction> action_from(const Gesture& hand, bool turned, const Panel& panel) {
  const Result<NamedPart> part = part_from(hand, panel);
  if (!part.ok()) return part.error();
  const std::string whole = printable(part_name(hand.control, hand.part));
  if ((part.value().way == HandWay::kTurns) != turned)
    return unusable("\"" + whole + "\" is " +
                    (turned ? "moved with \"control\" and \"to_ppm\""
                            : "turned with \"turned\" and \"by_ppm\""));
  if (hand.duration < Duration{} || hand.duration > kGestureMax)
    return unusable(out_of_range("duration_ns", hand.duration.ns, 0, kGestureMax.ns));
  return HandAction{.control = part.value().control,
                    .part = part.value().part,
                    .to_ppm = 0,
                    .duration = hand.duration,
                    .curve = hand.curve};
}

Result<Input> input_from(Instant at, const HandMoved& hand, const Panel& panel) {
  Result<HandAction> action = action_from(hand, false, panel);
  if (!action.ok()) return action.error();
  if (hand.to_ppm < 0 || hand.to_ppm > kFullTravel)
    return unusable(out_of_range("to_ppm", hand.to_ppm, 0, kFullTravel));
  action.value().to_ppm = static_cast<std::int32_t>(hand.to_ppm);
  return Input{at, action.value()};
}

Result<Input> input_from(Instant at, const HandTurned& hand, const Panel& panel) {
  Result<HandAction> action = action_from(hand, true, panel);
  if (!action.ok()) return action.error();
  if (hand.by_ppm < -kTurnPpmMax || hand.by_ppm > kTurnPpmMax)
    return unusable(out_of_range("by_ppm", hand.by_ppm, -kTurnPpmMax, kTurnPpmMax));
  action.value().to_ppm = static_cast<std::int32_t>(hand.by_ppm);
  return Input{at, action.value()};
}

Result<Input> input_from(Instant at, const HandHeld& hand, const Panel& panel) {
  const Result<NamedPart> part = part_from(hand, panel);
  if (!part.ok()) return part.error();
  return Input{
      at,
      ControlHeld{.control = part.value().control, .part = part.value().part, .held = hand.held}};
}

Result<Input> input_from(Instant at, const SourceChanged& it, const Panel&) {
  return Input{at, it};
}

Result<Input> input_from(Instant at, const FromGame& it, const Panel&) {
  return Input{at, BytesFromGame{std::string(it.bytes)}};
}

Result<Input> input_from(Instant at, const Taken& it, const Panel&) {
  if (it.bytes < 0) return unusable("\"bytes\" is " + std::to_string(it.bytes) + ", below 0");
  return Input{at, it};
}

Result<Input> input_from(Instant at, const LineSettings& it, const Panel&) {
  constexpr std::int64_t kBaudMax = 100'000'000;
  if (it.baud < 0 || it.baud > kBaudMax)
    return unusable("\"baud\" is " + std::to_string(it.baud) +
                    "; it should be a whole number from 0 to " + std::to_string(kBaudMax));
  return Input{at, it};
}

Result<Input> input_from(Instant at, const Slipped& it, const Panel&) {
  return Input{at, it};
}
Result<Input> input_from(Instant at, const ModemLines& it, const Panel&) {
  return Input{at, it};
}
Result<Input> input_from(Instant at, const LinkOpened& it, const Panel&) {
  return Input{at, it};
}
Result<Input> input_from(Instant at, const LinkClosed& it, const Panel&) {
  return Input{at, it};
}

template <class Output>
Result<Input> input_from(Instant, const Output&, const Panel&) {
  return unusable("this is no input");
}

What gesture_of(const HandAction& hand, const Panel& panel) {
  const ControlDescription& control = panel.description.controls[hand.control];
  const HandPart& part = hand_parts(control)[hand.part];
  if (part.way == HandWay::kTurns)
    return HandTurned{control.name, hand.to_ppm, hand.duration, hand.curve, part.name};
  return HandMoved{control.name, hand.to_ppm, hand.duration, hand.curve, part.name};
}

}  // namespace

SessionEvents::SessionEvents(std::span<const SeatOptions> seats) {
  for (const SeatOptions& seat : seats) {
    panels_.push_back(seat.panel);
    taken_.push_back({.panel = seat.panel, .last = {}});
  }
}

void SessionEvents::put_in_order(std::span<const SeatInput> inputs, const SessionOutputs& outputs) {
  order_.clear();
  // What a box said is told by what went on of it.
  const auto is_told = [](const SeatInput& input) {
    return !std::holds_alternative<BoxBytes>(input.input.what);
  };
  const auto add = [this](Instant at, Rank rank, std::size_t seat, std::size_t index) {
    order_.push_back(
        {at, rank, static_cast<std::uint16_t>(seat), static_cast<std::uint32_t>(index)});
  };
  // Given inputs keep their order across seats, so the seat does not count.
  for (std::size_t i = 0; i < inputs.size(); ++i)
    if (is_told(inputs[i])) add(inputs[i].input.at, Rank::kGiven, 0, i);
  for (std::size_t i = 0; i < outputs.played.size(); ++i)
    add(outputs.played[i].input.at, Rank::kPlayed, outputs.played[i].seat, i);
  for (std::size_t seat = 0; seat < outputs.seats.size(); ++seat) {
    const StepOutputs& of_seat = outputs.seats[seat];
    for (std::size_t i = 0; i < of_seat.changes.size(); ++i)
      add(of_seat.changes[i].due, Rank::kChange, seat, i);
    for (std::size_t i = 0; i < of_seat.chunks.size(); ++i)
      add(of_seat.chunks[i].due, Rank::kChunk, seat, i);
    for (std::size_t i = 0; i < of_seat.notes.size(); ++i)
      add(of_seat.notes[i].due, Rank::kNote, seat, i);
  }
  for (std::size_t i = 0; i < outputs.checks.size(); ++i)
    add(outputs.checks[i].at, Rank::kCheck, 0, i);
  if (!std::is_sorted(order_.begin(), order_.end())) std::sort(order_.begin(), order_.end());
}

RecordedEvent SessionEvents::event_of(const SeatInput& input) {
  RecordedEvent event{input.input.at, input.seat, {}};
  if (const auto* hand = std::get_if<HandAction>(&input.input.what)) {
    event.what = gesture_of(*hand, *panels_[input.seat]);
  } else if (const auto* reloaded = std::get_if<PanelReloaded>(&input.input.what)) {
    panels_[input.seat] = reloaded->panel;
    resolved_ = resolved_toml(reloaded->panel->description);
    event.what = PanelRead{.panel = reloaded->panel->text, .resolved = resolved_};
  } else if (const auto* bytes = std::get_if<BytesFromGame>(&input.input.what)) {
    event.what = FromGame{bytes->bytes};
  } else if (const auto* held = std::get_if<ControlHeld>(&input.input.what)) {
    const ControlDescription& control = panels_[input.seat]->description.controls[held->control];
    event.what = HandHeld{control.name, held->held, hand_parts(control)[held->part].name};
  } else {
    std::visit(
        [&event](const auto& it) {
          if constexpr (std::is_constructible_v<What, decltype(it)>) event.what = it;
        },
        input.input.what);
  }
  return event;
}

RecordedEvent SessionEvents::event_at(const Place& place, std::span<const SeatInput> inputs,
                                      const SessionOutputs& outputs,
                                      std::optional<Instant> taken_at) {
  if (place.rank == Rank::kGiven) return event_of(inputs[place.index]);
  if (place.rank == Rank::kPlayed) return event_of(outputs.played[place.index]);
  if (place.rank == Rank::kCheck)
    return {place.at, kWholeSession, Check{outputs.checks[place.index].fingerprint, 0}};
  const StepOutputs& of_seat = outputs.seats[place.seat];
  if (place.rank == Rank::kChange) {
    const OutputChange& change = of_seat.changes[place.index];
    const OutputDescription& output = panels_[place.seat]->description.outputs[change.output];
    return {place.at, place.seat,
            OutputSet{output.name, change.number, line_parts(output)[change.part]}};
  }
  if (place.rank == Rank::kNote) {
    const Note& note = of_seat.notes[place.index];
    return {place.at, place.seat, Noted{note.kind, note.count}};
  }
  const Chunk& chunk = of_seat.chunks[place.index];
  return {place.at, place.seat, ToGame{of_seat.bytes_of(chunk), late_us(place.at, taken_at)}};
}

Result<SeatInput> SessionEvents::input_of(const RecordedEvent& event) {
  if (event.at <= Instant{}) return unusable("an input at power-on, before anything can come in");
  SeatTaken& taken = taken_[event.seat];
  if (const auto* read = std::get_if<PanelRead>(&event.what)) return reload_of(event, *read);
  taken.last = event.at;
  Result<Input> input = std::visit(
      [&](const auto& it) { return input_from(event.at, it, *taken.panel); }, event.what);
  if (!input.ok()) return input.error();
  return SeatInput{event.seat, std::move(input).value()};
}

Result<SeatInput> SessionEvents::reload_of(const RecordedEvent& event, const PanelRead& read) {
  SeatTaken& taken = taken_[event.seat];
  if (taken.last == event.at)
    return unusable(
        "a panel file was read at the time of an input above; its line should stand first");
  taken.last = event.at;
  Result<std::shared_ptr<const Panel>> panel = recorded_panel(
      {.panel = read.panel, .resolved = read.resolved, .name = taken.panel->description.name});
  if (!panel.ok()) return panel.error();
  taken.panel = panel.value();
  return SeatInput{event.seat, {event.at, PanelReloaded{std::move(panel).value()}}};
}

}  // namespace understudy
