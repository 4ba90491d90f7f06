// One step of a session as events in the order of a recording, and a recorded event as an input of
// a session. Recorder and verification share this, so that they cannot disagree about order.
//
// The order: by time; at one instant inputs first, in the order they were given, then hands of
// players, changes of outputs, chunks, notes, and last the check, which covers all of them.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/record/event.h"
#include "sim/session/session.h"

namespace understudy {

// Thread: one at a time. Allocates only while its longest step still grows.
class SessionEvents {
 public:
  explicit SessionEvents(std::span<const SeatOptions> seats);

  // Calls sink(const RecordedEvent&) for everything that went into and came out of one step.
  // `taken_at` is when the links had taken the step's chunks; none in virtual time.
  // Checks come without their digest of inputs, which is the sink's.
  template <class Sink>
  void each_of(std::span<const SeatInput> inputs, const SessionOutputs& outputs,
               std::optional<Instant> taken_at, Sink&& sink) {
    put_in_order(inputs, outputs);
    for (const Place& place : order_) sink(event_at(place, inputs, outputs, taken_at));
  }

  // REQUIRES: is_input(event.what). Errors: a control that the panel lacks, or a number that no
  // session can have taken; a file that was changed by hand may hold one.
  [[nodiscard]] Result<SeatInput> input_of(const RecordedEvent& event) const;

  [[nodiscard]] const Panel& panel(std::size_t seat) const { return *seats_[seat].panel; }

 private:
  enum class Rank : std::uint8_t { kGiven, kPlayed, kChange, kChunk, kNote, kCheck };
  struct Place {
    Instant at;
    Rank rank;
    std::uint16_t seat;
    std::uint32_t index;
    friend auto operator<=>(const Place&, const Place&) = default;
  };
  void put_in_order(std::span<const SeatInput> inputs, const SessionOutputs& outputs);
  [[nodiscard]] RecordedEvent event_at(const Place& place, std::span<const SeatInput> inputs,
                                       const SessionOutputs& outputs,
                                       std::optional<Instant> taken_at) const;
  [[nodiscard]] RecordedEvent event_of(const SeatInput& input) const;

  std::vector<SeatOptions> seats_;
  std::vector<Place> order_;
};

}  // namespace understudy
