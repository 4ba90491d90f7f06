// A running digest of all that a recording feeds into a session. It stands in each check, so that a
// changed input is found even where it had no consequence that anybody could see.
#pragma once

#include "sim/base/fingerprint.h"
#include "sim/record/event.h"

namespace understudy {

// True for what came from outside: link events, hands, bytes from the game, panel files.
bool is_input(const recorded::What& what);
// True for what a hand did.
bool is_hand(const recorded::What& what);

// A regular value.
class InputDigest {
 public:
  // Begins with the seed, the model, and each seat's name and way of sending.
  explicit InputDigest(const RecordingHeader& header);
  // Ignores events that are no inputs.
  void add(const RecordedEvent& event);
  [[nodiscard]] std::uint64_t value() const { return digest_.value(); }

 private:
  Fingerprint digest_;
};

}  // namespace understudy
