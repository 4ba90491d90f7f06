// The completion script for bash: tables of the verbs' words, and one function that looks into
// them. It needs bash alone, no package of completions.
#include <utility>

#include "sim/app/completion.h"

namespace understudy {
namespace {

constexpr const char* kHead =
    R"bash(# Completion of understudy in bash, written by `understudy completion bash`.
# Use it now:  source <(understudy completion bash)

# Offers the words after the first that begin with $1.
_understudy_words() {
    mapfile -t COMPREPLY < <(compgen -W "${*:2}" -- "$1")
}

# Offers files that begin with $1: panel files, or all; and folders to look into.
_understudy_files() {
    compopt -o filenames 2>/dev/null
    mapfile -t COMPREPLY < <(
        if [[ $2 == panel ]]; then
            compgen -d -- "$1"
            compgen -f -X '!*.toml' -- "$1"
        else
            compgen -f -- "$1"
        fi | sort -u
    )
}

)bash";

constexpr const char* kBody = R"bash(
_understudy() {
    local current=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}
    local verb=${COMP_WORDS[1]-} at
    COMPREPLY=()
    if ((COMP_CWORD == 1)); then
        _understudy_words "$current" "$_understudy_verbs" --help --version
        return
    fi
    # What follows a lone -- is a command of its own.
    for ((at = 2; at < COMP_CWORD; at++)); do
        [[ ${COMP_WORDS[at]} == -- ]] || continue
        _understudy_files "$current" any
        if ((at == COMP_CWORD - 1)); then
            mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -c -- "$current" | sort -u)
        fi
        return
    done
    # bash cuts --play=sweep into three words.
    if [[ $current == = ]]; then
        current=
    elif [[ $before == = ]]; then
        before=${COMP_WORDS[COMP_CWORD-2]}
    fi
    if [[ $before == --* ]] && _understudy_value "$verb" "$before" "$current"; then
        return
    fi
    if [[ $current == -* ]]; then
        _understudy_words "$current" "$(_understudy_options "$verb")"
    else
        _understudy_value "$verb" place "$current"
    fi
}

complete -F _understudy understudy
)bash";

// What is done for a value; "" where nothing can be offered.
std::string offer(const std::string& value_name) {
  const ValueChoice choice = choice_of(value_name);
  switch (choice.kind) {
    case ValueKind::kAnything:
      return "";
    case ValueKind::kPanelFile:
      return "_understudy_files \"$3\" panel";
    case ValueKind::kFile:
      return "_understudy_files \"$3\" any";
    case ValueKind::kWords:
      break;
  }
  std::string text = "_understudy_words \"$3\"";
  for (const std::string& word : choice.words) text += " " + word;
  return text;
}

std::string options_table(std::span<const DescribedVerb> verbs) {
  std::string text = "# The options of verb $1.\n_understudy_options() {\n    case $1 in\n";
  for (const DescribedVerb& verb : verbs) {
    text += "    " + verb.name + ") echo '--help";
    for (const DescribedArgument& one : verb.arguments.all)
      if (one.name.starts_with('-')) text += " " + one.name;
    text += verb.arguments.game ? " --' ;;\n" : "' ;;\n";
  }
  return text + "    esac\n}\n\n";
}

std::string values_table(std::span<const DescribedVerb> verbs) {
  std::string text =
      "# Offers values of verb $1 that begin with $3: of the option $2, or for `place` of what "
      "goes by\n"
      "# its place. False where $2 takes no value.\n"
      "_understudy_value() {\n    case \"$1 $2\" in\n";
  for (const DescribedVerb& verb : verbs) {
    bool placed = false;
    for (const DescribedArgument& one : verb.arguments.all) {
      const bool by_place = !one.name.starts_with('-');
      if (by_place && std::exchange(placed, true)) continue;  // the first tells for all
      if (!by_place && one.value.empty()) continue;
      const std::string done = offer(by_place ? one.name : one.value);
      text += "    '" + verb.name + " " + (by_place ? "place" : one.name) + "') " +
              (done.empty() ? ":" : done) + " ;;\n";
    }
  }
  return text + "    *) return 1 ;;\n    esac\n}\n";
}

}  // namespace

std::string bash_completion(std::span<const DescribedVerb> verbs) {
  std::string names;
  for (const DescribedVerb& verb : verbs) names += (names.empty() ? "" : " ") + verb.name;
  return kHead + ("_understudy_verbs='" + names + "'\n\n") + options_table(verbs) +
         values_table(verbs) + kBody;
}

}  // namespace understudy
