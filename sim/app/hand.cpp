// The verb `hand`: moves a control of the session that runs now.
#include <memory>
#include <string>
#include <vector>

#include "sim/app/verb.h"
#include "sim/faults/hand_words.h"
#include "sim/link/hand_socket.h"

namespace understudy {
namespace {

struct HandOptions {
  std::vector<std::string> words;
  std::optional<std::int64_t> process;
};

int hand(const HandOptions& options) {
  std::string line;
  for (const std::string& word : options.words) line += (line.empty() ? "" : " ") + word;
  if (says_nothing(line)) return fail("hand", nothing_said());
  const auto done = send_hand(line, options.process);
  return done.ok() ? kStatusFine : fail("hand", done.error());
}

VerbRun declare_hand(Arguments& arguments) {
  auto options = std::make_shared<HandOptions>();
  arguments.positional("WORDS...", options->words,
                       "NAME down|up|on|off, NAME press [TIME], NAME to SHARE% [in TIME], NAME to "
                       "PLACE, NAME turn 3 clicks, NAME.x to SHARE%, NAME let go");
  arguments.option("--process N", options->process,
                   "the session, where several run; without it the error lists them");
  arguments.example("understudy hand 'bell press 200ms'");
  arguments.example("understudy hand 'stick.x to 100% in 0.2s for 1s'");
  return [options] { return hand(*options); };
}

}  // namespace

constinit const Verb verb_hand{"hand", VerbGroup::kPlay, "moves a control of the running session",
                               declare_hand};

}  // namespace understudy
