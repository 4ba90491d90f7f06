// `replay` with its links open: a recording played to whatever game is there now.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/app/serve_arguments.h"

namespace understudy {

enum class ReplayAs : std::uint8_t {
  kHands,  // a fresh device is moved as the recorded one was, and answers as a box
  kBytes,  // what was handed to the game is handed to it again
};
// "hands" or "bytes".
Result<Done> read_argument(std::string_view text, ReplayAs& into);

struct ReplayToGame {
  std::string file;
  std::optional<ReplayAs> as;  // none: by what the recording is
  std::optional<Duration> from;
  std::optional<Duration> to;
  std::optional<std::string> seat;  // none: all
  std::int64_t times = 1;
  std::vector<std::string> panels;  // to play the hands on: none, one for all, or one for each seat
  ServeArguments serve;             // without panels, seed and length
};

// Gives the exit status, after saying on standard error what is wrong.
int replay_to_game(const ReplayToGame& options);

}  // namespace understudy
