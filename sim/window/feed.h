// What passes in a session, one item after the other, for areas that show it as it goes by: bytes
// both ways, changes of outputs, hands, what the board and the links say, what the game prints.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "sim/base/time.h"
#include "sim/model/inputs.h"
#include "sim/model/outputs.h"

namespace understudy {

// Bytes on their way; to the game as one flush chunk, from it as read.
struct FedBytes {
  bool to_game = false;
  std::string bytes;
};
struct FedChange {
  OutputChange change;
};
// Any input but bytes: hands, link events, slips, a panel reloaded.
struct FedInput {
  Input input;
};
struct FedNote {
  Note note;
};
// A sentence for people: a remark, a notice of a link, a mistake.
struct FedWord {
  std::string text;
};
// A line that the game printed.
struct FedGameLine {
  bool error = false;
  std::string text;
};

struct FeedItem {
  Instant at;
  std::uint16_t seat = 0;
  std::variant<FedBytes, FedChange, FedInput, FedNote, FedWord, FedGameLine> what;
};

// A window that is slow or hidden takes nothing for a while; beyond this the oldest go and are
// counted.
inline constexpr std::size_t kFeedItemsMax = 40'000;

struct FeedPortion {
  std::vector<FeedItem> items;  // in the order in which they happened
  std::uint64_t lost = 0;       // items that went since the portion before
};

}  // namespace understudy
