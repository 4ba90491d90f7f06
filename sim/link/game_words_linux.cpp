// A game's environment, and what is wrong when it cannot be found or run.
#include <errno.h>
#include <string.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "sim/base/text.h"
#include "sim/link/game_words.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

// The names in a folder that this user may run.
void add_programs(const std::string& folder, std::vector<std::string>& names) {
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
    if (entry.is_directory(error)) continue;
    if (access(entry.path().c_str(), X_OK) == 0) names.push_back(entry.path().filename().string());
  }
}

std::vector<std::string> programs_on_path() {
  std::vector<std::string> names;
  const char* path = getenv("PATH");
  std::string_view left = path != nullptr ? path : "";
  while (!left.empty()) {
    const std::size_t colon = std::min(left.find(':'), left.size());
    add_programs(std::string(left.substr(0, colon)), names);
    left.remove_prefix(std::min(colon + 1, left.size()));
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string remedy_for_file(const std::string& game, int reason) {
  std::error_code error;
  const fs::path path(game);
  if (fs::is_directory(path, error)) return "it is a folder: name the program in it";
  if (fs::exists(path, error)) {
    if (reason == EACCES) return "run chmod +x " + game + ", or name its interpreter before it";
    if (reason == ENOENT) return "the interpreter named in its first line is not there";
    return "it is no program of this system: name its interpreter before it";
  }
  std::vector<std::string> names;
  const std::string folder = path.has_parent_path() ? path.parent_path().string() : ".";
  add_programs(folder, names);
  const std::string near = nearest_word(path.filename().string(), names);
  return near.empty() ? "check its path from " + fs::current_path(error).string()
                      : "perhaps " + (fs::path(folder) / near).string();
}

// True where one letter is missing, too many or another, or two neighbours have changed places.
bool one_slip_apart(std::string_view a, std::string_view b) {
  while (!a.empty() && !b.empty() && a.front() == b.front()) {
    a.remove_prefix(1);
    b.remove_prefix(1);
  }
  while (!a.empty() && !b.empty() && a.back() == b.back()) {
    a.remove_suffix(1);
    b.remove_suffix(1);
  }
  const bool swapped = a.size() == 2 && b.size() == 2 && a[0] == b[1] && a[1] == b[0];
  return swapped || (a.size() <= 1 && b.size() <= 1);
}

// There are thousands of commands, so some are always near; only a slip of the finger is guessed.
std::string remedy_for_name(const std::string& game, int reason) {
  std::error_code error;
  if (fs::exists(game, error)) return "write ./" + game + " for the one in this folder";
  if (reason != ENOENT) return "it cannot be run; check its rights";
  for (const std::string& name : programs_on_path()) {
    if (one_slip_apart(game, name)) return "perhaps " + name;
  }
  return "no command has this name, and it is not in " + fs::current_path(error).string() +
         " either; write the path of a game that lies elsewhere, such as games/" + game;
}

}  // namespace

Error cannot_start(const std::string& game, int reason) {
  const bool is_path = game.find('/') != std::string::npos;
  const bool a_lack = reason == ENOENT || reason == EACCES || reason == ENOEXEC ||
                      reason == ENOTDIR || reason == EISDIR;
  return {a_lack ? ErrorCode::kUnusable : ErrorCode::kGameFailed,
          "cannot start the game " + game + ": " + strerror(reason) + "; " +
              (is_path ? remedy_for_file(game, reason) : remedy_for_name(game, reason))};
}

std::vector<std::string> environment_for(const GameOptions& options) {
  const std::vector<EnvironmentEntry> ours = entries_for(options);
  std::vector<std::string> all;
  for (char** entry = environ; *entry != nullptr; ++entry) {
    const std::string_view text = *entry;
    const std::string_view name = text.substr(0, text.find('='));
    const bool replaced = std::any_of(
        ours.begin(), ours.end(), [&](const EnvironmentEntry& one) { return one.name == name; });
    if (!replaced) all.emplace_back(text);
  }
  for (const EnvironmentEntry& entry : ours) {
    if (!entry.value.empty()) all.push_back(entry.name + "=" + entry.value);
  }
  return all;
}

}  // namespace understudy
