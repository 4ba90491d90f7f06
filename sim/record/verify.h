// Does a recording hold? A fresh session gets all recorded inputs and must give all recorded
// outputs again: chunks with their times, changes of outputs, notes, fingerprints.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "sim/base/result.h"
#include "sim/record/difference.h"
#include "sim/record/reader.h"
#include "sim/record/verify_batches.h"

namespace understudy {

struct VerifyReport {
  std::optional<Difference> difference;  // the first one; none: the recording holds
  // The recording's own digests say that inputs between two lines were changed after it was made.
  std::optional<ChangedInputs> changed_inputs;
  Instant until;                 // how far it was verified
  std::int64_t events = 0;       // of all kinds, looked at
  std::int64_t checks = 0;       // fingerprints that agreed
  bool complete = false;         // the file has its ending; else it was cut off and holds so far
  bool torn = false;             // its last line is cut
  std::int64_t not_ours = 0;     // chunks of a box or a recording: no device says them again
  std::int64_t passed_over = 0;  // events of a newer format: what they did is not verified

  [[nodiscard]] bool holds() const { return !difference && !changed_inputs; }
};

// Reads `reader` to its end or to the first difference, in bounded memory. Errors: kOtherModel
// (made by another model number), kUnusable (a panel in the header that is none, a line that is
// wrong or out of order, an input that no session can have taken; the message names the line).
// Thread: any; takes as long as the session takes without waiting for a clock.
Result<VerifyReport> verify(RecordingReader& reader);

}  // namespace understudy
