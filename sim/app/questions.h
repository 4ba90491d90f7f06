// Seven questions and their answers, for `new`: on a terminal, or down a pipe.
#pragma once

#include <cstdio>
#include <string>

#include "sim/base/result.h"
#include "sim/panel/draft.h"

namespace understudy {

struct Asking {
  std::FILE* in = nullptr;   // answers, one a line; its end answers the rest by the defaults
  std::FILE* out = nullptr;  // questions
};

// A wrong answer is asked for again, kTriesMax times in all. Errors: kUnusable, naming the question
// and the answer; or what to type instead, where there is no answer at all.
inline constexpr int kTriesMax = 3;
Result<Draft> ask_for_draft(const std::string& title, const Asking& asking);

}  // namespace understudy
