// The caller formats into a ring without locks; the thread wakes a few times per promised period
// and carries the ring's bytes into the file.
#include "sim/record/writer.h"

#include <fmt/format.h>

#include <algorithm>

#include "sim/base/check.h"
#include "sim/base/open_file.h"
#include "sim/base/text.h"

namespace understudy {
namespace {

// Always kept free in the ring, so that an ending finds room.
constexpr std::size_t kEndingBytesMax = 512;

std::string ending_line(std::int64_t at_ns, std::string_view reason) {
  EventText text{RecordingHeader{}};
  return std::string(text.line({Instant{at_ns}, kWholeSession, recorded::Ended{reason}}));
}

}  // namespace

RecordingWriter::RecordingWriter(const RecordingWriterOptions& options,
                                 const RecordingHeader& header, FileSink sink)
    : when_full_(options.when_full),
      path_(options.path),
      text_(header),
      pipe_(std::max(options.ring_bytes, 4 * kEndingBytesMax)),
      sink_(std::move(sink)),
      thread_([this] { write_until_closed(); }) {}

Result<std::unique_ptr<RecordingWriter>> RecordingWriter::open(
    const RecordingWriterOptions& options, const RecordingHeader& header) {
  const std::string header_text = header_line(header);
  if (header_text.size() > kHeaderLineBytesMax)
    return Error{ErrorCode::kUnusable, "cannot write recording " + options.path +
                                           ": its panels together are too long for a header; "
                                           "record fewer seats"};
  Result<FileSink> sink = FileSink::open({.path = options.path, .force = options.force});
  if (!sink.ok()) return sink.error();
  Result<Done> written = sink.value().write(header_text);
  if (written.ok()) written = sink.value().flush();
  if (!written.ok()) {
    if (!options.force) remove_file(options.path);  // it was not there before
    return written.error();
  }
  return std::unique_ptr<RecordingWriter>(
      new RecordingWriter(options, header, std::move(sink).value()));
}

RecordingWriter::~RecordingWriter() {
  end_with(kEndedLeft);
}

bool RecordingWriter::write(const RecordedEvent& event) {
  CHECK(!closed_, "an event was written to a recording that is closed");
  CHECK(event.at.ns >= last_ns_.load(std::memory_order_relaxed),
        "an event was written behind a later one");
  if (ended_.load(std::memory_order_relaxed)) return false;
  const std::string_view line = text_.line(event);
  if (pipe_.room() < line.size() + kEndingBytesMax && !wait_for_room(line.size())) return false;
  pipe_.put(line);
  last_ns_.store(event.at.ns, std::memory_order_relaxed);
  if (pipe_.room() < pipe_.size() / 2) wake_writer_.notify_one();
  return true;
}

// True once `bytes` and an ending fit; false where the recording has ended instead.
bool RecordingWriter::wait_for_room(std::size_t bytes) {
  const std::size_t wanted = bytes + kEndingBytesMax;
  if (when_full_ == WhenRingFull::kEnds || wanted > pipe_.size()) return end_as_full();
  std::unique_lock lock(mutex_);
  wake_writer_.notify_one();
  wake_caller_.wait(lock, [&] { return pipe_.room() >= wanted || failed_; });
  return !failed_;
}

bool RecordingWriter::end_as_full() {
  const std::string reason = fmt::format(
      "events came faster than the disk took them ({} bytes waited)", pipe_.size() - pipe_.room());
  const std::int64_t at = last_ns_.load(std::memory_order_relaxed);
  pipe_.put(ending_line(at, reason));
  const std::lock_guard lock(mutex_);
  if (reason_.empty())
    reason_ = fmt::format("recording {} ended at {:.6f} s: {}", path_,
                          static_cast<double>(at) / 1e9, reason);
  ended_.store(true, std::memory_order_relaxed);
  return false;
}

std::optional<std::string> RecordingWriter::ended_early() const {
  if (!ended_.load(std::memory_order_relaxed)) return std::nullopt;
  const std::lock_guard lock(mutex_);
  if (reason_.empty()) return std::nullopt;
  return reason_;
}

// Once; an ending that is there already stays the only one.
void RecordingWriter::end_with(std::string_view ending) {
  if (closed_) return;
  closed_ = true;
  if (!ended_.load(std::memory_order_relaxed))
    pipe_.put(ending_line(last_ns_.load(std::memory_order_relaxed), ending));
  {
    const std::lock_guard lock(mutex_);
    closing_ = true;
  }
  wake_writer_.notify_one();
  thread_.join();
}

Result<Done> RecordingWriter::close() {
  end_with(kEndedComplete);
  if (!reason_.empty()) return Error{ErrorCode::kUnusable, reason_};
  return Done{};
}

void RecordingWriter::write_until_closed() {
  std::unique_lock lock(mutex_);
  for (bool closing = false; !closing;) {
    wake_writer_.wait_for(lock, kFlushPeriod,
                          [this] { return closing_ || pipe_.room() < pipe_.size() / 2; });
    closing = closing_;
    lock.unlock();
    const Result<Done> drained = drain();
    if (!drained.ok()) fail(drained.error().text);
    lock.lock();
    wake_caller_.notify_all();
  }
  if (failed_) return;
  lock.unlock();
  const Result<Done> done = sink_.close();
  if (!done.ok()) fail(done.error().text);
}

// Carries everything that waits into the file; after a failure, into nothing.
Result<Done> RecordingWriter::drain() {
  bool any = false;
  for (;;) {
    const std::span<const char> ready = pipe_.ready();
    if (ready.empty()) break;
    if (!failed_) {
      const Result<Done> written = sink_.write(ready);
      if (!written.ok()) return written;
    }
    pipe_.taken(ready.size());
    any = true;
  }
  return any && !failed_ ? sink_.flush() : Result<Done>(Done{});
}

// The disk is full, or the like: the recording ends here, the session goes on.
void RecordingWriter::fail(const std::string& reason) {
  const std::int64_t at = last_ns_.load(std::memory_order_relaxed);
  sink_.end_early(ending_line(at, printable(reason)));
  const std::lock_guard lock(mutex_);
  failed_ = true;
  if (reason_.empty())
    reason_ = fmt::format("recording ended at {:.6f} s: {}", static_cast<double>(at) / 1e9, reason);
  ended_.store(true, std::memory_order_relaxed);
}

}  // namespace understudy
