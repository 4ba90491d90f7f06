// Asks by poll() before each read, so that a descriptor shared with other programs need not be made
// non-blocking for all of them.
#include "sim/link/lines_in.h"

#include <poll.h>
#include <unistd.h>

#include <algorithm>

namespace understudy {
namespace {

constexpr std::size_t kLinesMax = 256;

bool would_block(int descriptor) {
  pollfd readable{descriptor, POLLIN, 0};
  return poll(&readable, 1, 0) <= 0;
}

}  // namespace

LinesIn::LinesIn(Pacer& pacer, int descriptor)
    : descriptor_(descriptor), watch_(pacer, descriptor) {}

std::vector<std::string> LinesIn::take() {
  return watch_.ready() ? take_now() : std::vector<std::string>();
}

std::vector<std::string> LinesIn::take_now() {
  std::vector<std::string> lines;
  if (!ended_) read_some(lines);
  return lines;
}

void LinesIn::end_line(std::vector<std::string>& lines) {
  if (!part_.empty() && part_.back() == '\r') part_.pop_back();
  lines.push_back(std::exchange(part_, {}));
}

// Reads until nothing more is there, or enough lines are. What is left wakes the pacer again.
void LinesIn::read_some(std::vector<std::string>& lines) {
  char buffer[4'096];
  while (lines.size() < kLinesMax && !would_block(descriptor_)) {
    const ssize_t got = ::read(descriptor_, buffer, sizeof buffer);
    if (got <= 0) {
      ended_ = true;
      if (!part_.empty()) end_line(lines);
      return;
    }
    for (const char c : std::string_view(buffer, static_cast<std::size_t>(got))) {
      if (c == '\n') {
        end_line(lines);
      } else {
        if (part_.size() == kLineInBytesMax) end_line(lines);
        part_ += c;
      }
    }
  }
  watch_.arm();
}

BytesIn::BytesIn(Pacer& pacer, int descriptor)
    : descriptor_(descriptor), watch_(pacer, descriptor) {}

std::string BytesIn::take() {
  if (ended_ || !watch_.ready()) return {};
  watch_.arm();
  if (would_block(descriptor_)) return {};
  char buffer[4'096];
  const ssize_t got = ::read(descriptor_, buffer, sizeof buffer);
  ended_ = got <= 0;
  return got > 0 ? std::string(buffer, static_cast<std::size_t>(got)) : std::string();
}

}  // namespace understudy
