// Copies, and nothing but copies: the session goes on the moment this is done.
#include "sim/app/window_feed.h"

#include <algorithm>
#include <string>
#include <variant>

namespace understudy {
namespace {

void add_input(const SeatInput& it, std::vector<FeedItem>& items) {
  if (const auto* bytes = std::get_if<BytesFromGame>(&it.input.what))
    items.push_back({it.input.at, it.seat, FedBytes{.to_game = false, .bytes = bytes->bytes}});
  else
    items.push_back({it.input.at, it.seat, FedInput{it.input}});
}

void add_outputs(std::uint16_t seat, const StepOutputs& outputs, std::vector<FeedItem>& items) {
  for (const Chunk& chunk : outputs.chunks)
    items.push_back({chunk.due, seat,
                     FedBytes{.to_game = true, .bytes = std::string(outputs.bytes_of(chunk))}});
  for (const OutputChange& change : outputs.changes)
    items.push_back({change.due, seat, FedChange{change}});
  for (const Note& note : outputs.notes) items.push_back({note.due, seat, FedNote{note}});
}

}  // namespace

void add_passed(const Turn& turn, std::vector<FeedItem>& items) {
  for (const SeatInput& input : turn.inputs) add_input(input, items);
  for (const SeatInput& input : turn.outputs.played) add_input(input, items);
  for (std::size_t seat = 0; seat < turn.outputs.seats.size(); ++seat)
    add_outputs(static_cast<std::uint16_t>(seat), turn.outputs.seats[seat], items);
}

void put_in_order(std::vector<FeedItem>& items) {
  std::stable_sort(items.begin(), items.end(),
                   [](const FeedItem& a, const FeedItem& b) { return a.at < b.at; });
}

std::shared_ptr<SessionView> view_of(const Session& session, std::span<const SeatPlan> seats) {
  auto view = std::make_shared<SessionView>();
  view->now = session.now();
  view->seed = session.seed();
  view->seats.reserve(seats.size());
  for (std::size_t i = 0; i < seats.size(); ++i)
    view->seats.push_back({.name = seats[i].name,
                           .path = seats[i].path,
                           .device = session.device(i),
                           .observer = session.observer(i),
                           .panel = session.shared_panel(i),
                           .links = {}});
  return view;
}

}  // namespace understudy
