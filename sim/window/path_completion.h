// How a path that is being typed could go on: folders, and panel files in the folder it names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace understudy {

inline constexpr std::size_t kCompletionsMax = 12;

// Whole paths in alphabetical order, folders with a slash at their end; what begins with a dot only
// where that was typed. At most kCompletionsMax.
std::vector<std::string> path_completions(std::string_view typed);
// The longest beginning that all of them share; empty where there are none.
std::string shared_beginning(const std::vector<std::string>& completions);

}  // namespace understudy
