// A field: what one place in a line carries. A catalogue is a list of fields; values travel as
// an array of wire numbers (int64) in the catalogue's order, one per field.
// What a hand did, and how it becomes a wire number, is left to the caller.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/outcome.h"

namespace understudy::protocol {

// Wire numbers stay within +-(10^18 - 1): eighteen digits, so that no sum of ours overflows.
inline constexpr std::int64_t kWireNumberMax = 999'999'999'999'999'999;
inline constexpr int kDecimalsMax = 6;
// A field's index has to fit a compiled place in a line.
inline constexpr std::size_t kCatalogueFieldsMax = 4096;

// A plain value; copies freely.
struct Field {
  // "power", "stick.x": letters, digits, `_`, `-`, and one `.` before a part. Unique in the
  // catalogue. A leading `#` is kept for built-ins and refused here.
  std::string name = {};

  // The wire numbers that may be carried, both ends included. min <= max.
  std::int64_t min = 0;
  std::int64_t max = 0;

  // Digits after the point: with 2, wire number 53 is written 0.53 and -2 is written -0.02.
  int decimals = 0;

  // If not empty: wire number n is written as words[n - min], and there is exactly one word for
  // each number. Words are distinct and not empty. `decimals` is 0 then.
  std::vector<std::string> words = {};

  bool operator==(const Field&) const = default;
};

// Says what is wrong with a catalogue (double or impossible names, ranges, words), or nothing.
// LineFormat::compile asks this too.
std::optional<FormatError> find_fault_in_catalogue(std::span<const Field> catalogue);

// The index of the field of that name, or nothing.
std::optional<std::size_t> find_field(std::span<const Field> catalogue, std::string_view name);

}  // namespace understudy::protocol
