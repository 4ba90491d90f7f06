// A panel file's text -> a Panel: reads by the key table, sees that the parts fit together, fills
// in what follows, compiles, and puts every mistake at its place.
#include <algorithm>
#include <map>
#include <utility>

#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/model/kinds.h"
#include "sim/panel/answers.h"
#include "sim/panel/compile.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/defaults.h"
#include "sim/panel/key_table.h"
#include "sim/panel/matrix_cells.h"
#include "sim/panel/output_kinds.h"
#include "sim/panel/panel_file.h"
#include "sim/panel/parse.h"
#include "sim/panel/shared_readers.h"
#include "sim/panel/template_place.h"

namespace understudy {
namespace {

// Everything that parsing passes from one part to the next.
struct Reading {
  const ReadBeside& beside;
  PanelDescription panel = fresh_panel();
  std::vector<const Node*> lines_to_game;  // where each line stands in the file
  std::vector<const Node*> lines_to_panel;
  std::map<std::string, std::string> names;  // of controls and outputs, and which of both
  bool read_files = false;                   // values came from a file beside the panel
  std::size_t hand_parts = 0;                // of all controls so far
  std::size_t fields = 0;                    // of the controls so far
  std::size_t sensor_values = 0;
  Mistakes mistakes;
};

const KeyText* find_key(Section section, std::string_view name) {
  for (const KeyText& key : all_keys())
    if (key.section == section && key.name == name) return &key;
  return nullptr;
}

const KeyText& text_of(Section section, std::string_view name) {
  const KeyText* key = find_key(section, name);
  CHECK(key != nullptr, "a key that has no row was asked for");
  return *key;
}

// The tables of a list of tables such as [[control]]; complains where it is something else.
std::vector<const Node*> tables_of(const Node& root, Section section, std::size_t count_max,
                                   Mistakes& mistakes) {
  std::vector<const Node*> tables;
  const std::string path(section_path(section));
  const Node* list = root.find(path);
  if (list == nullptr) return tables;
  const std::string right = "[[" + path + "]] before each of them";
  if (list->kind != NodeKind::kList) {
    mistakes.add({list->place, path, shown(*list), right, "write it with double brackets"});
    return tables;
  }
  for (const Node& item : list->items) {
    if (item.kind == NodeKind::kTable)
      tables.push_back(&item);
    else
      mistakes.add({item.place, path, shown(item), right, ""});
  }
  if (tables.size() > count_max) {
    mistakes.add({tables[count_max]->place, path, std::to_string(tables.size()) + " of them",
                  "at most " + std::to_string(count_max), ""});
    tables.resize(count_max);
  }
  return tables;
}

void need(const Node& table, Section section, std::string_view name, Mistakes& mistakes) {
  if (table.find(name) != nullptr) return;
  const KeyText& key = text_of(section, name);
  mistakes.add({table.place, key.path(), "no such key", std::string(key.type),
                "add " + std::string(name) + " = " + std::string(key.example)});
}

TextPlace place_of(const Node& table, std::string_view key) {
  const Node* node = table.find(key);
  return node == nullptr ? table.place : node->place;
}

// Names are unique over controls and outputs: hands, findings and answers speak of both.
void claim_name(const std::string& name, const std::string& what, const Node& table,
                Reading& reading) {
  if (name.empty()) return;
  const auto [at, fresh] = reading.names.emplace(name, what);
  if (fresh) return;
  reading.mistakes.add({place_of(table, "name"), what + ".name",
                        "a second " + at->second + " called " + quoted(name),
                        "a name of its own for each control and output", ""});
}

// True where the table names a kind there is: which other keys are right depends on it.
bool has_known_kind(const Node& table, Section section) {
  const Node* kind = table.find("kind");
  if (kind == nullptr || kind->kind != NodeKind::kText) return false;
  const std::vector<std::string> words = words_of(text_of(section, "kind"));
  return std::find(words.begin(), words.end(), kind->text) != words.end();
}

// The table with the keys alone that mean the same for every kind, and those that no kind has.
Node without_kind(const Node& table, Section section) {
  Node rest = table;
  std::erase_if(rest.entries, [section](const NodeEntry& entry) {
    return entry.key != "name" && entry.key != "kind" && find_key(section, entry.key) != nullptr;
  });
  return rest;
}

// A mistake at the first table with which there are more than a device holds.
void count_up(std::size_t& total, std::size_t more, std::size_t most, const char* what,
              const Node& table, Section section, Mistakes& mistakes) {
  const bool before = total <= most;
  total += more;
  if (!before || total <= most) return;
  mistakes.add({table.place, std::string(section_path(section)),
                "more than " + std::to_string(most) + " " + what, "at most so many",
                "two panels can stand side by side"});
}

// What must fit together once all keys of a control are read.
void finish_control(const Node& table, ControlDescription& control, Reading& reading) {
  Mistakes& mistakes = reading.mistakes;
  const ControlKindRow& kind = control_kind(control.kind);
  if (kind.finish != nullptr) kind.finish(table, control, mistakes);
  if (!control.sensor.file.empty()) {
    reading.read_files = true;
    read_sensor_file(table, reading.beside, control, mistakes);
  }
  complain_of_pin_count(text_of(Section::kControl, "pins"), table, pins_needed(control),
                        kind.pins_are, mistakes);
  constexpr Section kSection = Section::kControl;
  count_up(reading.hand_parts, hand_parts(control).size(), kHandPartsMax,
           "parts that a hand can move", table, kSection, mistakes);
  count_up(reading.fields, line_parts(control).size(), kFieldsMax, "values in lines", table,
           kSection, mistakes);
  count_up(reading.sensor_values, control.sensor.values_ppm.size(), kSensorValuesMax,
           "values of sensors", table, kSection, mistakes);
}

void read_controls(const Node& root, Reading& reading) {
  const std::vector<const Node*> tables =
      tables_of(root, Section::kControl, kControlsMax, reading.mistakes);
  for (const Node* table : tables) {
    need(*table, Section::kControl, "name", reading.mistakes);
    need(*table, Section::kControl, "kind", reading.mistakes);
    ControlDescription control = fresh_control();
    const bool known = has_known_kind(*table, Section::kControl);
    read_table(keys_of_control(Section::kControl),
               known ? *table : without_kind(*table, Section::kControl), control, reading.mistakes);
    if (known) finish_control(*table, control, reading);
    claim_name(control.name, "control", *table, reading);
    if (!control.sends.given && table->find("decimals") != nullptr &&
        table->find("sends") == nullptr) {
      reading.mistakes.add({place_of(*table, "decimals"), "control.decimals", "it without sends",
                            "sends beside it", "what a pin reads has no decimals"});
    }
    reading.panel.controls.push_back(std::move(control));
  }
  check_matrix(root, tables, reading.panel, reading.mistakes);
}

void read_outputs(const Node& root, Reading& reading) {
  std::size_t fields = 0;
  for (const Node* table : tables_of(root, Section::kOutput, kOutputsMax, reading.mistakes)) {
    need(*table, Section::kOutput, "name", reading.mistakes);
    need(*table, Section::kOutput, "kind", reading.mistakes);
    OutputDescription output = fresh_output();
    const bool known = has_known_kind(*table, Section::kOutput);
    read_table(keys_of_output(), known ? *table : without_kind(*table, Section::kOutput), output,
               reading.mistakes);
    if (known) {
      complain_of_pin_count(text_of(Section::kOutput, "pins"), *table, pins_needed(output),
                            output_kind(output.kind).pins_are, reading.mistakes);
      if (output.kind == OutputKind::kRgb && table->find("resistor") != nullptr &&
          table->find("resistors") != nullptr) {
        reading.mistakes.add({place_of(*table, "resistor"), "output.resistor",
                              "it beside resistors", "one of both", ""});
      }
    }
    count_up(fields, line_parts(output).size(), kFieldsMax, "values in lines", *table,
             Section::kOutput, reading.mistakes);
    claim_name(output.name, "output", *table, reading);
    reading.panel.outputs.push_back(std::move(output));
  }
}

// The names of `each` are those of the line's own direction, and ids go with them.
void check_each(const Node& table, const LineDescription& line, bool to_game, Reading& reading) {
  const std::string what = to_game ? "control" : "output";
  std::vector<std::string> known;
  for (const auto& [name, part] : reading.names)
    if (part == what) known.push_back(name);
  for (std::size_t i = 0; i < line.each.size(); ++i) {
    if (std::find(known.begin(), known.end(), line.each[i]) != known.end()) continue;
    const Node* each = table.find("each");
    reading.mistakes.add({each->items[i].place, "line.each", quoted(line.each[i]),
                          "the name of " + std::string(to_game ? "a control" : "an output"),
                          nearest_or_all(line.each[i], known)});
  }
  if (!line.ids.empty() && line.ids.size() != line.each.size()) {
    reading.mistakes.add(
        {place_of(table, "ids"), "line.ids", "a list of " + std::to_string(line.ids.size()),
         "a number for each of the " + std::to_string(line.each.size()) + " names of each", ""});
  }
}

void read_lines(const Node& root, Reading& reading) {
  for (const Node* table : tables_of(root, Section::kLine, 2 * kLinesMax, reading.mistakes)) {
    need(*table, Section::kLine, "to", reading.mistakes);
    need(*table, Section::kLine, "text", reading.mistakes);
    LineDescription line;
    read_table(keys_of_line(Section::kLine), *table, line, reading.mistakes);
    const Node* to = table->find("to");
    const bool to_game = to == nullptr || to->text != "panel";
    if (!to_game && table->find("send") != nullptr) {
      reading.mistakes.add({place_of(*table, "send"), "line.send", "it at a line to the panel",
                            "it only at lines to the game", "the game decides when it sends"});
    }
    check_each(*table, line, to_game, reading);
    auto& lines = to_game ? reading.panel.lines_to_game : reading.panel.lines_to_panel;
    auto& places = to_game ? reading.lines_to_game : reading.lines_to_panel;
    lines.push_back(std::move(line));
    places.push_back(table);
  }
}

void read_answers(const Node& root, Reading& reading) {
  constexpr std::size_t kAnswersMax = 64;
  for (const Node* table : tables_of(root, Section::kAnswer, kAnswersMax, reading.mistakes)) {
    need(*table, Section::kAnswer, "when", reading.mistakes);
    need(*table, Section::kAnswer, "expect", reading.mistakes);
    AnswerDescription answer = fresh_answer();
    read_table(keys_of_answer(), *table, answer, reading.mistakes);
    if (const Node* when = table->find("when"); when != nullptr && !answer.when.empty())
      check_answer_when(*when, reading.panel, reading.mistakes);
    if (const Node* expect = table->find("expect"); expect != nullptr && !answer.expect.empty())
      check_answer_expect(*expect, reading.panel, reading.mistakes);
    reading.panel.answers.push_back(std::move(answer));
  }
}

bool gives(const Node& root, std::string_view table, std::string_view key) {
  const Node* node = root.find(table);
  return node != nullptr && node->find(key) != nullptr;
}

void read_root(const Node& root, Reading& reading) {
  Mistakes& mistakes = reading.mistakes;
  if (root.find("panel") == nullptr) {
    mistakes.add({{1, 1}, "panel", "no such key", "panel = \"NAME\" in the first line", ""});
  }
  read_table(keys_of_panel(Section::kTop), root, reading.panel, mistakes);
  read_controls(root, reading);
  read_outputs(root, reading);
  read_lines(root, reading);
  read_answers(root, reading);
  PanelDescription& panel = reading.panel;
  if (panel.controls.empty() && panel.outputs.empty() && root.find("control") == nullptr) {
    mistakes.add({{1, 1},
                  "control",
                  "neither a control nor an output",
                  "at least one [[control]]",
                  "understudy new NAME writes a file to begin with"});
  }
  if (panel.board.boot_spread > panel.board.boot) {
    const Node* board = root.find("board");
    mistakes.add({place_of(*board, "boot_spread"), "board.boot_spread",
                  quoted(write_duration(panel.board.boot_spread)),
                  "at most board.boot, " + quoted(write_duration(panel.board.boot)), ""});
  }
  for (const bool to_game : {true, false}) {
    const bool made_up = (to_game ? panel.lines_to_game : panel.lines_to_panel).empty();
    if (!made_up || gives(root, to_game ? "to_game" : "to_panel", "longest")) continue;
    int& longest = (to_game ? panel.to_game : panel.to_panel).longest_bytes;
    longest = std::max(longest, static_cast<int>(made_up_line_bytes_max(panel, to_game)));
  }
}

// Names that a template speaks of: `{name`, up to where a name ends.
bool speaks_of(const std::string& text, const std::string& name) {
  for (std::size_t at = text.find(name); at != std::string::npos; at = text.find(name, at + 1)) {
    const auto goes_on = [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
             c == '_' || c == '-';
    };
    const bool begins = at > 0 && !goes_on(text[at - 1]);
    const std::size_t end = at + name.size();
    if (begins && (end == text.size() || !goes_on(text[end]))) return true;
  }
  return false;
}

// Where a line speaks of something that there is not: the parts that no line carries, for one of
// them may have been given another name.
std::string renamed_perhaps(const PanelDescription& panel, bool to_game) {
  const auto& lines = to_game ? panel.lines_to_game : panel.lines_to_panel;
  std::vector<std::string> left_out;
  const auto look = [&](const std::string& name) {
    const bool carried = std::any_of(lines.begin(), lines.end(), [&](const LineDescription& line) {
      return speaks_of(line.text, name) ||
             std::find(line.each.begin(), line.each.end(), name) != line.each.end();
    });
    if (!carried) left_out.push_back(name);
  };
  if (to_game) {
    for (const ControlDescription& control : panel.controls) look(control.name);
  } else {
    for (const OutputDescription& output : panel.outputs) look(output.name);
  }
  if (left_out.empty()) return "";
  return "no line carries " + either(left_out) + ": did you rename " +
         (left_out.size() == 1 ? "it?" : "one?");
}

// Where a line names a control or output that has parts, and none of them: how it names them.
std::string parts_meant(const PanelDescription& panel, const CompileFault& fault) {
  const auto& lines = fault.to_game ? panel.lines_to_game : panel.lines_to_panel;
  const bool each = fault.line < lines.size() && !lines[fault.line].each.empty();
  std::vector<std::string> places;
  const auto look = [&](const auto& part) {
    if (fault.error.found != "`{" + part.name + "}`") return;
    for (const std::string_view one : line_parts(part))
      if (!one.empty()) places.push_back("{" + part_name(each ? "#value" : part.name, one) + "}");
  };
  for (const ControlDescription& control : panel.controls)
    if (fault.to_game) look(control);
  for (const OutputDescription& output : panel.outputs)
    if (!fault.to_game) look(output);
  if (places.empty()) return "";
  return "it has parts: write " + either(places);
}

// One fault of the compile step as a mistake at its place in the file, if there is one.
Mistake placed(const CompileFault& fault, const Reading* reading, std::string_view text) {
  const protocol::FormatError& error = fault.error;
  const std::string direction = fault.to_game ? "to_game" : "to_panel";
  Mistake mistake;
  mistake.found = error.found;
  mistake.expected = error.expected;
  if (!error.witness.empty()) mistake.remedy = "see the line " + quoted(printable(error.witness));
  if (reading != nullptr && error.expected.starts_with("the name of a field")) {
    mistake.remedy = parts_meant(reading->panel, fault);
    if (mistake.remedy.empty()) mistake.remedy = renamed_perhaps(reading->panel, fault.to_game);
  }
  if (fault.at == CompileFaultAt::kFields) mistake.key = fault.to_game ? "control" : "output";
  if (fault.at == CompileFaultAt::kFraming) mistake.key = direction;
  if (fault.at == CompileFaultAt::kLineCount) mistake.key = "line";
  if (fault.at != CompileFaultAt::kLine) return mistake;
  mistake.key = "line.text";
  const auto* tables = reading == nullptr ? nullptr
                       : fault.to_game    ? &reading->lines_to_game
                                          : &reading->lines_to_panel;
  if (tables == nullptr || fault.line >= tables->size()) {
    const std::string where = "line " + std::to_string(fault.line + 1) + " " +
                              (fault.to_game ? "to the game" : "to the panel");
    mistake.key = where;
    if (error.column > 0) mistake.key += ", column " + std::to_string(error.column);
    return mistake;
  }
  const Node* node = (*tables)[fault.line]->find("text");
  mistake.place = node->place;
  if (error.column > 0) {
    const auto exact = place_in_template(text, *node, error.column);
    if (exact)
      mistake.place = *exact;
    else
      mistake.key += ", column " + std::to_string(error.column);
  }
  if (fault.other != fault.line) {
    const TextPlace other = place_of(*(*tables)[fault.other], "text");
    mistake.expected += "; the other line stands at " + std::to_string(other.line) + ":" +
                        std::to_string(other.column);
  }
  return mistake;
}

Result<std::shared_ptr<const Panel>> compiled(std::shared_ptr<Panel> panel, Reading* reading) {
  std::vector<CompileFault> faults;
  compile_formats(*panel, faults);
  if (faults.empty()) return std::shared_ptr<const Panel>(std::move(panel));
  Mistakes mistakes;
  for (const CompileFault& fault : faults) mistakes.add(placed(fault, reading, panel->text));
  return mistakes.told(panel->file_name);
}

// The first byte that no text file has, or npos.
std::size_t first_binary_byte(std::string_view text) {
  const std::size_t zero = text.find('\0');
  if (zero != std::string_view::npos) return zero;
  if (is_valid_utf8(text)) return std::string_view::npos;
  std::size_t good = 0;  // the longest prefix, by lines, that is text
  while (good < text.size()) {
    const std::size_t end = std::min(text.find('\n', good), text.size() - 1) + 1;
    if (!is_valid_utf8(text.substr(good, end - good))) break;
    good = end;
  }
  while (good < text.size() && static_cast<unsigned char>(text[good]) < 0x80) ++good;
  return good;
}

// A table that stands twice with single brackets is meant as a list of them.
std::string advice_for(const Error& not_toml) {
  if (not_toml.text.find("redefine existing") == std::string::npos) return "";
  for (int i = 0; i < kSectionCount; ++i) {
    const auto section = static_cast<Section>(i);
    const std::string path(section_path(section));
    if (is_list_of_tables(section) && not_toml.text.find("'" + path + "'") != std::string::npos)
      return "; write [[" + path + "]] for each";
  }
  return "";
}

}  // namespace

Result<std::shared_ptr<const Panel>> parse_panel(std::string_view text,
                                                 std::string_view file_name) {
  return parse_panel_beside(text, file_name, {});
}

Result<std::shared_ptr<const Panel>> parse_panel_beside(std::string_view text,
                                                        std::string_view file_name,
                                                        const ReadBeside& beside) {
  const std::string name(file_name);
  if (text.size() > kPanelFileBytesMax) {
    return Error{ErrorCode::kUnusable, name + ": found more than " +
                                           std::to_string(kPanelFileBytesMax / 1'000'000) +
                                           " MB, expected a panel file, which is a few kB of text"};
  }
  const std::size_t binary = first_binary_byte(text);
  if (binary != std::string_view::npos) {
    return Error{ErrorCode::kUnusable, name + ": found bytes that are no UTF-8 text at byte " +
                                           std::to_string(binary + 1) +
                                           ", expected a panel file, which is TOML text"};
  }
  const Result<Node> root = parse_tree(text, file_name);
  if (!root.ok()) return Error{root.error().code, root.error().text + advice_for(root.error())};
  Reading reading{.beside = beside};
  read_root(root.value(), reading);
  if (!reading.mistakes.empty()) return reading.mistakes.told(file_name);
  auto panel = std::make_shared<Panel>();
  panel->text = text;
  panel->file_name = file_name;
  panel->description = reading.panel;
  complete(panel->description);
  auto whole = compiled(panel, &reading);
  // Whoever keeps the text needs no other file to read the same panel out of it.
  if (whole.ok() && reading.read_files) panel->text = resolved_toml(panel->description);
  return whole;
}

Result<std::shared_ptr<const Panel>> compile_panel(PanelDescription description) {
  auto panel = std::make_shared<Panel>();
  panel->file_name = description.name;
  panel->description = std::move(description);
  complete(panel->description);
  return compiled(std::move(panel), nullptr);
}

}  // namespace understudy
