// The verb `completion`, and what the scripts of both shells share.
#include "sim/app/completion.h"

#include <algorithm>
#include <cstdio>

#include "sim/app/program.h"
#include "sim/panel/key_table.h"

namespace understudy {
namespace {

bool is_word(std::string_view text) {
  const auto fits = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  };
  return !text.empty() && std::all_of(text.begin(), text.end(), fits);
}

struct CompletionOptions {
  std::string shell;
};

int completion(const CompletionOptions& options) {
  const std::vector<DescribedVerb> verbs = describe(all_verbs());
  if (options.shell != "bash" && options.shell != "zsh")
    return fail("completion",
                {ErrorCode::kUnusable,
                 "the shell is '" + options.shell + "'; there is completion for bash and zsh"});
  const std::string text = options.shell == "bash" ? bash_completion(verbs) : zsh_completion(verbs);
  std::fputs(text.c_str(), stdout);
  return kStatusFine;
}

VerbRun declare_completion(Arguments& arguments) {
  auto options = std::make_shared<CompletionOptions>();
  arguments.positional("bash|zsh", options->shell, "the shell");
  arguments.example("source <(understudy completion bash)");
  return [options] { return completion(*options); };
}

}  // namespace

ValueChoice choice_of(std::string_view value_name) {
  if (value_name == "PANEL") return {ValueKind::kPanelFile, {}};
  if (value_name == "FILE" || value_name == "PORT" || value_name == "RECORDING")
    return {ValueKind::kFile, {}};
  ValueChoice choice;
  if (value_name == "KEY") {
    for (const KeyText& key : all_keys()) choice.words.push_back(key.path());
  } else {
    while (!value_name.empty()) {
      const std::size_t end = std::min(value_name.find('|'), value_name.size());
      if (is_word(value_name.substr(0, end))) choice.words.emplace_back(value_name.substr(0, end));
      value_name.remove_prefix(std::min(end + 1, value_name.size()));
    }
  }
  if (!choice.words.empty()) choice.kind = ValueKind::kWords;
  return choice;
}

std::vector<DescribedVerb> describe(std::span<const Verb* const> verbs) {
  std::vector<DescribedVerb> all;
  for (const Verb* verb : verbs) {
    Arguments arguments(verb->name, verb->summary);
    const VerbRun owner_of_targets = verb->declare(arguments);
    all.push_back(
        {std::string(verb->name), std::string(verb->summary), verb->group, arguments.described()});
  }
  return all;
}

std::string single_quoted(std::string_view text) {
  std::string quoted = "'";
  for (const char c : text) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + "'";
}

constinit const Verb verb_completion{"completion", VerbGroup::kProgram,
                                     "what a shell needs to complete these words",
                                     declare_completion};

}  // namespace understudy
