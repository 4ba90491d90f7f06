// A ring of batches between two threads.
#include "sim/measure/read_ahead.h"

namespace understudy {
namespace {

constexpr std::size_t kBatchEvents = 4'096;
constexpr std::size_t kBatchTextBytes = 1'000'000;

}  // namespace

ReadAhead::ReadAhead(RecordingReader& reader) : reader_(reader), thread_([this] { read_all(); }) {}

ReadAhead::~ReadAhead() {
  {
    const std::lock_guard lock(mutex_);
    stopped_ = true;
  }
  changed_.notify_all();
  thread_.join();
}

// False: nothing comes after this batch.
bool ReadAhead::fill(ReadBatch& batch) {
  batch.events.clear();
  batch.bad_lines.clear();
  RecordedEvent event;
  while (batch.events.events().size() + batch.bad_lines.size() < kBatchEvents &&
         batch.events.text_bytes() < kBatchTextBytes) {
    switch (reader_.next(event)) {
      case RecordingReader::Got::kEnd:
        return false;
      case RecordingReader::Got::kBadLine:
        batch.bad_lines.push_back({batch.events.events().size(), reader_.problem()});
        break;
      case RecordingReader::Got::kEvent:
        batch.events.add(event, reader_.line_number());
        break;
    }
  }
  return true;
}

void ReadAhead::read_all() {
  for (bool more = true; more;) {
    ReadBatch* batch = nullptr;
    {
      std::unique_lock lock(mutex_);
      changed_.wait(
          lock, [this] { return stopped_ || filled_ - taken_ + (in_hand_ ? 1U : 0U) < kBatches; });
      if (stopped_) return;
      batch = &batches_[filled_ % kBatches];
    }
    more = fill(*batch);
    {
      const std::lock_guard lock(mutex_);
      ++filled_;
      ended_ = !more;
    }
    changed_.notify_all();
  }
}

const ReadBatch* ReadAhead::next() {
  std::unique_lock lock(mutex_);
  if (in_hand_) {
    in_hand_ = false;
    changed_.notify_all();
  }
  changed_.wait(lock, [this] { return filled_ > taken_ || ended_; });
  if (filled_ == taken_) return nullptr;
  in_hand_ = true;
  return &batches_[taken_++ % kBatches];
}

}  // namespace understudy
