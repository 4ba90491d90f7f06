// Cuts the bytes of a recording into lines, in bounded memory whatever the file holds.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "sim/record/byte_source.h"

namespace understudy {

// Thread: one at a time.
class LineSource {
 public:
  enum class Got {
    kLine,
    kUnfinished,  // the last line, without a line feed: whole or torn, the caller can tell
    kTooLong,     // a line of more than the allowed bytes; it is passed over
    kFailed,      // reading failed; problem() says how; then comes kEnd
    kEnd,
  };

  explicit LineSource(std::unique_ptr<ByteSource> source) : source_(std::move(source)) {}

  // The next line without its line feed; it lives until the next call.
  Got next(std::string_view& line, std::size_t bytes_max);

  // Of the line last given; the first is 1.
  [[nodiscard]] std::int64_t number() const { return number_; }
  [[nodiscard]] const std::string& problem() const { return problem_; }
  [[nodiscard]] bool torn() const { return source_->torn(); }

 private:
  bool refill();
  Got pass_over();
  Got last(std::string_view& line);

  std::unique_ptr<ByteSource> source_;
  std::vector<char> buffer_ = std::vector<char>(kFirstBytes);
  std::size_t begin_ = 0;  // [begin_, end_) is read and not yet given
  std::size_t end_ = 0;
  std::int64_t number_ = 0;
  bool finished_ = false;
  bool failure_told_ = false;
  std::string problem_;

  static constexpr std::size_t kFirstBytes = 256 * 1024;
};

}  // namespace understudy
