// One buffer that slides over the file; it grows only up to the longest line allowed.
#include "sim/record/line_source.h"

#include <cstring>

namespace understudy {

// Reads more behind end_, making room first. False at the end or when reading failed.
bool LineSource::refill() {
  if (finished_) return false;
  if (begin_ > 0) {
    std::memmove(buffer_.data(), buffer_.data() + begin_, end_ - begin_);
    end_ -= begin_;
    begin_ = 0;
  }
  if (end_ == buffer_.size()) buffer_.resize(buffer_.size() * 2);
  const Result<std::size_t> got = source_->read(std::span(buffer_).subspan(end_));
  if (!got.ok()) problem_ = got.error().text;
  finished_ = !got.ok() || got.value() == 0;
  if (!finished_) end_ += got.value();
  return !finished_;
}

// Forgets bytes up to and with the next line feed.
LineSource::Got LineSource::pass_over() {
  for (;;) {
    const void* feed = std::memchr(buffer_.data() + begin_, '\n', end_ - begin_);
    if (feed != nullptr) {
      begin_ = static_cast<std::size_t>(static_cast<const char*>(feed) - buffer_.data()) + 1;
      return Got::kTooLong;
    }
    begin_ = end_;
    if (!refill()) return Got::kTooLong;
  }
}

LineSource::Got LineSource::next(std::string_view& line, std::size_t bytes_max) {
  std::size_t looked_at = 0;
  for (;;) {
    const char* const begin = buffer_.data() + begin_;
    const std::size_t size = end_ - begin_;
    const void* feed = std::memchr(begin + looked_at, '\n', size - looked_at);
    if (feed != nullptr) {
      line = {begin, static_cast<std::size_t>(static_cast<const char*>(feed) - begin)};
      begin_ += line.size() + 1;
      ++number_;
      return line.size() > bytes_max ? Got::kTooLong : Got::kLine;
    }
    looked_at = size;
    if (size > bytes_max) {
      ++number_;
      return pass_over();
    }
    if (!refill()) return last(line);
  }
}

// What is left when there is nothing more to read.
LineSource::Got LineSource::last(std::string_view& line) {
  if (begin_ < end_) {
    line = {buffer_.data() + begin_, end_ - begin_};
    begin_ = end_;
    ++number_;
    return Got::kUnfinished;
  }
  if (problem_.empty() || failure_told_) return Got::kEnd;
  failure_told_ = true;
  return Got::kFailed;
}

}  // namespace understudy
