// Words of the command line for a game: what stands in braces, and its environment. What is wrong
// when it cannot be found is in game_words_linux.cpp and game_words_windows.cpp; starting and
// ending it is in the files beside them.
#include "sim/link/game_words.h"

#include <algorithm>
#include <array>

namespace understudy {
namespace {

struct Placeholder {
  std::string_view written;
  const std::string* value;
  std::string_view remedy;
};

}  // namespace

Result<std::vector<std::string>> words_for(const GameOptions& options) {
  const std::array<Placeholder, 3> placeholders{{
      {"{port}", &options.port, "leave out --no-pty"},
      {"{host}", &options.host, "leave out --no-tcp"},
      {"{tcp}", &options.tcp, "leave out --no-tcp"},
  }};
  std::vector<std::string> words = options.words;
  for (std::string& word : words) {
    for (const Placeholder& placeholder : placeholders) {
      std::size_t at = 0;
      while ((at = word.find(placeholder.written, at)) != std::string::npos) {
        if (placeholder.value->empty()) {
          return Error{ErrorCode::kUnusable, "the game's argument '" + word + "' asks for " +
                                                 std::string(placeholder.written) +
                                                 ", which is not open; " +
                                                 std::string(placeholder.remedy)};
        }
        word.replace(at, placeholder.written.size(), *placeholder.value);
        at += placeholder.value->size();
      }
    }
  }
  return words;
}

std::vector<EnvironmentEntry> entries_for(const GameOptions& options) {
  std::vector<EnvironmentEntry> ours;
  ours.push_back({"UNDERSTUDY_PORT", options.port});
  ours.push_back({"UNDERSTUDY_TCP", options.tcp.empty() ? "" : options.host + ":" + options.tcp});
  ours.push_back({"UNDERSTUDY_PANEL", options.panel});
  for (const EnvironmentEntry& entry : options.environment) {
    std::erase_if(ours, [&](const EnvironmentEntry& old) { return old.name == entry.name; });
    ours.push_back(entry);
  }
  return ours;
}

std::string written(const GameEnd& end) {
  if (end.signal.empty()) return "ended with status " + std::to_string(end.status);
  const bool crash = end.signal == "SIGSEGV" || end.signal == "SIGABRT" || end.signal == "SIGBUS" ||
                     end.signal == "SIGILL" || end.signal == "SIGFPE";
  return "was ended by " + end.signal + (crash ? " (a crash)" : "");
}

}  // namespace understudy
