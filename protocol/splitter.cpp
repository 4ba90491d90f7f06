// Cuts a stream of bytes into lines: at one stroke where a line lies whole in one chunk and only
// its end marks it, else byte by byte.
#include "protocol/splitter.h"

#include <algorithm>
#include <cstring>

namespace understudy::protocol {
namespace {

constexpr std::size_t kNoEnding = static_cast<std::size_t>(-1);
// Bytes of slack before the middle of a long run is dropped, so that it is not done at each byte.
constexpr std::size_t kSlackBytes = 64;

}  // namespace

Splitter::Splitter(const Framing& framing) : framing_(framing) {
  if (framing_.each_byte_is_a_line()) return;
  endings_ = framing_.accepts;
  endings_.push_back(framing_.ends);
  std::stable_sort(endings_.begin(), endings_.end(),
                   [](const auto& a, const auto& b) { return a.size() > b.size(); });
  marker_bytes_max_ = std::max(endings_.front().size(), framing_.starts.size());
  same_last_byte_ = std::all_of(endings_.begin(), endings_.end(), [&](const auto& ending) {
    return ending.back() == framing_.ends.back();
  });
  inside_ = framing_.starts.empty();
  held_.reserve(framing_.longest + marker_bytes_max_ + kSlackBytes);
}

std::string_view Splitter::part() const {
  return inside_ ? held().substr(0, framing_.longest) : std::string_view();
}

bool Splitter::operator==(const Splitter& other) const {
  const bool begun = !held().empty() || (inside_ && !framing_.starts.empty());
  return framing_ == other.framing_ && counts_ == other.counts_ && inside_ == other.inside_ &&
         last_ending_ == other.last_ending_ && part_bytes() == other.part_bytes() &&
         held().substr(0, framing_.longest) == other.held().substr(0, framing_.longest) &&
         tail_of(held()) == tail_of(other.held()) && (!begun || first_byte_ == other.first_byte_);
}

// What of a run can still become part of a marker.
std::string_view Splitter::tail_of(std::string_view held) const {
  return held.substr(held.size() - std::min(held.size(), marker_bytes_max_));
}

void Splitter::forget_part() {
  if (!given_) counts_.bytes_dropped += held_bytes_;
  if (inside_) counts_.bytes_dropped += framing_.starts.size();
  clear_held();
  inside_ = framing_.starts.empty();
  last_ending_ = 0;
}

void Splitter::clear_held() {
  held_.clear();
  held_bytes_ = 0;
  given_ = false;
}

bool Splitter::take(std::string_view& bytes, SplitLine& line) {
  if (given_) clear_held();
  if (framing_.starts.empty() && held_.empty() && last_ending_ == 0) {
    if (take_whole(bytes, line)) return true;
  }
  // Where all endings have one last byte and nothing else is a marker, other bytes end no line and
  // are held at one stroke, up to where the middle of a long run would be dropped.
  const bool at_strokes = framing_.starts.empty() && same_last_byte_;
  const std::size_t held_max = framing_.longest + marker_bytes_max_ + kSlackBytes - 1;
  while (!bytes.empty()) {
    if (at_strokes && last_ending_ == 0) {
      const std::size_t plain =
          std::min({bytes.find(framing_.ends.back()), bytes.size(), held_max - held_.size()});
      if (plain > 0) {
        if (held_bytes_ == 0) first_byte_ = counts_.bytes;
        held_.append(bytes.substr(0, plain));
        held_bytes_ += plain;
        counts_.bytes += plain;
        bytes.remove_prefix(plain);
        continue;
      }
    }
    const char byte = bytes.front();
    bytes.remove_prefix(1);
    if (take_byte(byte, line)) return true;
  }
  return false;
}

// A line that lies whole at the front of `bytes` is given as it lies there, without copying.
bool Splitter::take_whole(std::string_view& bytes, SplitLine& line) {
  if (bytes.empty()) return false;
  std::size_t taken = 1;
  std::size_t marker = 0;
  if (!framing_.each_byte_is_a_line()) {
    if (!same_last_byte_) return false;
    std::size_t index = kNoEnding;
    for (taken = 0; index == kNoEnding;) {
      const std::size_t at = bytes.find(framing_.ends.back(), taken);
      if (at == std::string_view::npos) return false;
      taken = at + 1;
      index = find_ending_of(bytes.substr(0, taken));
    }
    marker = endings_[index].size();
    if (taken - marker > framing_.longest) return false;
    if (has_longer_ending(index)) last_ending_ = index + 1;
  }
  line = {.kind = LineKind::kWhole,
          .text = bytes.substr(0, taken - marker),
          .first_byte = counts_.bytes,
          .last_byte = counts_.bytes + taken - 1};
  bytes.remove_prefix(taken);
  counts_.bytes += taken;
  ++counts_.lines;
  return true;
}

bool Splitter::take_byte(char byte, SplitLine& line) {
  // Inside markers the line began with its start marker, which is noted when that is seen.
  if (held_bytes_ == 0 && !(inside_ && !framing_.starts.empty())) first_byte_ = counts_.bytes;
  ++counts_.bytes;
  held_ += byte;
  ++held_bytes_;
  if (last_ending_ != 0 && is_rest_of_longer_ending()) {
    clear_held();
    return false;
  }
  if (!framing_.starts.empty() && held_.ends_with(framing_.starts)) return take_start(line);
  if (inside_ && take_end(line)) return true;
  if (held_.size() == framing_.longest + marker_bytes_max_ + kSlackBytes) drop_middle();
  return false;
}

// What came before a start is stray: noise between lines, or a line that never ended.
bool Splitter::take_start(SplitLine& line) {
  const std::uint64_t marker = framing_.starts.size();
  const bool something = inside_ || held_bytes_ > marker;
  if (something) {
    give(LineKind::kStray, marker, line);
    line.last_byte -= marker;
  } else {
    clear_held();
  }
  inside_ = true;
  first_byte_ = counts_.bytes - marker;
  return something;
}

bool Splitter::take_end(SplitLine& line) {
  const std::size_t index = find_ending_of(held_);
  if (index == kNoEnding) return false;
  const std::uint64_t marker = endings_[index].size();
  const bool fits = held_bytes_ - marker <= framing_.longest;
  give(fits ? LineKind::kWhole : LineKind::kTooLong, marker, line);
  inside_ = framing_.starts.empty();
  last_ending_ = has_longer_ending(index) ? index + 1 : 0;
  return true;
}

void Splitter::give(LineKind kind, std::uint64_t marker_bytes, SplitLine& line) {
  const std::uint64_t text_bytes = held_bytes_ - marker_bytes;
  line = {.kind = kind,
          .text = std::string_view(held_).substr(
              0, std::min<std::uint64_t>(text_bytes, framing_.longest)),
          .first_byte = first_byte_,
          .last_byte = counts_.bytes - 1};
  given_ = true;
  if (kind == LineKind::kWhole) {
    ++counts_.lines;
    return;
  }
  ++(kind == LineKind::kTooLong ? counts_.too_long : counts_.stray);
  const std::uint64_t begun_marker = kind == LineKind::kStray ? marker_bytes : 0;
  counts_.bytes_dropped += line.last_byte - line.first_byte + 1 - begun_marker;
}

// After "\r" as an ending: does "\n" follow, where "\r\n" is one too? Notes when it cannot any
// more.
bool Splitter::is_rest_of_longer_ending() {
  const std::string& ending = endings_[last_ending_ - 1];
  bool may_come = false;
  for (const std::string& longer : endings_) {
    if (longer.size() <= ending.size() || !longer.starts_with(ending)) continue;
    const std::string_view rest = std::string_view(longer).substr(ending.size());
    if (rest == held_) {
      last_ending_ = 0;
      return true;
    }
    may_come = may_come || rest.starts_with(held_);
  }
  if (!may_come) last_ending_ = 0;
  return false;
}

bool Splitter::has_longer_ending(std::size_t index) const {
  const std::string& ending = endings_[index];
  return std::any_of(endings_.begin(), endings_.end(), [&](const auto& longer) {
    return longer.size() > ending.size() && longer.starts_with(ending);
  });
}

// The longest ending with which the bytes end, or kNoEnding.
std::size_t Splitter::find_ending_of(std::string_view bytes) const {
  for (std::size_t index = 0; index < endings_.size(); ++index) {
    if (bytes.ends_with(endings_[index])) return index;
  }
  return kNoEnding;
}

void Splitter::drop_middle() {
  held_.erase(framing_.longest, held_.size() - framing_.longest - marker_bytes_max_);
}

}  // namespace understudy::protocol
