// The splitter: cuts a stream of bytes into lines. Bounded by framing.longest whatever arrives,
// finds its place again after noise, and loses no good line next to a bad one.
// What a line means is left to line_format.h and matcher.h.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/framing.h"

namespace understudy::protocol {

enum class LineKind : std::uint8_t {
  kWhole,    // a line with all its markers; the only kind that is worth decoding
  kTooLong,  // more than `longest` bytes without an end: `text` is its first `longest` bytes
  kStray,    // bytes outside of markers, or a line cut off by the start of the next one
};

// One line as it came out of a stream.
struct SplitLine {
  LineKind kind = LineKind::kWhole;
  // Without markers. Valid until the next call on the splitter or the end of the bytes pushed,
  // whichever is sooner; in a sink: during the call.
  std::string_view text;
  // Where its first and last byte, markers included, stand in the stream, counted from 0 since
  // the splitter was made. All bytes from first_byte to last_byte belong to it.
  std::uint64_t first_byte = 0;
  std::uint64_t last_byte = 0;
};

// Counted since the splitter was made.
struct SplitterCounts {
  std::uint64_t bytes = 0;
  std::uint64_t lines = 0;          // whole ones
  std::uint64_t too_long = 0;       // lines
  std::uint64_t stray = 0;          // runs of stray bytes, and cut off lines
  std::uint64_t bytes_dropped = 0;  // bytes of the two above

  bool operator==(const SplitterCounts&) const = default;
};

// A value without pointers into itself: copies freely, equal states compare equal. Allocates when
// made, never later. Thread: one at a time.
class Splitter {
 public:
  // REQUIRES: find_fault_in_framing(framing) says nothing
  explicit Splitter(const Framing& framing = {});

  // Takes all bytes and calls sink(const SplitLine&) for each line completed by them, in order.
  // Splitting the bytes differently over several calls gives the same lines. An empty line
  // (two ends in a row) is a line. The sink must not call this splitter.
  template <class Sink>
  void push(std::string_view bytes, Sink&& sink) {
    SplitLine line;
    while (!bytes.empty()) {
      if (take(bytes, line)) sink(static_cast<const SplitLine&>(line));
    }
  }

  // The same one line at a time: takes bytes from the front of `bytes` until a line is complete
  // (true, `line` is set, the rest is still in `bytes`) or all are taken (false).
  bool take(std::string_view& bytes, SplitLine& line);

  // The part of a line that has come so far, for whoever waits for its end: its first bytes, at
  // most `longest`, a begun end marker among them; and how many bytes came in all.
  std::string_view part() const;
  std::uint64_t part_bytes() const { return inside_ && !given_ ? held_bytes_ : 0; }

  // Forgets what has come of a line, as when the port was opened anew; those bytes count as
  // dropped. The stream's offsets go on.
  void forget_part();

  const SplitterCounts& counts() const { return counts_; }
  const Framing& framing() const { return framing_; }

  // Equal if all bytes to come would give equal lines and counts.
  bool operator==(const Splitter& other) const;

 private:
  bool take_whole(std::string_view& bytes, SplitLine& line);
  bool take_byte(char byte, SplitLine& line);
  bool take_start(SplitLine& line);
  bool take_end(SplitLine& line);
  bool is_rest_of_longer_ending();
  bool has_longer_ending(std::size_t index) const;
  std::size_t find_ending_of(std::string_view bytes) const;
  void give(LineKind kind, std::uint64_t marker_bytes, SplitLine& line);
  void drop_middle();
  std::string_view tail_of(std::string_view held) const;
  void clear_held();
  std::string_view held() const { return given_ ? std::string_view() : held_; }

  Framing framing_;
  std::vector<std::string> endings_;  // ends and accepts, longest first
  std::size_t marker_bytes_max_ = 0;
  bool same_last_byte_ = false;  // of all endings, so that one search finds them
  // saved: what came since the last line, start marker excluded. Of a long run the first
  // `longest` bytes and a tail that may be a begun marker.
  std::string held_;
  std::uint64_t held_bytes_ = 0;  // how many came, dropped middle included
  std::uint64_t first_byte_ = 0;  // where it began, start marker included
  std::size_t last_ending_ = 0;   // 1 + index of the ending just seen, while its rest may come
  bool inside_ = true;            // false: waiting for `starts`
  bool given_ = false;            // held_ was handed out, and is cleared by the next call
  SplitterCounts counts_;
};

}  // namespace understudy::protocol
