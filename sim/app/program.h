// The program without its main(): picks the verb for the words of the command line.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sim/app/verb.h"

namespace understudy {

// What the words of the command line ask for: text to show, or a verb to run.
struct Choice {
  std::string shown;  // for standard output where `run` is empty
  VerbRun run;
};

// The list behind verb_table.h.
std::span<const Verb* const> all_verbs();

// The heading of a group in `understudy --help`.
std::string_view group_title(VerbGroup group);

// What `understudy --help` shows: every verb under its group's heading.
std::string overview(std::span<const Verb* const> verbs);

// Picks from `verbs` by `words` (without the program's own name) and reads the verb's arguments.
// Errors: kUnusable for an unknown verb, with the nearest one, or for unusable arguments.
// Prints nothing.
Result<Choice> choose(const std::vector<std::string>& words, std::span<const Verb* const> verbs);

// Shows what there is to show, or runs the verb; gives the exit status.
int run_program(const std::vector<std::string>& words, std::span<const Verb* const> verbs);

}  // namespace understudy
