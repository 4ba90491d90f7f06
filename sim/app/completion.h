// Completion of the command line in a shell, written from what the verbs declare, so that it cannot
// fall behind. The two shells have a file each; here is what they share.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/app/verb.h"

namespace understudy {

// What may stand for a value, told from what it is called in the help (arguments.h).
enum class ValueKind { kAnything, kWords, kPanelFile, kFile };

struct ValueChoice {
  ValueKind kind = ValueKind::kAnything;
  std::vector<std::string> words;  // for kWords
};

ValueChoice choice_of(std::string_view value_name);

// A verb with what it declares.
struct DescribedVerb {
  std::string name;
  std::string summary;
  VerbGroup group;
  DescribedArguments arguments;
};

// Each of `verbs`, in their order.
std::vector<DescribedVerb> describe(std::span<const Verb* const> verbs);

// A whole script, ending in a line feed: for bash 4 and newer, to be sourced; for zsh 5, to be
// sourced after compinit or to lie in a folder of fpath as _understudy.
std::string bash_completion(std::span<const DescribedVerb> verbs);
std::string zsh_completion(std::span<const DescribedVerb> verbs);

// `text` as one word of a POSIX shell, in single quotes.
std::string single_quoted(std::string_view text);

}  // namespace understudy
