// What makes a framing impossible.
#include "protocol/framing.h"

namespace understudy::protocol {
namespace {

bool contains(const std::string& whole, const std::string& part) {
  return whole.find(part) != std::string::npos;
}

std::optional<FormatError> find_fault_in_ending(const Framing& framing, const std::string& ending) {
  if (ending.empty()) {
    return FormatError{.found = "an empty ending", .expected = "endings of a byte or more"};
  }
  if (ending.size() > kMarkerBytesMax) {
    return FormatError{.found = "an ending of " + std::to_string(ending.size()) + " bytes",
                       .expected = "at most " + std::to_string(kMarkerBytesMax)};
  }
  if (!framing.starts.empty() &&
      (contains(framing.starts, ending) || contains(ending, framing.starts))) {
    return FormatError{.found = "a start and an ending of which one contains the other",
                       .expected = "markers that can be told apart after noise"};
  }
  return std::nullopt;
}

}  // namespace

std::optional<FormatError> find_fault_in_framing(const Framing& framing) {
  if (framing.longest == 0 || framing.longest > kLineBytesMax) {
    return FormatError{.found = "a longest line of " + std::to_string(framing.longest),
                       .expected = "1 to " + std::to_string(kLineBytesMax) + " bytes"};
  }
  if (framing.starts.size() > kMarkerBytesMax) {
    return FormatError{.found = "a start of " + std::to_string(framing.starts.size()) + " bytes",
                       .expected = "at most " + std::to_string(kMarkerBytesMax)};
  }
  if (framing.ends.empty()) {
    if (!framing.starts.empty()) {
      return FormatError{.found = "a start without an end",
                         .expected = "an end too, or neither: then each byte is a line"};
    }
    if (!framing.accepts.empty()) {
      return FormatError{.found = "further endings where each byte is a line",
                         .expected = "an end beside them, or none at all"};
    }
    return std::nullopt;
  }
  if (auto fault = find_fault_in_ending(framing, framing.ends)) return fault;
  for (const std::string& ending : framing.accepts) {
    if (auto fault = find_fault_in_ending(framing, ending)) return fault;
  }
  return std::nullopt;
}

}  // namespace understudy::protocol
