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

  // Call it with all inputs of a recording, in their order: a reload changes what those after it
  // mean. each_of() goes its own way in this, by the inputs handed to it.
  // REQUIRES: is_input(event.what). Errors: a control that the panel lacks, or a number that no
  // session can have taken, or a wrong panel; a file that was changed by hand may hold one.
  Result<SeatInput> input_of(const RecordedEvent& event);

  // Of the outputs that each_of() gave last.
  [[nodiscard]] const Panel& panel(std::size_t seat) const { return *panels_[seat]; }

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
                                       std::optional<Instant> taken_at);
  [[nodiscard]] RecordedEvent event_of(const SeatInput& input);
  Result<SeatInput> reload_of(const RecordedEvent& event, const recorded::PanelRead& read);

  struct SeatTaken {
    std::shared_ptr<const Panel> panel;
    Instant last;  // input; power-on: none yet
  };
  std::vector<std::shared_ptr<const Panel>> panels_;  // as each_of() has got to know them
  std::vector<SeatTaken> taken_;                      // as input_of() has
  std::string resolved_;                              // what the last event's view points to
  std::vector<Place> order_;
};

}  // namespace understudy
