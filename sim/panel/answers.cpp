// NAME and what it does, for controls and for outputs.
#include "sim/panel/answers.h"

#include <algorithm>

#include "sim/base/units.h"

namespace understudy {
namespace {

struct Said {
  std::string name;
  std::string does;
};

Said split(const std::string& text) {
  const std::size_t space = std::min(text.find(' '), text.size());
  return {text.substr(0, space), text.substr(std::min(space + 1, text.size()))};
}

void add(const Node& node, const char* key, std::string expected, std::string remedy,
         Mistakes& mistakes) {
  mistakes.add({node.place, key, shown(node), std::move(expected), std::move(remedy)});
}

bool is_one_of(const std::string& word, const std::vector<std::string>& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

void check_answer_when(const Node& node, const PanelDescription& panel, Mistakes& mistakes) {
  static const std::vector<std::string> contact_words = {"press", "down", "up"};
  const Said said = split(node.text);
  std::vector<std::string> names;
  for (const ControlDescription& control : panel.controls) {
    names.push_back(control.name);
    if (control.name != said.name) continue;
    if (control.kind != ControlKind::kPot) {
      if (!is_one_of(said.does, contact_words))
        add(node, "answer.when", said.name + " and " + either(contact_words), "", mistakes);
      return;
    }
    const bool to = said.does.starts_with("to ") &&
                    parse_quantity(said.does.substr(3), Unit::kShare).has_value();
    if (said.does != "moves" && !to)
      add(node, "answer.when", said.name + " and moves, or to 40% and the like", "", mistakes);
    return;
  }
  add(node, "answer.when", "the name of a control and what it does",
      nearest_or_all(said.name, names), mistakes);
}

void check_answer_expect(const Node& node, const PanelDescription& panel, Mistakes& mistakes) {
  static const std::vector<std::string> lamp_words = {"lit", "dark", "changes"};
  const Said said = split(node.text);
  std::vector<std::string> names;
  for (const OutputDescription& output : panel.outputs) {
    names.push_back(output.name);
    if (output.name != said.name) continue;
    if (!is_one_of(said.does, lamp_words))
      add(node, "answer.expect", said.name + " and " + either(lamp_words), "", mistakes);
    return;
  }
  add(node, "answer.expect", "the name of an output and what it shows",
      names.empty() ? "the panel has none" : nearest_or_all(said.name, names), mistakes);
}

}  // namespace understudy
