// Words for what links count and for who holds them.
#include "sim/link/link.h"

namespace understudy {

std::string_view name_of(DropReason reason) {
  static constexpr std::array<std::string_view, kDropReasonCount> kNames{
      "nobody had the link open", "more than the host buffer holds", "unread when the game closed",
      "the cable was pulled",     "the device had no room for it",   "from a stranger"};
  return kNames[static_cast<std::size_t>(reason)];
}

std::string written(const std::vector<Holder>& holders) {
  if (holders.empty()) return "another program";
  std::string text;
  for (const Holder& holder : holders) {
    if (!text.empty()) text += ", ";
    text += holder.program + " (process " + std::to_string(holder.pid) + ")";
  }
  return text;
}

}  // namespace understudy
