// Reads a recording's events in batches that end between two instants, so that memory stays bounded
// and no instant is cut; looks after what can be seen without a session.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/record/event_batch.h"
#include "sim/record/input_digest.h"
#include "sim/record/ordered_events.h"
#include "sim/record/reader.h"

namespace understudy {

// Inputs between two lines of the file (checks, or the header first) are not those that were played
// when it was made.
struct ChangedInputs {
  std::int64_t after_line = 1;
  std::int64_t before_line = 0;
};

// The order of time, the digests of inputs, the ending. Marks and the ending are in no batch.
// Errors of all calls: kUnusable, naming the line. Thread: one at a time.
class VerifyBatches {
 public:
  explicit VerifyBatches(RecordingReader& reader)
      : reader_(reader), events_(reader), digest_(reader.header()) {}

  // The next batch; empty at the end.
  Result<Done> fill();
  [[nodiscard]] const std::vector<KeptEvent>& events() const { return batch_.events(); }

  // After a difference: goes on to the next check, whose digest tells whether inputs were changed.
  void look_for_changed_inputs();
  // The first check whose digest is not that of the inputs before it, and the check before that.
  [[nodiscard]] const std::optional<ChangedInputs>& changed_inputs() const {
    return changed_inputs_;
  }

  [[nodiscard]] bool at_end() const { return at_end_; }
  // The ending was there and says that nothing is missing.
  [[nodiscard]] bool complete() const { return complete_; }
  // Events read so far.
  [[nodiscard]] std::int64_t taken() const { return taken_; }

 private:
  Result<bool> take(RecordedEvent& event);

  RecordingReader& reader_;
  OrderedEvents events_;
  InputDigest digest_;
  EventBatch batch_;
  std::optional<RecordedEvent> ahead_;  // read, and of the next batch
  std::int64_t ahead_line_ = 0;
  std::int64_t taken_ = 0;
  std::int64_t checks_seen_ = 0;
  std::int64_t check_line_ = 1;  // of the last check
  std::optional<ChangedInputs> changed_inputs_;
  Instant last_;
  bool at_end_ = false;
  bool complete_ = false;
};

}  // namespace understudy
