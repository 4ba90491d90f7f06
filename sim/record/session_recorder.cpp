// Glue between a session's steps and a writer.
#include "sim/record/session_recorder.h"

#include "sim/base/text.h"
#include "sim/model/version.h"
#include "sim/panel/panel_file.h"

namespace understudy {

RecordingHeader header_of(const SessionRecorderOptions& options) {
  RecordingHeader header;
  header.model = kModelNumber;
  header.seed = options.seed;
  header.start = options.start;
  header.program = options.program;
  for (std::size_t i = 0; i < options.seats.size(); ++i) {
    const SeatOptions& seat = options.seats[i];
    header.seats.push_back(
        {.name = seat.name,
         .panel = seat.panel->text,
         .resolved = is_bare(*seat.panel) ? "" : resolved_toml(seat.panel->description),
         .whole_lines = seat.whole_lines,
         .source = seat.source,
         .links = i < options.links.size() ? options.links[i] : std::vector<std::string>{}});
  }
  return header;
}

SessionRecorder::SessionRecorder(const SessionRecorderOptions& options,
                                 const RecordingHeader& header,
                                 std::unique_ptr<RecordingWriter> writer)
    : events_(options.seats), inputs_(header), writer_(std::move(writer)) {}

Result<std::unique_ptr<SessionRecorder>> SessionRecorder::begin(
    const SessionRecorderOptions& options) {
  const RecordingHeader header = header_of(options);
  Result<std::unique_ptr<RecordingWriter>> writer = RecordingWriter::open(options.file, header);
  if (!writer.ok()) return writer.error();
  return std::unique_ptr<SessionRecorder>(
      new SessionRecorder(options, header, std::move(writer).value()));
}

void SessionRecorder::write(RecordedEvent event) {
  inputs_.add(event);
  if (auto* check = std::get_if<recorded::Check>(&event.what)) {
    check->inputs = inputs_.value();
    last_check_ = event.at;
  }
  writer_->write(event);
}

void SessionRecorder::step(std::span<const SeatInput> inputs, const SessionOutputs& outputs,
                           std::optional<Instant> taken_at) {
  events_.each_of(inputs, outputs, taken_at, [this](const RecordedEvent& event) {
    write_marks({event.at.ns - 1});
    write(event);
  });
}

void SessionRecorder::mark(Instant at, std::string_view text) {
  marks_.push_back({at, is_valid_utf8(text) ? std::string(text) : printable(text)});
}

// Behind all that is at their time.
void SessionRecorder::write_marks(Instant until) {
  for (; !marks_.empty() && marks_.front().at <= until; marks_.pop_front())
    write({marks_.front().at, kWholeSession, recorded::Mark{marks_.front().text}});
}

Result<Done> SessionRecorder::end(const Session& session) {
  write_marks(session.now());
  if (session.now() > last_check_)
    write({session.now(), kWholeSession, recorded::Check{session.fingerprint(), 0}});
  return writer_->close();
}

}  // namespace understudy
