// A game's environment, and what is wrong when it cannot be found or run.
#include <windows.h>

#include <algorithm>
#include <array>
#include <filesystem>

#include "sim/base/text.h"
#include "sim/base/wide_text.h"
#include "sim/link/game_words.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

std::string lower(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

// What runs a file of this ending, or "".
std::string interpreter_of(const std::string& game) {
  static constexpr std::array<std::array<const char*, 2>, 6> kEndings{{{".py", "python"},
                                                                       {".lua", "lua"},
                                                                       {".js", "node"},
                                                                       {".jar", "java -jar"},
                                                                       {".bat", "cmd /c"},
                                                                       {".cmd", "cmd /c"}}};
  for (const auto& [ending, interpreter] : kEndings)
    if (lower(game).ends_with(ending)) return interpreter;
  return "";
}

// The programs in the folder that `game` names, for the nearest of them.
std::vector<std::string> programs_beside(const fs::path& game) {
  std::vector<std::string> names;
  std::error_code error;
  const fs::path folder = game.has_parent_path() ? game.parent_path() : fs::path(L".");
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
    const std::string name = narrow_text(entry.path().filename().native());
    if (lower(name).ends_with(".exe")) names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string remedy_for(const std::string& game) {
  std::error_code error;
  const fs::path path(wide_text(game));
  if (fs::is_directory(path, error)) return "it is a folder: name the program in it";
  const std::string interpreter = interpreter_of(game);
  if (!interpreter.empty()) return "name what runs it: -- " + interpreter + " " + game;
  if (fs::exists(path, error)) return "it is no program of this system";
  const std::string nearest =
      nearest_word(narrow_text(path.filename().native()), programs_beside(path));
  if (!nearest.empty())
    return "perhaps " + narrow_text((path.parent_path() / wide_text(nearest)).native());
  return "check its path from " + narrow_text(fs::current_path(error).native());
}

}  // namespace

Error cannot_start(const std::string& game, int reason) {
  const bool a_lack = reason == ERROR_FILE_NOT_FOUND || reason == ERROR_PATH_NOT_FOUND ||
                      reason == ERROR_ACCESS_DENIED || reason == ERROR_BAD_EXE_FORMAT ||
                      reason == ERROR_DIRECTORY;
  return {a_lack ? ErrorCode::kUnusable : ErrorCode::kGameFailed,
          "cannot start the game " + game + ": " +
              system_words(static_cast<unsigned long>(reason)) + "; " + remedy_for(game)};
}

std::vector<std::string> environment_for(const GameOptions& options) {
  const std::vector<EnvironmentEntry> ours = entries_for(options);
  std::vector<std::string> all;
  wchar_t* block = GetEnvironmentStringsW();
  for (const wchar_t* entry = block; *entry != L'\0'; entry += wcslen(entry) + 1) {
    const std::string text = narrow_text(entry);
    // Names of the system's own begin with the sign; case does not count.
    const std::string name = lower(text.substr(0, text.find('=', 1)));
    const bool replaced = std::any_of(ours.begin(), ours.end(), [&](const EnvironmentEntry& one) {
      return lower(one.name) == name;
    });
    if (!replaced) all.push_back(text);
  }
  FreeEnvironmentStringsW(block);
  for (const EnvironmentEntry& entry : ours) {
    if (!entry.value.empty()) all.push_back(entry.name + "=" + entry.value);
  }
  return all;
}

}  // namespace understudy
