// A session: one virtual clock and one or more seats. The door that the verbs, the window, replay,
// scenarios and soak use. Here the deterministic core ends: no thread, file or clock is below.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "protocol/witness.h"
#include "sim/device/device.h"
#include "sim/model/inputs.h"
#include "sim/model/outputs.h"
#include "sim/model/panel.h"
#include "sim/observe/observer.h"
#include "sim/session/player.h"
#include "sim/session/tapped_seat.h"

namespace understudy {

struct SeatInput {
  std::uint16_t seat = 0;
  Input input;
  friend bool operator==(const SeatInput&, const SeatInput&) = default;
};

// The fingerprint of the whole session at a time: every 10 s, and when asked.
struct FingerprintCheck {
  Instant at;
  std::uint64_t fingerprint = 0;
  friend bool operator==(const FingerprintCheck&, const FingerprintCheck&) = default;
};

struct SessionOutputs {
  std::vector<StepOutputs> seats;  // one for each seat, in order
  std::vector<SeatInput> played;   // hand actions of players, in order of time and seat
  std::vector<FingerprintCheck> checks;
  void clear();
};

struct SeatOptions {
  std::string name;  // unique within the session; keys the streams
  std::shared_ptr<const Panel> panel;
  bool whole_lines = false;      // each line as one chunk: not byte-true
  std::optional<PlayKind> play;  // who moves the hands by itself
  bool observed = true;          // false saves time where nobody will look
  // Where its bytes come from at first; another than the device, and it may change (TappedSeat).
  SeatSource source = SeatSource::kDevice;
};

inline constexpr Duration kCheckPeriod = seconds(10);

// Regular but for its size: copying copies every device. Thread: any one at a time.
class Session {
 public:
  explicit Session(std::uint64_t seed);

  // REQUIRES: now() is still 0; the name is not used yet.
  std::size_t add_seat(const SeatOptions& options);

  // Advances to `until` and appends all that became due in (now, until] to `outputs` (cleared
  // first). Split law: step(a), step(b) gives together what step(b) gives.
  // A reload (PanelReloaded) is taken for its seat: device, observer and player go on with the new
  // panel. Hands, and the changes that come out, count what the panel of their time has.
  // REQUIRES: until >= now(); inputs ascending in time, each in (now, until]; seats exist; of one
  // seat's inputs at one instant a reload stands first; hands move what is there (hand_on() in
  // in sim/model/panel_change.h takes a queue over a reload, and says what to drop); the source of
  // a seat that began as a device does not change.
  void step(Instant until, std::span<const SeatInput> inputs, SessionOutputs& outputs);

  [[nodiscard]] Instant now() const { return now_; }
  // When something next happens by itself; never earlier than now.
  [[nodiscard]] Instant next_due() const;
  [[nodiscard]] std::uint64_t seed() const { return seed_; }
  [[nodiscard]] std::size_t seat_count() const { return seats_.size(); }
  [[nodiscard]] const std::string& name(std::size_t seat) const { return seats_[seat].name; }
  [[nodiscard]] const Device& device(std::size_t seat) const { return seats_[seat].device; }
  // REQUIRES: the seat is observed
  [[nodiscard]] const Observer& observer(std::size_t seat) const;
  // Where the seat's bytes come from now.
  [[nodiscard]] SeatSource source(std::size_t seat) const {
    return seats_[seat].tapped ? seats_[seat].tapped->source() : SeatSource::kDevice;
  }
  // The source is another than the device, no control of it is held and no byte of it kept back:
  // what it sends next comes out as it is.
  [[nodiscard]] bool passes_unaltered(std::size_t seat) const {
    return seats_[seat].tapped && seats_[seat].tapped->passes_unaltered();
  }
  // A hand holds this part of a control in the box's place.
  [[nodiscard]] bool holds(std::size_t seat, std::size_t control, std::size_t part) const {
    return seats_[seat].tapped && seats_[seat].tapped->holds(control, part);
  }
  // The one that was read last. Its wire and host keys may wait for the next opening of the port:
  // those in force are device(seat).panel()'s.
  [[nodiscard]] const Panel& panel(std::size_t seat) const { return *seats_[seat].panel; }
  [[nodiscard]] const std::shared_ptr<const Panel>& shared_panel(std::size_t seat) const {
    return seats_[seat].panel;
  }
  // Digest of all devices. What a box or a recording sent is no state of them. Players are sources
  // of inputs and stand outside, so that a replay of what they did has the same fingerprints.
  [[nodiscard]] std::uint64_t fingerprint() const;

 private:
  struct Seat {
    std::string name;
    std::shared_ptr<const Panel> panel;
    Device device;
    std::optional<Observer> observer;
    std::optional<Player> player;
    std::vector<Input> inputs;  // scratch of one step
    protocol::WitnessSieve witness;
    std::optional<TappedSeat> tapped;  // where the source is, or was, another than the device
  };
  std::span<const SeatInput> advance(Instant until, std::span<const SeatInput> inputs,
                                     SessionOutputs& outputs);
  [[nodiscard]] Instant due_of(const Seat& seat) const;
  void step_seat(std::size_t index, Instant until, SessionOutputs& outputs);
  void play(std::size_t index, Instant until, SessionOutputs& outputs);
  static void take_out_witness_lines(Seat& seat);
  static void show_to_observer(Seat& seat, const StepOutputs& outputs, std::size_t chunk);

  std::uint64_t seed_;
  Instant now_;
  Instant next_check_{kCheckPeriod.ns};
  std::vector<Seat> seats_;
};

}  // namespace understudy
