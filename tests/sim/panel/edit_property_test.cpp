// Random edits of every example panel: comments stay, only the lines that are meant change, what
// the file says changes as meant and in nothing else, and undo gives every byte back.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>

#include "sim/panel/edit_history.h"
#include "sim/panel/edit_lines.h"
#include "sim/panel/edit_parts.h"
#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

const std::vector<std::string> kPanels = {
    "/scenarios/tram/tram.panel.toml", "/scenarios/organ/organ.panel.toml",
    "/scenarios/quiz/quiz.panel.toml", "/scenarios/telescope/telescope.panel.toml",
    "/scenarios/greenhouse/greenhouse.panel.toml"};

struct Source {
  std::string path;
  std::string text;
};

Source any_panel() {
  const std::string path = UNDERSTUDY_SOURCE_ROOT + *rc::gen::elementOf(kPanels);
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  std::string whole = text.str();
  if (*rc::gen::arbitrary<bool>()) {  // as an editor of another system writes it
    std::string lines;
    for (const char c : whole) lines += c == '\n' ? "\r\n" : std::string(1, c);
    whole = lines;
  }
  if (*rc::gen::arbitrary<bool>())
    while (!whole.empty() && (whole.back() == '\n' || whole.back() == '\r')) whole.pop_back();
  return {path, whole};
}

PanelDescription described_beside(const Source& source, const std::string& text) {
  const auto panel = parse_panel_beside(text, source.path, files_beside(source.path));
  RC_ASSERT(panel.ok());
  return panel.value()->description;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    lines.push_back(line);
  }
  return lines;
}

// Every comment with how often it stands there. No text in the example panels has a # but template
// built-ins, which stand behind a brace.
std::multiset<std::string> comments_of(const std::string& text) {
  std::multiset<std::string> comments;
  for (const std::string& line : lines_of(text)) {
    const std::size_t at = line.find('#');
    if (at != std::string::npos && (at == 0 || line[at - 1] != '{'))
      comments.insert(line.substr(at));
  }
  return comments;
}

// How many lines of `a` are not in `b`, as long as order is kept (all but the longest common
// subsequence, looked for between what both begin and end with).
std::size_t lines_lost(std::vector<std::string> a, std::vector<std::string> b) {
  while (!a.empty() && !b.empty() && a.back() == b.back()) {
    a.pop_back();
    b.pop_back();
  }
  const auto differ = std::mismatch(a.begin(), a.end(), b.begin(), b.end());
  a.erase(a.begin(), differ.first);
  b.erase(b.begin(), differ.second);
  std::vector<std::size_t> common(b.size() + 1);
  for (const std::string& line : a) {
    std::size_t diagonal = 0;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t above = common[j + 1];
      common[j + 1] = line == b[j] ? diagonal + 1 : std::max(above, common[j]);
      diagonal = above;
    }
  }
  return a.size() - common.back();
}

TableRef any_part(const std::string& text) {
  const std::string list = *rc::gen::element<std::string>("control", "output");
  const std::size_t count = count_blocks(text, list);
  return {list, *rc::gen::inRange<std::size_t>(0, count)};
}

// Line ends and the end of the file are as they were.
void keeps_its_ends(const std::string& before, const std::string& after) {
  const bool two_bytes = before.find('\r') != std::string::npos;
  RC_ASSERT(std::count(after.begin(), after.end(), '\r') ==
            (two_bytes ? std::count(after.begin(), after.end(), '\n') : 0));
  RC_ASSERT(before.ends_with('\n') == after.ends_with('\n'));
}

RC_GTEST_PROP(EditProperty, AMovedPartChangesOneLineAndItsPlaceAlone, ()) {
  const Source source = any_panel();
  const TableRef part = any_part(source.text);
  const FacePoint to{*rc::gen::inRange(0, 200) * 1000, *rc::gen::inRange(0, 100) * 1000};
  const auto after = move_part(source.text, part, to);
  RC_ASSERT(after.ok());
  keeps_its_ends(source.text, after.value());
  RC_ASSERT(comments_of(after.value()) == comments_of(source.text));
  RC_ASSERT(lines_lost(lines_of(source.text), lines_of(after.value())) <= 1U);
  RC_ASSERT(lines_lost(lines_of(after.value()), lines_of(source.text)) <= 1U);
  PanelDescription meant = described_beside(source, source.text);
  Place& place =
      part.table == "control" ? meant.controls[part.index].place : meant.outputs[part.index].place;
  place = {true, to.x_um, to.y_um};
  RC_ASSERT(described_beside(source, after.value()) == meant);
}

RC_GTEST_PROP(EditProperty, ARenamedPartIsTheSamePanelUnderAnotherName, ()) {
  const Source source = any_panel();
  const TableRef part = any_part(source.text);
  const std::string from = name_in(source.text, part);
  const std::string to = *rc::gen::element<std::string>("z", "another-name", "N_1");
  const auto after = rename_part(source.text, part, to);
  RC_ASSERT(after.ok());
  keeps_its_ends(source.text, after.value());
  RC_ASSERT(comments_of(after.value()) == comments_of(source.text));
  PanelDescription meant = described_beside(source, source.text);
  for (auto& control : meant.controls) control.name = control.name == from ? to : control.name;
  for (auto& output : meant.outputs) output.name = output.name == from ? to : output.name;
  for (auto* lines : {&meant.lines_to_game, &meant.lines_to_panel}) {
    for (LineDescription& line : *lines) {
      line.text = template_renamed(line.text, from, to);
      for (std::string& name : line.each) name = name == from ? to : name;
    }
  }
  for (AnswerDescription& answer : meant.answers) {
    if (answer.when.starts_with(from + " ")) answer.when.replace(0, from.size(), to);
    if (answer.expect.starts_with(from + " ")) answer.expect.replace(0, from.size(), to);
  }
  RC_ASSERT(described_beside(source, after.value()) == meant);
  const auto back = rename_part(after.value(), part, from);
  RC_ASSERT(back.ok());
  RC_ASSERT(back.value() == source.text);
}

RC_GTEST_PROP(EditProperty, ARemovedPartTakesLinesOutAndPutsNoneIn, ()) {
  const Source source = any_panel();
  const TableRef part = any_part(source.text);
  const std::string name = name_in(source.text, part);
  const auto after = remove_part(source.text, part);
  RC_ASSERT(after.ok());
  const PanelDescription now = described_beside(source, after.value());
  const PanelDescription before = described_beside(source, source.text);
  RC_ASSERT(now.controls.size() + now.outputs.size() + 1 ==
            before.controls.size() + before.outputs.size());
  for (const auto& control : now.controls) RC_ASSERT(control.name != name);
  for (const auto& output : now.outputs) RC_ASSERT(output.name != name);
  // Lines of text that spoke of it are written anew; everything else is taken from the old file.
  RC_ASSERT(lines_lost(lines_of(after.value()), lines_of(source.text)) <= 3U);
}

RC_GTEST_PROP(EditProperty, ACopyAddsLinesAndTakesNoneAway, ()) {
  const Source source = any_panel();
  const TableRef part = any_part(source.text);
  const auto after = duplicate_part(source.text, part);
  RC_ASSERT(after.ok());
  keeps_its_ends(source.text, after.value());
  RC_ASSERT(lines_lost(lines_of(source.text), lines_of(after.value())) == 0U);
  RC_ASSERT(remove_block(after.value(), {part.table, part.index + 1}).value() == source.text);
}

RC_GTEST_PROP(EditProperty, AnAddedPartCanBeTakenOutAgainWithoutATrace, ()) {
  const Source source = any_panel();
  const bool control = *rc::gen::arbitrary<bool>();
  const NewPart part{control ? "control" : "output", control ? "button" : "lamp", "new-one",
                     *rc::gen::arbitrary<bool>()};
  const auto after = add_part(source.text, part, files_beside(source.path));
  if (!after.ok()) {  // no pin is left, which the message says
    RC_ASSERT(after.error().text.find("pin") != std::string::npos);
    return;
  }
  keeps_its_ends(source.text, after.value());
  const auto all = comments_of(after.value());
  RC_ASSERT(all == comments_of(source.text));
  const auto back =
      remove_part(after.value(), {part.list, count_blocks(after.value(), part.list) - 1});
  RC_ASSERT(back.ok());
  RC_ASSERT(lines_of(back.value()) == lines_of(source.text));
}

RC_GTEST_PROP(EditProperty, UndoGivesEveryByteBack, ()) {
  const Source source = any_panel();
  EditHistory history(source.text);
  std::vector<std::string> texts = {source.text};
  const int edits = *rc::gen::inRange(1, 8);
  for (int i = 0; i < edits; ++i) {
    const TableRef part = any_part(history.text());
    Result<std::string> after = Error{};
    switch (*rc::gen::inRange(0, 4)) {
      case 0:
        after = move_part(history.text(), part, {*rc::gen::inRange(0, 99) * 1000, 5000});
        break;
      case 1:
        after = rename_part(history.text(), part, "n" + std::to_string(i));
        break;
      case 2:
        after = duplicate_part(history.text(), part);
        break;
      default:
        if (count_blocks(history.text(), part.table) > 1) after = remove_part(history.text(), part);
    }
    if (!after.ok() || after.value() == history.text()) continue;
    history.push(after.value(), "edit");
    texts.push_back(after.value());
  }
  for (std::size_t i = texts.size() - 1; i-- > 0;) {
    RC_ASSERT(history.undo());
    RC_ASSERT(history.text() == texts[i]);
  }
  for (std::size_t i = 1; i < texts.size(); ++i) {
    RC_ASSERT(history.redo());
    RC_ASSERT(history.text() == texts[i]);
  }
}

}  // namespace
}  // namespace understudy
