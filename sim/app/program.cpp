// Verb table, overview and choice of the verb. What verbs do is theirs.
#include "sim/app/program.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <utility>

#include "sim/app/verb_table.h"
#include "sim/base/text.h"

namespace understudy {
namespace {

struct GroupTitle {
  VerbGroup group;
  std::string_view title;
};

constexpr GroupTitle kGroups[] = {
    {VerbGroup::kPlay, "play"},   {VerbGroup::kDescribe, "describe"},
    {VerbGroup::kBox, "the box"}, {VerbGroup::kAfter, "after"},
    {VerbGroup::kProve, "prove"}, {VerbGroup::kProgram, "the program itself"},
};

Result<Choice> choose_verb(const Verb& verb, const std::vector<std::string>& words) {
  Arguments arguments(verb.name, verb.summary);
  VerbRun run = verb.declare(arguments);
  const Result<bool> parsed = arguments.parse(words);
  if (!parsed.ok()) return parsed.error();
  if (!parsed.value()) return Choice{arguments.help(), nullptr};
  return Choice{"", std::move(run)};
}

}  // namespace

std::span<const Verb* const> all_verbs() {
#define VERB(name) &verb_##name,
  static constexpr auto kVerbs = std::to_array<const Verb*>({UNDERSTUDY_VERBS(VERB) nullptr});
#undef VERB
  return std::span(kVerbs).first(kVerbs.size() - 1);
}

std::string_view group_title(VerbGroup group) {
  for (const GroupTitle& one : kGroups)
    if (one.group == group) return one.title;
  return "";
}

std::string overview(std::span<const Verb* const> verbs) {
  std::string text =
      "understudy plays a home-made game controller: a game reads its lines and drives its lamps\n"
      "as if the box were there.\n\n"
      "usage: understudy VERB [ARGUMENTS]     understudy VERB --help     understudy --version\n";
  for (const GroupTitle& group : kGroups) {
    bool titled = false;
    for (const Verb* verb : verbs) {
      if (verb->group != group.group) continue;
      if (!std::exchange(titled, true)) text += "\n" + std::string(group.title) + "\n";
      std::string name(verb->name);
      name.resize(std::max<std::size_t>(name.size() + 1, 12), ' ');
      text += "  " + name + std::string(verb->summary) + "\n";
    }
  }
  return text;
}

Result<Choice> choose(const std::vector<std::string>& words, std::span<const Verb* const> verbs) {
  if (words.empty()) return Error{ErrorCode::kUnusable, "a verb is missing\n" + overview(verbs)};
  const std::string& first = words.front();
  if (first == "--help" || first == "-h") return Choice{overview(verbs), nullptr};
  if (first == "--version") return Choice{"understudy " UNDERSTUDY_VERSION "\n", nullptr};

  std::vector<std::string> names;
  for (const Verb* verb : verbs) {
    if (verb->name == first) return choose_verb(*verb, {words.begin() + 1, words.end()});
    names.emplace_back(verb->name);
  }
  const std::string near = nearest_word(first, names);
  return Error{ErrorCode::kUnusable,
               "there is no verb '" + printable(first) + "'" +
                   (near.empty() ? "; understudy --help lists them" : "; the nearest is " + near)};
}

int run_program(const std::vector<std::string>& words, std::span<const Verb* const> verbs) {
  const Result<Choice> choice = choose(words, verbs);
  if (!choice.ok()) {
    std::fputs(("understudy: " + choice.error().text + "\n").c_str(), stderr);
    return status_of(choice.error());
  }
  if (choice.value().run) return choice.value().run();
  std::fputs(choice.value().shown.c_str(), stdout);
  return kStatusFine;
}

int status_of(const Error& error) {
  switch (error.code) {
    case ErrorCode::kUnusable:
    case ErrorCode::kOtherModel:
      return kStatusUnusable;
    case ErrorCode::kLinkFailed:
    case ErrorCode::kBusy:
      return kStatusLinkFailed;
    case ErrorCode::kGameFailed:
    case ErrorCode::kMismatch:
      return kStatusFailed;
  }
  return kStatusUnusable;
}

int fail(std::string_view verb, const Error& error) {
  std::string text;
  for (std::size_t start = 0; start < error.text.size();) {
    const std::size_t end = std::min(error.text.find('\n', start), error.text.size());
    text += "understudy " + std::string(verb) + ": " + error.text.substr(start, end - start) + "\n";
    start = end + 1;
  }
  std::fputs(text.c_str(), stderr);
  return status_of(error);
}

}  // namespace understudy
