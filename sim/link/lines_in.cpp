// Cuts what a byte feed gives into lines.
#include "sim/link/lines_in.h"

#include <string_view>
#include <utility>

namespace understudy {
namespace {

constexpr std::size_t kLinesMax = 256;

}  // namespace

LinesIn::LinesIn(Pacer& pacer, int descriptor) : feed_(pacer, descriptor) {}

std::vector<std::string> LinesIn::take() {
  return feed_.ready() ? take_now() : std::vector<std::string>();
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
  while (lines.size() < kLinesMax) {
    const std::optional<std::size_t> got = feed_.read(buffer, sizeof buffer);
    if (!got) break;
    if (*got == 0) {
      ended_ = true;
      if (!part_.empty()) end_line(lines);
      return;
    }
    for (const char c : std::string_view(buffer, *got)) {
      if (c == '\n') {
        end_line(lines);
      } else {
        if (part_.size() == kLineInBytesMax) end_line(lines);
        part_ += c;
      }
    }
  }
  feed_.arm();
}

BytesIn::BytesIn(Pacer& pacer, int descriptor) : feed_(pacer, descriptor) {}

std::string BytesIn::take() {
  if (ended_ || !feed_.ready()) return {};
  feed_.arm();
  char buffer[4'096];
  const std::optional<std::size_t> got = feed_.read(buffer, sizeof buffer);
  ended_ = got == std::size_t{0};
  return std::string(buffer, got.value_or(0));
}

}  // namespace understudy
