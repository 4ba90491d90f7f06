// The completion script for zsh: one call of its _arguments for each verb.
#include "sim/app/completion.h"

namespace understudy {
namespace {

constexpr const char* kHead = R"(#compdef understudy
# Completion of understudy in zsh, as `understudy completion zsh` writes it.
# Use it now:  source <(understudy completion zsh)
# For good:    understudy completion zsh > _understudy, in a folder of $fpath

_understudy_verbs() {
    local -a verbs
    verbs=(
)";

constexpr const char* kMiddle = R"(    )
    _describe -t verbs verb verbs
}

_understudy() {
    local context state state_descr line
    typeset -A opt_args
    # What follows a lone -- is a command of its own.
    local -i dashes=${words[(ie)--]}
    if (( dashes > 1 && dashes < CURRENT )); then
        shift $dashes words
        (( CURRENT -= dashes ))
        _normal
        return
    fi
    _arguments -C \
        '(- *)'{-h,--help}'[list the verbs]' \
        '(- *)--version[tell the version]' \
        '1: :_understudy_verbs' \
        '*:: :->verb' && return
    [[ $state == verb ]] || return
    case $line[1] in
)";

constexpr const char* kTail = R"(    esac
}

if [[ ${funcstack[1]} == _understudy ]]; then
    _understudy "$@"
else
    compdef _understudy understudy
fi
)";

// With a backslash before each of `marks`, which part the pieces of a specification.
std::string escaped(std::string_view text, std::string_view marks) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || marks.find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

// ":PANEL:_files ...": what a value is called, and what is offered.
std::string value_part(const std::string& value_name) {
  const ValueChoice choice = choice_of(value_name);
  std::string part = ":" + escaped(value_name, ":") + ":";
  switch (choice.kind) {
    case ValueKind::kAnything:
      return part + " ";
    case ValueKind::kPanelFile:
      return part + "_files -g \"*.toml(-.)\"";
    case ValueKind::kFile:
      return part + "_files";
    case ValueKind::kWords:
      break;
  }
  part += "(";
  for (const std::string& word : choice.words) part += (part.ends_with('(') ? "" : " ") + word;
  return part + ")";
}

std::string specification(const DescribedArgument& one, int place) {
  std::string text;
  if (one.name.starts_with('-')) {
    if (one.repeatable && !one.value.empty()) text += "*";
    text += one.name + (one.value.empty() ? "" : "=") + "[" + escaped(one.help, "[]:") + "]";
    return text + (one.value.empty() ? "" : value_part(one.value));
  }
  return (one.repeatable ? "*" : std::to_string(place)) + value_part(one.name);
}

std::string one_verb(const DescribedVerb& verb) {
  std::string text = "    " + verb.name + ")\n        _arguments \\\n";
  int place = 0;
  for (const DescribedArgument& one : verb.arguments.all) {
    if (!one.name.starts_with('-')) ++place;
    text += "            " + single_quoted(specification(one, place)) + " \\\n";
  }
  return text + "            '(- *)'{-h,--help}'[explain " + verb.name + "]'\n        ;;\n";
}

}  // namespace

std::string zsh_completion(std::span<const DescribedVerb> verbs) {
  std::string text = kHead;
  for (const DescribedVerb& verb : verbs)
    text += "        " + single_quoted(escaped(verb.name, ":") + ":" + verb.summary) + "\n";
  text += kMiddle;
  for (const DescribedVerb& verb : verbs) text += one_verb(verb);
  return text + kTail;
}

}  // namespace understudy
