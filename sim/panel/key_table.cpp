// Joins the rows of all tables, names the tables, and reads a table by its rows.
#include "sim/panel/key_table.h"

#include <algorithm>
#include <array>
#include <type_traits>

#include "sim/base/text.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/output_kinds.h"

namespace understudy {
namespace {

struct SectionText {
  std::string_view path;
  std::string_view meaning;
  bool list = false;
};

// lint: table
constexpr std::array<SectionText, kSectionCount> kSections = {{
    {"", "What stands at the top of the file, before the first table."},
    {"face", "The plate that everything is mounted on."},
    {"board",
     "The microcontroller: pins, converter, serial buffers, supply. The preset gives all "
     "of it; this table changes single values."},
    {"board.groups", "Sets of pins that share a current limit.", true},
    {"manners", "How the board's own program behaves."},
    {"manners.gather", "Gathering until a byte comes, with a time limit."},
    {"manners.heap",
     "Memory that goes to pieces: a program that builds its lines from texts finds a shorter "
     "largest piece after every so many lines, then prints lines with parts left out, then empty "
     "ones, and stops when nothing is left. A restart heals it."},
    {"wire", "The serial link between board and computer."},
    {"host", "What the computer adds to the wire."},
    {"to_game", "How lines to the game are told apart."},
    {"to_panel", "How lines to the panel are told apart."},
    {"matrix",
     "Buttons and switches at the crossings of wires: the program drives one column after the "
     "other and reads the rows, so that few pins read many of them."},
    {"control", "Something that a hand moves; one [[control]] each, in the order of the line.",
     true},
    {"control.bounce", "How the contact chatters."},
    {"control.keys",
     "Keys of the keyboard that move the control. A terminal takes single characters only: its "
     "arrows, space, enter and tab choose and move controls by themselves."},
    {"output", "Something that the game drives; one [[output]] each, in the order of the line.",
     true},
    {"line",
     "One kind of line, in one direction. Without any, all controls (outputs) in the order "
     "of the file, with commas between.",
     true},
    {"line.send", "When a line to the game is sent, where it isn't every loop."},
    {"line.check", "A check of the line, written after its text."},
    {"answer", "What the game promises: tests hold it to this.", true},
}};

template <class T>
void append(std::vector<KeyText>& all, std::span<const KeyOf<T>> rows) {
  for (const KeyOf<T>& row : rows) all.push_back(row.text);
}

std::vector<KeyText> joined() {
  std::vector<KeyText> all;
  for (const Section section : {Section::kTop, Section::kFace, Section::kBoard})
    append(all, keys_of_panel(section));
  append(all, keys_of_group());
  for (const Section section :
       {Section::kManners, Section::kGather, Section::kHeap, Section::kWire, Section::kHost,
        Section::kToGame, Section::kToPanel, Section::kMatrix})
    append(all, keys_of_panel(section));
  for (const Section section : {Section::kControl, Section::kBounce, Section::kKeys})
    append(all, keys_of_control(section));
  append(all, keys_of_output());
  for (const Section section : {Section::kLine, Section::kSend, Section::kCheck})
    append(all, keys_of_line(section));
  append(all, keys_of_answer());
  return all;
}

std::string_view one_of_kind(ControlKind kind) {
  return control_kind(kind).one;
}
std::string_view one_of_kind(OutputKind kind) {
  return output_kind(kind).one;
}

// True, with a mistake added, where the row is not for this kind.
template <class Kind>
bool refused_by_kind(const KeyText& key, Kind kind, TextPlace place, Mistakes& mistakes) {
  if (is_for_kind(key, kind)) return false;
  mistakes.add({place, key.path(), "it at " + std::string(one_of_kind(kind)),
                "it only at " + either(kinds_with(key)), "take it out or change kind"});
  return true;
}

}  // namespace

std::string_view section_path(Section section) {
  return kSections[static_cast<std::size_t>(section)].path;
}

std::string_view section_meaning(Section section) {
  return kSections[static_cast<std::size_t>(section)].meaning;
}

bool is_list_of_tables(Section section) {
  return kSections[static_cast<std::size_t>(section)].list;
}

std::string KeyText::path() const {
  const std::string_view table = section_path(section);
  return table.empty() ? std::string(name) : std::string(table) + "." + std::string(name);
}

std::span<const KeyText> all_keys() {
  static const std::vector<KeyText> all = joined();
  return all;
}

std::vector<std::string> kinds_with(const KeyText& key) {
  std::vector<std::string> kinds;
  if (key.kinds == kForAnyKind) return kinds;
  if (key.section == Section::kOutput) {
    for (const OutputKindRow& row : output_kinds())
      if (is_for_kind(key, row.kind)) kinds.emplace_back(row.many);
  } else {
    for (const ControlKindRow& row : control_kinds())
      if (is_for_kind(key, row.kind)) kinds.emplace_back(row.many);
  }
  return kinds;
}

std::vector<std::string> words_of(const KeyText& key) {
  std::vector<std::string> words;
  std::string_view rest = key.words;
  while (!rest.empty()) {
    const std::size_t bar = std::min(rest.find('|'), rest.size());
    words.emplace_back(rest.substr(0, bar));
    rest.remove_prefix(std::min(bar + 1, rest.size()));
  }
  return words;
}

template <class T>
void read_table(std::span<const KeyOf<T>> rows, const Node& table, T& into, Mistakes& mistakes) {
  CHECK(!rows.empty(), "a table of keys is empty");
  std::vector<std::string> known;
  for (const KeyOf<T>& row : rows) {
    known.emplace_back(row.text.name);
    const Node* node = table.find(row.text.name);
    if (node == nullptr) continue;
    if constexpr (std::is_same_v<T, ControlDescription> || std::is_same_v<T, OutputDescription>) {
      if (refused_by_kind(row.text, into.kind, node->place, mistakes)) continue;
    }
    row.read(row.text, *node, into, mistakes);
  }
  const std::string path(section_path(rows.front().text.section));
  for (const NodeEntry& entry : table.entries) {
    if (std::find(known.begin(), known.end(), entry.key) != known.end()) continue;
    mistakes.add({entry.place, path, "the unknown key " + printable(entry.key), "one of its keys",
                  nearest_or_all(entry.key, known)});
  }
}

template void read_table(std::span<const KeyOf<PanelDescription>>, const Node&, PanelDescription&,
                         Mistakes&);
template void read_table(std::span<const KeyOf<PortGroup>>, const Node&, PortGroup&, Mistakes&);
template void read_table(std::span<const KeyOf<ControlDescription>>, const Node&,
                         ControlDescription&, Mistakes&);
template void read_table(std::span<const KeyOf<OutputDescription>>, const Node&, OutputDescription&,
                         Mistakes&);
template void read_table(std::span<const KeyOf<LineDescription>>, const Node&, LineDescription&,
                         Mistakes&);
template void read_table(std::span<const KeyOf<AnswerDescription>>, const Node&, AnswerDescription&,
                         Mistakes&);

}  // namespace understudy
