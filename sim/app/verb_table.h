// The one list of verbs. The order within a group is the order in `understudy --help`.
// What a verb is and how to write one: verb.h, which declares verb_NAME for each.
#pragma once

// clang-format off
#define UNDERSTUDY_VERBS(VERB) \
  VERB(panel) \
  VERB(serve) \
  VERB(emit) \
  VERB(hand) \
  VERB(tap) \
  VERB(replay) \
  VERB(measure) \
  VERB(compare) \
  VERB(new) \
  VERB(check) \
  VERB(explain) \
  VERB(ports) \
  VERB(manual) \
  VERB(completion)
// clang-format on
