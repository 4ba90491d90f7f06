// NAME and what it does, for controls and for outputs.
#include "sim/panel/answers.h"

#include <algorithm>

#include "sim/base/units.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

using Words = std::vector<std::string>;

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

bool is_one_of(const std::string& word, const Words& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

// What a hand, or time, may do to a part that is moved in this way.
Words words_for(HandWay way) {
  switch (way) {
    case HandWay::kPresses:
    case HandWay::kToggles:
      return {"press", "down", "up"};
    case HandWay::kSlides:
    case HandWay::kPlaces:
      return {"moves"};
    case HandWay::kTurns:
      return {"turns"};
  }
  return {};
}

// Words that hold a value as well: "to 40%" of what slides, "is DIM" or "is 3" of a selector.
bool is_value(const std::string& does, const ControlDescription& control, HandWay way) {
  if (way == HandWay::kSlides)
    return does.starts_with("to ") && parse_quantity(does.substr(3), Unit::kShare).has_value();
  if (way != HandWay::kPlaces || !does.starts_with("is ")) return false;
  const std::string value = does.substr(3);
  const Sends& sends = control.sends;
  if (!sends.words.empty()) return is_one_of(value, sends.words);
  for (int place = 0; place < control.selector.places; ++place) {
    const std::int64_t number =
        sends.given ? sends.low + (sends.high - sends.low) * place / (control.selector.places - 1)
                    : place;
    if (value == std::to_string(number)) return true;
  }
  return false;
}

const char* value_example(HandWay way) {
  if (way == HandWay::kSlides) return "to 40% and the like";
  return way == HandWay::kPlaces ? "is and what it sends there" : nullptr;
}

// The parts that `name` speaks of: the control as a whole, or one of several as NAME.part.
std::vector<HandPart> parts_named(const ControlDescription& control, const std::string& name) {
  std::vector<HandPart> parts;
  for (const HandPart& part : hand_parts(control))
    if (name == control.name || name == part_name(control.name, part.name)) parts.push_back(part);
  return parts;
}

// Several parts spoken of by the one name take no value: it would not say whose.
void check_done(const Node& node, const Said& said, const ControlDescription& control,
                Mistakes& mistakes) {
  const std::vector<HandPart> parts = parts_named(control, said.name);
  Words words;
  if (hand_parts(control).empty()) words = {"changes"};
  for (const HandPart& part : parts) {
    for (std::string& word : words_for(part.way))
      if (!is_one_of(word, words)) words.push_back(std::move(word));
  }
  if (is_one_of(said.does, words)) return;
  if (parts.size() != 1)
    return add(node, "answer.when", said.name + " and " + either(words), "", mistakes);
  const HandWay way = parts[0].way;
  if (is_value(said.does, control, way)) return;
  const char* example = value_example(way);
  add(node, "answer.when",
      said.name + " and " + (example == nullptr ? either(words) : words[0] + ", or " + example), "",
      mistakes);
}

// What each kind of output may be seen or heard to do.
Words words_for(const OutputDescription& output) {
  switch (output.kind) {
    case OutputKind::kLamp:
    case OutputKind::kRgb:
      return {"lit", "dark", "changes"};
    case OutputKind::kGauge:
      return {"moves", "changes"};
    case OutputKind::kBuzzer:
      return {"sounds", "silent", "changes"};
    case OutputKind::kDigits:
      return {"changes"};
  }
  return {};
}

}  // namespace

void check_answer_when(const Node& node, const PanelDescription& panel, Mistakes& mistakes) {
  const Said said = split(node.text);
  Words names;
  for (const ControlDescription& control : panel.controls) {
    names.push_back(control.name);
    if (control.name == said.name) return check_done(node, said, control, mistakes);
    for (const HandPart& part : hand_parts(control)) {
      if (part.name.empty()) continue;
      names.push_back(part_name(control.name, part.name));
      if (names.back() == said.name) return check_done(node, said, control, mistakes);
    }
  }
  add(node, "answer.when", "the name of a control and what it does",
      nearest_or_all(said.name, names), mistakes);
}

void check_answer_expect(const Node& node, const PanelDescription& panel, Mistakes& mistakes) {
  const Said said = split(node.text);
  Words names;
  for (const OutputDescription& output : panel.outputs) {
    names.push_back(output.name);
    bool named = output.name == said.name;
    for (const std::string_view part : line_parts(output)) {
      if (part.empty()) continue;
      names.push_back(part_name(output.name, part));
      named = named || names.back() == said.name;
    }
    if (!named) continue;
    const Words words = words_for(output);
    const bool shows = output.kind == OutputKind::kDigits && said.does.starts_with("shows ") &&
                       said.does.size() > 6;
    if (is_one_of(said.does, words) || shows) return;
    add(node, "answer.expect",
        said.name + " and " + either(words) +
            (output.kind == OutputKind::kDigits ? ", or shows and a number" : ""),
        "", mistakes);
    return;
  }
  add(node, "answer.expect", "the name of an output and what it shows",
      names.empty() ? "the panel has none" : nearest_or_all(said.name, names), mistakes);
}

}  // namespace understudy
