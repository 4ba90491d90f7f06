// Steps every seat to the same time; players act within the step, checks are made on their beat.
#include "sim/session/session.h"

#include <algorithm>

#include "sim/base/check.h"
#include "sim/base/fingerprint.h"

namespace understudy {
namespace {

// How often the virtual box of a tapped seat is brought along where nothing else happens.
constexpr Duration kBesidePeriod = milliseconds(20);

bool before(const Input& a, const Input& b) {
  if (a.at != b.at) return a.at < b.at;
  return class_of(a) < class_of(b);
}

}  // namespace

void SessionOutputs::clear() {
  for (StepOutputs& seat : seats) seat.clear();
  played.clear();
  checks.clear();
}

Session::Session(std::uint64_t seed) : seed_(seed) {}

std::size_t Session::add_seat(const SeatOptions& options) {
  CHECK(now_ == Instant{}, "a seat was added to a running session");
  for (const Seat& seat : seats_) CHECK(seat.name != options.name, "two seats have one name");
  Seat seat{
      .name = options.name,
      .panel = options.panel,
      .device = Device(options.panel,
                       {.seed = seed_, .name = options.name, .whole_lines = options.whole_lines}),
      .observer = std::nullopt,
      .player = std::nullopt,
      .inputs = {},
      .witness = {},
      .tapped = std::nullopt};
  if (options.source != SeatSource::kDevice) seat.tapped.emplace(options.panel, options.source);
  if (options.observed) seat.observer.emplace(options.panel);
  if (options.play) seat.player.emplace(*options.play, *options.panel, seed_, options.name);
  seats_.push_back(std::move(seat));
  return seats_.size() - 1;
}

const Observer& Session::observer(std::size_t seat) const {
  CHECK(seats_[seat].observer.has_value(), "an unobserved seat's observer was asked for");
  return *seats_[seat].observer;
}

Instant Session::next_due() const {
  Instant due = next_check_;
  for (const Seat& seat : seats_) {
    due = earlier(due, due_of(seat));
    if (seat.player) due = earlier(due, seat.player->next_due());
  }
  return later(due, now_);
}

// A virtual box that runs beside another source has nobody who waits for what it does.
Instant Session::due_of(const Seat& seat) const {
  const bool beside = seat.tapped && seat.tapped->source() != SeatSource::kDevice;
  const Instant due = seat.device.next_due();
  return beside && due != kNever ? later(due, now_ + kBesidePeriod) : due;
}

void Session::step(Instant until, std::span<const SeatInput> inputs, SessionOutputs& outputs) {
  CHECK(until >= now_, "a session cannot step back");
  outputs.seats.resize(seats_.size());
  outputs.clear();
  while (next_check_ <= until) {
    inputs = advance(next_check_, inputs, outputs);
    outputs.checks.push_back({next_check_, fingerprint()});
    next_check_ = next_check_ + kCheckPeriod;
  }
  inputs = advance(until, inputs, outputs);
  CHECK(inputs.empty(), "an input lies beyond its step");
  // Seats are stepped one after the other; what their players did is told in the order of time.
  std::stable_sort(outputs.played.begin(), outputs.played.end(),
                   [](const SeatInput& a, const SeatInput& b) {
                     return a.input.at != b.input.at ? a.input.at < b.input.at : a.seat < b.seat;
                   });
}

std::span<const SeatInput> Session::advance(Instant until, std::span<const SeatInput> inputs,
                                            SessionOutputs& outputs) {
  const auto beyond = std::find_if(inputs.begin(), inputs.end(),
                                   [&](const SeatInput& i) { return i.input.at > until; });
  const auto count = static_cast<std::size_t>(beyond - inputs.begin());
  for (Seat& seat : seats_) seat.inputs.clear();
  for (const SeatInput& input : inputs.first(count)) {
    CHECK(input.seat < seats_.size(), "an input names a seat that is not there");
    seats_[input.seat].inputs.push_back(input.input);
  }
  for (std::size_t i = 0; i < seats_.size(); ++i) step_seat(i, until, outputs);
  now_ = until;
  return inputs.subspan(count);
}

void Session::step_seat(std::size_t index, Instant until, SessionOutputs& outputs) {
  Seat& seat = seats_[index];
  play(index, until, outputs);
  std::stable_sort(seat.inputs.begin(), seat.inputs.end(), before);
  take_out_witness_lines(seat);
  StepOutputs& seat_outputs = outputs.seats[index];
  const std::size_t chunks_before = seat_outputs.chunks.size();
  if (seat.tapped)
    seat.tapped->step(seat.device, until, seat.inputs, seat_outputs);
  else
    seat.device.step(until, seat.inputs, seat_outputs);
  if (seat.observer) show_to_observer(seat, seat_outputs, chunks_before);
}

// Reloads of the step come to the player in their time, and the last one stays.
void Session::play(std::size_t index, Instant until, SessionOutputs& outputs) {
  Seat& seat = seats_[index];
  const auto play_until = [&](Instant t) {
    while (seat.player && seat.player->next_due() <= t) {
      seat.inputs.push_back(seat.player->play(*seat.panel));
      outputs.played.push_back({static_cast<std::uint16_t>(index), seat.inputs.back()});
    }
  };
  const std::size_t given = seat.inputs.size();
  for (std::size_t i = 0; i < given; ++i) {
    const auto* reloaded = std::get_if<PanelReloaded>(&seat.inputs[i].what);
    if (reloaded == nullptr) continue;
    const Instant t = seat.inputs[i].at;
    std::shared_ptr<const Panel> panel = reloaded->panel;
    play_until({t.ns - 1});
    if (seat.player) seat.player->reload(t, *panel, *seat.panel);
    seat.panel = std::move(panel);
  }
  play_until(until);
}

// What a game says to its testers is no word to the board. Bytes of one instant are one piece,
// however many reads they came in.
void Session::take_out_witness_lines(Seat& seat) {
  std::vector<Input>& inputs = seat.inputs;
  std::size_t kept = 0;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    auto* bytes = std::get_if<BytesFromGame>(&inputs[i].what);
    if (bytes != nullptr) {
      std::string joined = std::move(bytes->bytes);
      for (; i + 1 < inputs.size() && inputs[i + 1].at == inputs[i].at; ++i) {
        const auto* more = std::get_if<BytesFromGame>(&inputs[i + 1].what);
        if (more == nullptr) break;
        joined += more->bytes;
      }
      std::string rest;
      seat.witness.take(joined, rest);
      if (rest.empty()) continue;
      inputs[kept++] = {inputs[i].at, BytesFromGame{std::move(rest)}};
      continue;
    }
    const bool opened = std::holds_alternative<LinkOpened>(inputs[i].what);
    if (opened || std::holds_alternative<LinkClosed>(inputs[i].what)) seat.witness.begin_anew();
    if (kept != i) inputs[kept] = std::move(inputs[i]);
    ++kept;
  }
  inputs.resize(kept);
}

// In order of time; at one instant what came in goes first, as in the device.
void Session::show_to_observer(Seat& seat, const StepOutputs& outputs, std::size_t chunk) {
  const auto show_chunks = [&](Instant before_time) {
    for (; chunk < outputs.chunks.size() && outputs.chunks[chunk].due < before_time; ++chunk)
      seat.observer->to_game(outputs.chunks[chunk].due, outputs.bytes_of(outputs.chunks[chunk]));
  };
  for (const Input& input : seat.inputs) {
    show_chunks(input.at);
    if (const auto* bytes = std::get_if<BytesFromGame>(&input.what))
      seat.observer->to_panel(input.at, bytes->bytes);
    else
      seat.observer->event(input);
  }
  show_chunks(kNever);
}

std::uint64_t Session::fingerprint() const {
  Fingerprint digest;
  digest.add(now_.ns);
  for (const Seat& seat : seats_) {
    digest.add(seat.device.fingerprint());
    // A witness line that has begun is state as well.
    if (const std::size_t begun = seat.witness.on_the_way(); begun > 0) digest.add(begun);
  }
  return digest.value();
}

}  // namespace understudy
