// Reads a recording on a thread of its own, a few batches ahead of whoever counts, so that reading
// and counting take two processors. Bounded: a batch ends after some thousand events or a megabyte
// of text, and at most three are there at a time.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "sim/record/event_batch.h"
#include "sim/record/reader.h"

namespace understudy {

// A line that could not be read, and before which event of its batch it stands.
struct BadLine {
  std::size_t before = 0;
  std::string problem;
};

struct ReadBatch {
  EventBatch events;
  std::vector<BadLine> bad_lines;
};

// Thread: next() from one; the reader's own thread ends with this object.
class ReadAhead {
 public:
  // Takes `reader`, whose header was read, and begins. It must outlive this and is nobody else's
  // until next() gave null.
  explicit ReadAhead(RecordingReader& reader);
  ~ReadAhead();
  ReadAhead(const ReadAhead&) = delete;
  ReadAhead& operator=(const ReadAhead&) = delete;

  // The next batch, which lives until the next call; null at the end. Waits where none is ready.
  const ReadBatch* next();

 private:
  static constexpr std::size_t kBatches = 3;
  void read_all();
  bool fill(ReadBatch& batch);

  RecordingReader& reader_;
  std::vector<ReadBatch> batches_ = std::vector<ReadBatch>(kBatches);
  std::mutex mutex_;
  std::condition_variable changed_;
  std::size_t filled_ = 0;  // batches that were filled, in all
  std::size_t taken_ = 0;   // batches that next() gave, in all
  bool in_hand_ = false;    // the last of them is still looked at
  bool ended_ = false;
  bool stopped_ = false;
  std::thread thread_;
};

}  // namespace understudy
