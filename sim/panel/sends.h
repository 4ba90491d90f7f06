// What a control sends and an output takes: a range, a range with decimals, or words.
#pragma once

#include "sim/panel/readers.h"

namespace understudy {

struct SendsAllowed {
  std::size_t words_min = 0;  // 0: words are not allowed
  std::size_t words_max = 0;
};

// Reads [low, high] or a list of words; `sends.decimals` must have been read before.
void read_sends(const KeyText& key, const Node& node, SendsAllowed allowed, Sends& sends,
                Mistakes& mistakes);
// "[0, 1023]", "[-1.00, 1.00]" or "[\"UP\", \"DOWN\"]".
std::string write_sends(const Sends& sends);

}  // namespace understudy
