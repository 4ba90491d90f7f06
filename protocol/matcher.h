// The matcher: all formats of one direction at once. Tells which format a line is of. Two formats
// that can both match some line are refused when it is compiled, with such a line.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/line_format.h"

namespace understudy::protocol {

inline constexpr std::int32_t kUnknownLine = -1;
inline constexpr std::size_t kMatcherFormatsMax = 1024;

// Answer of Matcher::match and explain.
struct Match {
  // Index into the formats handed to compile. match: kUnknownLine when none fits. explain: the
  // closest one; kUnknownLine when there are no formats, or none of several shares a first byte.
  std::int32_t format = kUnknownLine;
  // None when the line was read; else what kept the closest format from reading it.
  LineFault fault;

  bool ok() const { return format != kUnknownLine && fault.kind == LineFaultKind::kNone; }
};

// A value without pointers into itself; copies freely. Immutable once compiled; only compile
// allocates. Thread: any number may read.
class Matcher {
 public:
  // Knows no format: every line is unknown.
  Matcher() = default;

  // Compiles the formats of one direction, which share one catalogue. Refused with both indexes
  // and a witness where a line exists that two of them read; a check counts as any digits, so
  // two formats that differ in their checks alone are refused too.
  static Outcome<Matcher> compile(std::vector<LineFormat> formats);

  // The format that reads this line, or kUnknownLine.
  std::int32_t classify(std::string_view line) const;

  // The same, and the values; `values` is written only for the format that reads the line (and
  // is untouched when it is unknown). values.size() >= catalogue_fields() of each format.
  Match match(std::string_view line, std::span<std::int64_t> values,
              BuiltIns* built_ins = nullptr) const;

  // For a line that match does not know: which format it comes closest to and what is wrong,
  // with the hint. Closest = the one that reads furthest. Slower than match.
  Match explain(std::string_view line) const;

  // The sentence to a Match of explain(line); see LineFormat::write_sentence. For a line that
  // comes close to nothing: `none of the 3 formats begins like "Booting..."`.
  std::size_t write_sentence(const Match& match, std::string_view line, std::span<char> out) const;
  std::string sentence(const Match& match, std::string_view line) const;

  std::size_t size() const { return formats_.size(); }
  const LineFormat& format(std::size_t index) const { return formats_[index]; }
  std::span<const LineFormat> formats() const { return formats_; }

 private:
  std::span<const std::uint16_t> candidates(std::string_view line) const;

  std::vector<LineFormat> formats_;
  // For each first byte, the formats that may begin so: candidates_[starts_[b] .. starts_[b+1]).
  std::vector<std::uint16_t> candidates_;
  std::array<std::uint32_t, 257> starts_{};
};

}  // namespace understudy::protocol
