// Hands told in words on the command line, for sessions in virtual time.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sim/app/session_arguments.h"

namespace understudy {

// Somebody listens at every seat from the first moment and takes each byte as it comes; then what
// the hands do, in order of time. Errors: kUnusable, as parse_hand_words, and for words that say
// nothing.
Result<std::vector<SeatInput>> said_hands(std::span<const std::string> hands,
                                          std::span<const SeatPlan> seats);

// Takes what is due by `until` off the front of `left`.
std::span<const SeatInput> take_due(std::span<const SeatInput>& left, Instant until);

}  // namespace understudy
