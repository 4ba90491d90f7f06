// Writes rows of the key table for people. Nothing about any key is said here.
#include "sim/panel/explain.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <span>
#include <vector>

#include "sim/base/text.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/key_table.h"
#include "sim/panel/output_kinds.h"
#include "sim/panel/presets.h"

namespace understudy {
namespace {

constexpr std::size_t kColumns = 96;

std::vector<Section> all_sections() {
  std::vector<Section> sections;
  for (int i = 0; i < kSectionCount; ++i) sections.push_back(static_cast<Section>(i));
  return sections;
}

// "[manners]", "[[control]]", "the top of the file"; sub-tables by the key they stand at.
std::string heading_of(Section section) {
  const std::string path(section_path(section));
  if (path.empty()) return "the top of the file";
  if (path.find('.') != std::string::npos) return path + " = { }";
  return is_list_of_tables(section) ? "[[" + path + "]]" : "[" + path + "]";
}

// "pots", "buttons and switches"
std::string kinds_of(const KeyText& key) {
  const std::vector<std::string> kinds = kinds_with(key);
  std::string text;
  for (std::size_t i = 0; i < kinds.size(); ++i)
    text += (i == 0 ? "" : i + 1 == kinds.size() ? " and " : ", ") + kinds[i];
  return text;
}

std::string bound(const KeyText& key, std::int64_t value) {
  return key.unit ? write_quantity(value, *key.unit) : std::to_string(value);
}

// ", from 64 to 16384"; nothing where any value is right.
std::string range_of(const KeyText& key) {
  const bool counted = key.unit || key.shape == ValueShape::kInteger;
  if (!counted) return "";
  const bool bounded = key.most != std::numeric_limits<std::int64_t>::max();
  if (bounded) return ", from " + bound(key, key.least) + " to " + bound(key, key.most);
  return key.least > 0 ? ", at least " + bound(key, key.least) : "";
}

std::string words_text(const KeyText& key) {
  std::vector<std::string> words = words_of(key);
  for (std::string& word : words) word = "\"" + word + "\"";
  return either(words);
}

// Words in lines of kColumns, all but the first moved in.
std::string wrapped(std::string_view text, std::size_t indent) {
  std::string out;
  std::size_t column = indent;
  while (!text.empty()) {
    const std::size_t size = std::min(text.find(' '), text.size());
    if (column > indent && column + 1 + size > kColumns) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
    } else if (column > indent) {
      out += ' ';
      ++column;
    }
    out += text.substr(0, size);
    column += size;
    text.remove_prefix(std::min(size + 1, text.size()));
  }
  return out + "\n";
}

std::string row_text(const char* what, std::string_view text) {
  return text.empty() ? "" : fmt::format("  {:<9} ", what) + wrapped(text, 12);
}

std::string example_text(const KeyText& key) {
  const std::string assignment = std::string(key.name) + " = " + std::string(key.example);
  const std::string path(section_path(key.section));
  const bool sub = path.find('.') != std::string::npos;
  if (path.empty()) return "  example   " + assignment + "\n";
  if (sub) {
    return "  example   " + path.substr(path.find('.') + 1) + " = { " + assignment + " }\n";
  }
  return "  example   " + heading_of(key.section) + "\n            " + assignment + "\n";
}

std::string key_text(const KeyText& key) {
  std::string text = key.path() + "\n  " + wrapped(key.meaning, 2);
  text += row_text("takes", std::string(key.type) + range_of(key));
  text += row_text("words", words_text(key));
  if (key.words == kPresetWords) {
    for (const PresetText& preset : presets())
      text += row_text("", fmt::format("{}: {}", preset.name, preset.meaning));
  }
  text += row_text("default", key.fallback);
  text += row_text("only for", kinds_of(key));
  return text + example_text(key);
}

// A line for each key of the table that `has` takes.
template <class Has>
std::string key_lines(Section section, Has has) {
  std::size_t width = 0;
  for (const KeyText& key : all_keys())
    if (key.section == section && has(key)) width = std::max(width, key.name.size());
  std::string text;
  for (const KeyText& key : all_keys()) {
    if (key.section == section && has(key))
      text += fmt::format("    {:<{}}  ", key.name, width) + wrapped(key.meaning, width + 6);
  }
  return text;
}

std::string section_text(Section section) {
  return heading_of(section) + "\n  " + wrapped(section_meaning(section), 2) +
         key_lines(section, [](const KeyText&) { return true; });
}

// The keys of the table that may stand at `key`.
std::string keys_below(const KeyText& key) {
  for (const Section section : all_sections())
    if (!section_path(section).empty() && section_path(section) == key.path())
      return "\n" + section_text(section);
  return "";
}

// A kind in full: an example that is right as it stands, and its keys.
template <class Row>
std::string kind_text(const Row& row, Section section, std::span<const Section> below) {
  const auto has = [&row](const KeyText& key) { return is_for_kind(key, row.kind); };
  std::string text = quoted(kind_word(row.kind)) + " is a word for " +
                     std::string(section_path(section)) + ".kind\n  " + wrapped(row.meaning, 2) +
                     "\nSuch as\n\n";
  std::string_view rest = row.example;
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    text += (end == 0 ? "" : "  " + std::string(rest.substr(0, end))) + "\n";
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  text += "\nIts keys\n" + key_lines(section, has);
  for (const Section table : below) {
    const std::string path(section_path(table));
    const std::string name = path.substr(path.find('.') + 1);
    const auto at = std::find_if(all_keys().begin(), all_keys().end(), [&](const KeyText& key) {
      return key.section == section && key.name == name;
    });
    if (at != all_keys().end() && has(*at))
      text += "\n" + heading_of(table) + "\n" + key_lines(table, has);
  }
  return text;
}

// The kind of control or output that is called `word`, or "".
std::string explain_kind(std::string_view word) {
  static constexpr std::array kBelowControl = {Section::kBounce, Section::kKeys};
  for (const ControlKindRow& row : control_kinds())
    if (kind_word(row.kind) == word) return kind_text(row, Section::kControl, kBelowControl);
  for (const OutputKindRow& row : output_kinds())
    if (kind_word(row.kind) == word) return kind_text(row, Section::kOutput, {});
  return "";
}

// Keys that take `word`, such as "native usb".
std::string explain_word(std::string_view word) {
  std::string text = explain_kind(word);
  if (!text.empty()) return text;
  for (const KeyText& key : all_keys()) {
    const std::vector<std::string> words = words_of(key);
    if (std::find(words.begin(), words.end(), word) == words.end()) continue;
    text += (text.empty() ? "" : "\n") + quoted(word) + " is a word for " + key.path() + "\n\n" +
            key_text(key);
  }
  return text;
}

// "send.asked" is the end of line.send.asked.
bool ends_path(const KeyText& key, std::string_view name) {
  return name.find('.') != std::string_view::npos && key.path().ends_with("." + std::string(name));
}

// In a cell of a table of Markdown a bar would end it.
std::string cell(std::string text) {
  for (std::size_t at = text.find('|'); at != std::string::npos; at = text.find('|', at + 2))
    text.insert(at, "\\");
  return text;
}

std::string markdown_row(const KeyText& key) {
  std::string takes = std::string(key.type) + range_of(key);
  const std::string words = words_text(key);
  if (!words.empty() && takes.find(words_of(key).front()) == std::string::npos)
    takes += ": " + words;
  std::string meaning(key.meaning);
  if (key.kinds != kForAnyKind) meaning += " Only " + kinds_of(key) + ".";
  return fmt::format("| `{}` | {} | {} | {} | `{}` |\n", key.name, cell(takes),
                     cell(std::string(key.fallback)), cell(meaning), key.example);
}

}  // namespace

std::string explain_all() {
  std::string text;
  for (const Section section : all_sections())
    text += (text.empty() ? "" : "\n") + section_text(section);
  return text + "\nunderstudy explain KEY tells all about one of them\n";
}

Result<std::string> explain_key(std::string_view name) {
  std::string text;
  std::vector<std::string> known;
  std::vector<std::string> words;
  for (const KeyText& key : all_keys()) {
    known.push_back(key.path());
    known.emplace_back(key.name);
    for (std::string& word : words_of(key)) words.push_back(std::move(word));
    if (key.path() == name) return key_text(key) + keys_below(key);
    if (key.name == name || ends_path(key, name))
      text += (text.empty() ? "" : "\n") + key_text(key);
  }
  // A word may be a key and a kind, as `digits` is.
  if (const std::string kind = explain_kind(name); !kind.empty())
    text = kind + (text.empty() ? "" : "\n" + text);
  if (text.empty()) text = explain_word(name);
  if (!text.empty()) return text;
  known.insert(known.end(), words.begin(), words.end());  // of equally near ones a key counts
  const std::string near = nearest_word(name, known);
  return Error{ErrorCode::kUnusable,
               "there is no key " + quoted(name) + "; " +
                   (near.empty() ? "understudy explain lists them" : "the nearest is " + near)};
}

std::string keys_markdown() {
  std::string text;
  for (const Section section : all_sections()) {
    text += "\n### " + heading_of(section) + "\n\n" + std::string(section_meaning(section)) +
            "\n\n| key | takes | default | meaning | example |\n|---|---|---|---|---|\n";
    for (const KeyText& key : all_keys())
      if (key.section == section) text += markdown_row(key);
  }
  text += "\n### Presets of board\n\n| preset | meaning |\n|---|---|\n";
  for (const PresetText& preset : presets())
    text += fmt::format("| `{}` | {} |\n", preset.name, preset.meaning);
  return text + "\n";
}

}  // namespace understudy
