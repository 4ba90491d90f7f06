// Reads the one folder that the path names so far.
#include "sim/window/path_completion.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>

namespace understudy {

std::vector<std::string> path_completions(std::string_view typed) {
  const std::size_t slash = typed.rfind('/');
  const std::string shown(typed.substr(0, slash == std::string_view::npos ? 0 : slash + 1));
  const std::string begun(typed.substr(shown.size()));
  std::string folder = shown.empty() ? "." : shown;
  if (shown.starts_with("~/")) {
    const char* home = std::getenv("HOME");
    if (home != nullptr) folder = home + shown.substr(1);
  }
  std::vector<std::string> found;
  std::error_code failed;
  constexpr int kLookedAtMax = 5'000;  // a folder with more is not gone through
  int looked = 0;
  for (std::filesystem::directory_iterator it(folder, failed), end; !failed && it != end;
       it.increment(failed)) {
    if (++looked > kLookedAtMax) break;
    const std::string name = it->path().filename().string();
    if (!name.starts_with(begun) || (name.starts_with('.') && !begun.starts_with('.'))) continue;
    std::error_code unknown;
    if (it->is_directory(unknown))
      found.push_back(shown + name + "/");
    else if (name.ends_with(".panel.toml"))
      found.push_back(shown + name);
  }
  std::sort(found.begin(), found.end());
  if (found.size() > kCompletionsMax) found.resize(kCompletionsMax);
  return found;
}

std::string shared_beginning(const std::vector<std::string>& completions) {
  if (completions.empty()) return "";
  std::string shared = completions.front();
  for (const std::string& one : completions) {
    const auto differ = std::mismatch(shared.begin(), shared.end(), one.begin(), one.end());
    shared.erase(differ.first, shared.end());
  }
  return shared;
}

}  // namespace understudy
