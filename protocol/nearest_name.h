// Which known name somebody may have meant who wrote another one.
#pragma once

#include <span>
#include <string_view>

namespace understudy::protocol {

// The name that is the fewest changed, added or left out letters away; empty when none is within
// a third of the name's length.
std::string_view find_nearest_name(std::string_view written,
                                   std::span<const std::string_view> known);

}  // namespace understudy::protocol
