// The one list of verbs. The order within a group is the order in `understudy --help`.
// What a verb is and how to write one: verb.h.
#pragma once

#include "sim/app/verb.h"

// clang-format off
#define UNDERSTUDY_VERBS(VERB) \
  VERB(emit)
// clang-format on

namespace understudy {

#define VERB(name) extern const Verb verb_##name;
UNDERSTUDY_VERBS(VERB)
#undef VERB

}  // namespace understudy
