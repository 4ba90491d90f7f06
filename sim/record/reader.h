// Reads a recording event by event, plain or compressed, in bounded memory. Lines that are wrong
// are named and passed over; whether that matters is the caller's business.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "sim/base/result.h"
#include "sim/record/event.h"
#include "sim/record/event_scan.h"
#include "sim/record/line_source.h"

namespace understudy {

// Movable. Thread: one at a time; next() may block on a slow disk or a pipe.
class RecordingReader {
 public:
  // Opens a file and reads its header. Errors (kUnusable): cannot be read, is no recording, is of
  // another major format.
  static Result<RecordingReader> open(const std::string& path);
  // The same from bytes in memory; `name` stands for the path in messages.
  static Result<RecordingReader> from_bytes(std::string bytes, const std::string& name);

  // The same from any source, compressed or not.
  static Result<RecordingReader> from_source(std::unique_ptr<ByteSource> source,
                                             const std::string& name);

  [[nodiscard]] const RecordingHeader& header() const { return header_; }

  enum class Got {
    kEvent,    // `event` is set; its views live until the next call
    kBadLine,  // problem() says what is wrong; the next call goes on behind it
    kEnd,
  };
  Got next(RecordedEvent& event);

  // "line 17: ..." of the last kBadLine.
  [[nodiscard]] const std::string& problem() const { return problem_; }
  // Of the last event or bad line; the header is line 1.
  [[nodiscard]] std::int64_t line_number() const { return lines_.number(); }
  // At the end: the file breaks off in the middle of a line (which is left out) or of a compressed
  // frame, as a file does whose writer was killed.
  [[nodiscard]] bool torn() const { return torn_; }
  // The last event so far was the ending that a writer puts when it closes the file.
  [[nodiscard]] bool saw_ending() const { return saw_ending_; }
  // Events of a newer minor format that this program doesn't know.
  [[nodiscard]] std::int64_t passed_over() const { return passed_over_; }

 private:
  RecordingReader(LineSource lines, RecordingHeader header);
  static Result<RecordingReader> begin(std::unique_ptr<ByteSource> source, const std::string& name);
  Got take_line(std::string_view line, bool unfinished, RecordedEvent& event);
  Got bad(std::string problem);

  LineSource lines_;
  RecordingHeader header_;
  SeatNames seats_;
  std::unique_ptr<EventRoom> room_ = std::make_unique<EventRoom>();
  std::string problem_;
  std::int64_t passed_over_ = 0;
  bool torn_ = false;
  bool saw_ending_ = false;
};

}  // namespace understudy
