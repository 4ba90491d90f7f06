// The way in for `understudy hand 'bell down'`: a socket in the private folder of the user, one for
// each running session. Carries lines; what they mean is the caller's.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/pacer.h"

namespace understudy {

inline constexpr std::size_t kHandLineBytesMax = 1'024;
inline constexpr std::size_t kHandCallersMax = 16;  // more at once are closed unheard

// A session's end. Thread: the pacer's; never blocks.
class HandSocket {
 public:
  // `about`: a line for people by which they know this session among several, such as its panel
  // and port; it lies beside the socket. Errors: kLinkFailed.
  static Result<std::unique_ptr<HandSocket>> open(Pacer& pacer, std::string_view about = {});
  ~HandSocket();
  HandSocket(const HandSocket&) = delete;
  HandSocket& operator=(const HandSocket&) = delete;

  struct Asked {
    std::uint64_t caller = 0;
    std::string line;
  };
  // The lines that came in; each must be answered by answer().
  std::vector<Asked> take();
  // An error's text goes to whoever asked; nothing means it was done.
  void answer(const Asked& asked, const std::optional<Error>& error);

 private:
  HandSocket();
  struct State;
  std::shared_ptr<State> state_;
};

// The sessions of this user that run now, by process id; what dead ones left behind is removed.
std::vector<std::int64_t> running_sessions();

// The caller's end: gives `line` to the session `pid`, or to the only one that runs, and waits up
// to 2 s for its answer. Errors: kUnusable (none runs, several run and none was named, or the
// session refused the line: its words), kLinkFailed (it does not answer).
Result<Done> send_hand(std::string_view line, std::optional<std::int64_t> pid = {});

}  // namespace understudy
