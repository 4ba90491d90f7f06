// Records a session: the verbs hand it each step, it hands the events in their order to a writer.
#pragma once

#include <deque>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/record/input_digest.h"
#include "sim/record/session_events.h"
#include "sim/record/writer.h"
#include "sim/session/session.h"

namespace understudy {

struct SessionRecorderOptions {
  RecordingWriterOptions file;
  std::uint64_t seed = 0;                       // of the session
  std::span<const SeatOptions> seats;           // as they were added to the session, in order
  std::vector<std::vector<std::string>> links;  // of each seat, as people read them; may be empty
  std::string start;    // calendar time as text; asking a clock is the caller's work
  std::string program;  // "understudy 0.1.0"
};

// The header that such a recording begins with.
RecordingHeader header_of(const SessionRecorderOptions& options);

// Thread: one at a time, the session's. Never blocks, unless file.when_full is kWaits.
//
//   auto recorder = SessionRecorder::begin({.file = {.path = ...}, .seats = seats, ...});
//   loop: session.step(until, inputs, outputs); links take the chunks;
//         recorder->step(inputs, outputs, pacer.now());
//   recorder->end(session);
class SessionRecorder {
 public:
  // Before the session's first step. Errors: those of RecordingWriter::open.
  static Result<std::unique_ptr<SessionRecorder>> begin(const SessionRecorderOptions& options);

  // After each step, with what went into it and what came out. `taken_at`: when the links had taken
  // its chunks, in the session's time; std::nullopt in virtual time.
  void step(std::span<const SeatInput> inputs, const SessionOutputs& outputs,
            std::optional<Instant> taken_at);

  // A mark at `at`, which lies after the last step's end; it is written with the step that holds
  // it. What is not UTF-8 in it is written as printable() shows it.
  void mark(Instant at, std::string_view text);

  // See RecordingWriterOptions.
  void set_when_full(WhenRingFull when_full) { writer_->set_when_full(when_full); }

  // Why the recording ended before the session did, if it did: tell people once; the session goes
  // on.
  [[nodiscard]] std::optional<std::string> ended_early() const { return writer_->ended_early(); }

  // After the last step: the last check and the ending; waits until all is in the file.
  // Errors: the reason of ended_early(). REQUIRES: called once at most
  Result<Done> end(const Session& session);

 private:
  SessionRecorder(const SessionRecorderOptions& options, const RecordingHeader& header,
                  std::unique_ptr<RecordingWriter> writer);
  struct WaitingMark {
    Instant at;
    std::string text;
  };
  void write(RecordedEvent event);
  void write_marks(Instant until);

  SessionEvents events_;
  InputDigest inputs_;
  std::deque<WaitingMark> marks_;
  std::unique_ptr<RecordingWriter> writer_;
  Instant last_check_;
};

}  // namespace understudy
