// Counts, and turns hands and panel files into inputs to see whether they are some.
#include "sim/record/survey.h"

#include "sim/record/input_digest.h"
#include "sim/record/ordered_events.h"
#include "sim/record/recorded_panel.h"
#include "sim/record/session_events.h"

namespace understudy {
namespace {

using namespace recorded;

void count(const RecordedEvent& event, RecordingSurvey& into) {
  if (std::holds_alternative<Mark>(event.what)) ++into.marks;
  if (const auto* ended = std::get_if<Ended>(&event.what))
    into.complete = ended->reason == kEndedComplete;
  if (event.seat == kWholeSession) return;
  SurveyedSeat& seat = into.seats[event.seat];
  if (is_hand(event.what)) ++seat.hands;
  if (std::holds_alternative<PanelRead>(event.what)) ++seat.reloads;
  if (std::holds_alternative<ToGame>(event.what)) ++seat.to_game;
  if (std::holds_alternative<FromGame>(event.what)) ++seat.from_game;
  if (std::holds_alternative<OutputSet>(event.what)) ++seat.outputs;
}

}  // namespace

Result<RecordingSurvey> survey(RecordingReader& reader) {
  const auto seats = recorded_seats(reader.header());
  if (!seats.ok()) return seats.error();
  SessionEvents inputs(seats.value());
  OrderedEvents events(reader);
  RecordingSurvey found;
  found.seats.resize(seats.value().size());
  RecordedEvent event;
  for (;;) {
    const Result<bool> got = events.next(event);
    if (!got.ok()) return got.error();
    if (!got.value()) break;
    count(event, found);
    found.end = event.at;
    if (!is_hand(event.what) && !std::holds_alternative<PanelRead>(event.what)) continue;
    const auto input = inputs.input_of(event);
    if (!input.ok()) return wrong_line(reader.line_number(), input.error().text);
  }
  found.torn = reader.torn();
  found.passed_over = reader.passed_over();
  return found;
}

}  // namespace understudy
