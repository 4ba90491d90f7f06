// Writes a recording from a thread of its own, so that a slow or full disk never holds up whoever
// records. What was written is in the file within kFlushPeriod; the rest is lost when the program
// is killed, and the file opens all the same.
#pragma once

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

#include "sim/base/result.h"
#include "sim/record/byte_pipe.h"
#include "sim/record/event.h"
#include "sim/record/event_text.h"
#include "sim/record/file_sink.h"

namespace understudy {

// Half of what is promised (100 ms), as a thread may well wake late on a busy machine.
inline constexpr std::chrono::milliseconds kFlushPeriod{40};

// What happens when events come faster than the disk takes them, for as long as the ring lasts.
enum class WhenRingFull {
  kEnds,   // the recording ends there, with an ending that says so: for sessions in real time
  kWaits,  // write() waits: for virtual time, which can
};

struct RecordingWriterOptions {
  std::string path;    // ends in .zst: compressed
  bool force = false;  // may overwrite an existing file
  WhenRingFull when_full = WhenRingFull::kEnds;
  std::size_t ring_bytes = 8 * 1024 * 1024;  // a minute or more of one panel
};

// Thread: write(), close() and the destructor from one; ended_early() from any.
class RecordingWriter {
 public:
  // Makes the file and writes the header before it returns. Errors (kUnusable): the file exists and
  // force is off, it cannot be made, the disk is full.
  static Result<std::unique_ptr<RecordingWriter>> open(const RecordingWriterOptions& options,
                                                       const RecordingHeader& header);
  // If close() was not called: ends the recording with kEndedLeft, and forgets the answer.
  ~RecordingWriter();
  RecordingWriter(const RecordingWriter&) = delete;
  RecordingWriter& operator=(const RecordingWriter&) = delete;

  // Puts the event behind those before. Never blocks with kEnds, and does not allocate once its
  // longest line is written. False: the recording has ended, and nothing is kept of the event.
  // REQUIRES: event.at >= the one before; seats and names as in the header; not closed
  bool write(const RecordedEvent& event);

  // From now on it is so.
  void set_when_full(WhenRingFull when_full) { when_full_ = when_full; }

  // Why the recording ended before close(), if it did; to be told to people once.
  [[nodiscard]] std::optional<std::string> ended_early() const;

  // Writes the ending kEndedComplete, waits until all is in the file, closes it. Later calls give
  // the same answer.
  // Errors: the reason of ended_early().
  Result<Done> close();

 private:
  RecordingWriter(const RecordingWriterOptions& options, const RecordingHeader& header,
                  FileSink sink);
  void end_with(std::string_view ending);
  bool wait_for_room(std::size_t bytes);
  bool end_as_full();
  void write_until_closed();
  Result<Done> drain();
  void fail(const std::string& reason);

  WhenRingFull when_full_;
  const std::string path_;
  EventText text_;
  BytePipe pipe_;
  FileSink sink_;  // the writer thread's, once it runs
  bool closed_ = false;
  std::atomic<std::int64_t> last_ns_{0};  // time of the event before
  std::atomic<bool> ended_{false};
  mutable std::mutex mutex_;  // guards what follows
  std::condition_variable wake_writer_;
  std::condition_variable wake_caller_;
  std::string reason_;  // of ended_early()
  bool closing_ = false;
  bool failed_ = false;

  std::thread thread_;  // last: it uses all of the above
};

}  // namespace understudy
