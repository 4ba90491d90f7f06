// Keys: where a value stands or a new one goes. Blocks are in edit_blocks.cpp.
#include "sim/panel/edit.h"

#include <algorithm>
#include <optional>

#include "sim/panel/edit_lookup.h"
#include "sim/panel/edit_tree.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

Error refused(const TomlPath& path, const std::string& why) {
  return {ErrorCode::kUnusable, "cannot change " + path_text(path) + ": " + why};
}

// A column counts characters, not bytes.
std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

std::string replaced(std::string_view text, Span span, std::string_view by) {
  std::string out(text.substr(0, span.begin));
  out += by;
  out += text.substr(span.end);
  return out;
}

// The comment behind a value keeps its column while there is room for it.
std::string with_value(std::string_view text, const FoundEntry& found, std::string_view value) {
  const Span span = found.value->span;
  const bool on_a_line = found.entry != nullptr && found.inside == nullptr;
  if (!on_a_line || found.entry->comment == std::string_view::npos ||
      text.substr(span.begin, span.size()).find('\n') != std::string_view::npos ||
      value.find('\n') != std::string_view::npos)
    return replaced(text, span, value);
  const std::size_t comment = found.entry->comment;
  const std::size_t room = characters(text.substr(span.begin, comment - span.begin));
  const std::size_t least = std::min<std::size_t>(comment - span.end, 1);
  const std::size_t blanks =
      std::max(room > characters(value) ? room - characters(value) : 0, least);
  return replaced(text, {span.begin, comment}, std::string(value) + std::string(blanks, ' '));
}

// How far the = of a block's entries stands from the beginning of the line, where it is the same
// for all and a choice: at least two entries of which one was filled up.
std::optional<std::size_t> equals_column(std::string_view text, const BlockPlace& block) {
  std::optional<std::size_t> column;
  bool filled = false;
  for (const EntryPlace& entry : block.entries) {
    const std::size_t here =
        characters(text.substr(entry.key.begin, entry.equals - entry.key.begin));
    if (column && *column != here) return std::nullopt;
    column = here;
    filled = filled || entry.equals > entry.key.end + 1;
  }
  return filled && block.entries.size() > 1 ? column : std::nullopt;
}

// KEY = VALUE as a line of its own, in the manner of the block.
std::string as_line(std::string_view text, const BlockPlace& block, const std::string& key,
                    std::string_view value) {
  std::string indent;
  bool tight = false;
  if (!block.entries.empty()) {
    const EntryPlace& last = block.entries.back();
    indent = text.substr(last.lines.begin, last.key.begin - last.lines.begin);
    tight = last.equals == last.key.end;
  }
  const std::size_t column = equals_column(text, block).value_or(0);
  std::string line = indent + key;
  if (!tight) line += std::string(std::max(column, key.size() + 1) - key.size(), ' ');
  return line + (tight ? "=" : "= ") + std::string(value);
}

// Puts a whole line in at `at`; the last line of a file keeps being without an end where it is.
std::string with_line(std::string_view text, const TextPlaces& places, std::size_t at,
                      const std::string& line) {
  const bool needs_end = at > 0 && text[at - 1] != '\n';
  return replaced(text, {at, at}, needs_end ? places.line_end + line : line + places.line_end);
}

std::string joined(const TomlPath& path, std::size_t from) {
  std::string text;
  for (std::size_t i = from; i < path.size(); ++i) text += (i > from ? "." : "") + path[i].key;
  return text;
}

bool is_plain_key(const PathStep& step) {
  return !step.key.empty() && std::all_of(step.key.begin(), step.key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  });
}

std::string with_inline(std::string_view text, const ValuePlace& table, const std::string& key,
                        std::string_view value) {
  const std::string entry = key + " = " + std::string(value);
  if (table.entries.empty()) return replaced(text, table.span, "{ " + entry + " }");
  const std::size_t at = table.entries.back().value.span.end;
  return replaced(text, {at, at}, ", " + entry);
}

// Where a value that is not there yet is put in: as the key `path` from step `depth` on.
struct Home {
  const BlockPlace* block = nullptr;
  const ValuePlace* inside = nullptr;
  const EntryPlace* behind = nullptr;  // a dotted entry of the same table
  std::size_t depth = 0;
};

// The table that the first `length` steps lead to, as far as it is written somewhere.
Result<std::optional<Home>> home_of(const TextPlaces& places, const std::vector<FoundEntry>& all,
                                    const TomlPath& path, std::size_t length) {
  const TomlPath table(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(length));
  if (const FoundEntry* found = find_entry(all, table)) {
    if (found->value->form != ValueForm::kTable)
      return refused(path, path_text(table) + " is no table; change it first");
    return std::optional(Home{found->block, found->value, nullptr, length});
  }
  if (const BlockPlace* block = find_block(places, table))
    return std::optional(Home{block, nullptr, nullptr, length});
  std::optional<Home> home;
  for (const FoundEntry& found : all) {
    // Dotted: some steps of the table stand before the dots of an entry.
    if (found.entry == nullptr || !begins_with(found.path, table)) continue;
    const std::size_t outer = found.path.size() - found.entry->keys.size();
    if (outer < length) home = Home{found.block, found.inside, found.entry, outer};
  }
  return home;
}

Result<std::string> with_new(std::string_view text, const TextPlaces& places,
                             const std::vector<FoundEntry>& all, const TomlPath& path,
                             std::string_view value) {
  for (const FoundEntry& found : all)
    if (begins_with(found.path, path)) return refused(path, "it is a table");
  for (const BlockPlace& block : places.blocks)
    if (begins_with(block.path, path)) return refused(path, "it is a table");
  for (std::size_t length = path.size(); length-- > 0;) {
    const auto home = home_of(places, all, path, length);
    if (!home.ok()) return home.error();
    if (!home.value()) {
      if (path[length].key.empty()) return refused(path, "there is no such table");
      continue;
    }
    const Home& found = *home.value();
    // A dotted neighbour shows the way; else tables between here and the key become { }.
    const std::size_t last = found.behind != nullptr ? path.size() - 1 : found.depth;
    const bool at_top = found.block->path.empty() && found.inside == nullptr;
    if (path[last].key.empty()) return refused(path, "there is no such table");
    std::string wrapped(value);
    for (std::size_t i = path.size(); i-- > last + 1;)
      wrapped = "{ " + path[i].key + " = " + wrapped + " }";
    const std::string key = joined(
        TomlPath(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(last + 1)), found.depth);
    if (found.inside != nullptr) return with_inline(text, *found.inside, key, wrapped);
    if (at_top && path.size() > 1 && found.behind == nullptr) {
      if (path.size() > 2) return refused(path, "add its table first");
      std::string block = text.empty() || text.back() == '\n' ? "" : places.line_end;
      block += places.line_end + "[" + path[0].key + "]" + places.line_end + path[1].key + " = " +
               std::string(value) + places.line_end;
      return std::string(text) + block;
    }
    const BlockPlace& block = *found.block;
    std::size_t at = block.header.end;
    if (found.behind != nullptr)
      at = entry_end(text, *found.behind);
    else if (!block.entries.empty())
      at = entry_end(text, block.entries.back());
    return with_line(text, places, at, as_line(text, block, key, wrapped));
  }
  return refused(path, "there is no such table");
}

// Without one entry of a { }, and the comma that went with it.
std::string without_inline(std::string_view text, const FoundEntry& found) {
  const std::vector<EntryPlace>& entries = found.inside->entries;
  const auto index = static_cast<std::size_t>(found.entry - entries.data());
  if (index > 0)
    return replaced(text, {entries[index - 1].value.span.end, found.value->span.end}, "");
  return replaced(text, {found.entry->key.begin, entries[1].key.begin}, "");
}

bool remove_from(Node& root, const TomlPath& path) {
  const TomlPath table(path.begin(), path.end() - 1);
  Node* node = node_at(root, table);
  if (node == nullptr) return false;
  std::erase_if(node->entries,
                [&path](const NodeEntry& entry) { return entry.key == path.back().key; });
  return true;
}

}  // namespace

Result<std::string> set_key(std::string_view text, const TableRef& table, std::string_view key,
                            std::string_view value) {
  const TomlPath path = path_of(table, key);
  for (const PathStep& step : path)
    if (!step.key.empty() && !is_plain_key(step)) return refused(path, "no key is called so");
  const Result<ValuePlace> right = find_value(value);
  if (!right.ok()) return refused(path, right.error().text);
  const Result<Node> meant = parse_tree("x = " + std::string(value), "value");
  if (!meant.ok())
    return refused(path, "found " + std::string(value) + ", which is no value: " +
                             meant.error().text.substr(meant.error().text.find("TOML: ") + 6));
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const std::vector<FoundEntry> all = all_entries(places.value());
  const FoundEntry* found = find_entry(all, path);
  Result<std::string> after = found != nullptr
                                  ? Result<std::string>(with_value(text, *found, value))
                                  : with_new(text, places.value(), all, path, value);
  if (!after.ok()) return after;
  return proven(text, std::move(after).value(), "set " + path_text(path), [&](Node& root) {
    return put_at(root, path, meant.value().entries.front().value);
  });
}

Result<std::string> remove_key(std::string_view text, const TableRef& table, std::string_view key) {
  TomlPath path = path_of(table, key);
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const std::vector<FoundEntry> all = all_entries(places.value());
  const FoundEntry* found = find_entry(all, path);
  if (found == nullptr) {
    for (const FoundEntry& one : all)
      if (begins_with(one.path, path)) return refused(path, "it is a table of several lines");
    if (find_block(places.value(), path) != nullptr)
      return refused(path, "it is a table of several lines");
    return proven(text, std::string(text), "take out " + path_text(path),
                  [](Node&) { return true; });
  }
  while (found->inside != nullptr && found->inside->entries.size() == 1) {
    const TomlPath outer(found->path.begin(), found->path.end() - static_cast<std::ptrdiff_t>(
                                                                      found->entry->keys.size()));
    const FoundEntry* around = find_entry(all, outer);
    if (around == nullptr || around->entry == nullptr) break;  // an item of a list
    found = around;
    path = outer;
  }
  if (found->entry == nullptr) return refused(path, "it is one of a list");
  std::string after;
  if (found->inside == nullptr)
    after = replaced(text, {found->entry->lines.begin, entry_end(text, *found->entry)}, "");
  else if (found->inside->entries.size() == 1)
    after = replaced(text, found->inside->span, "{}");
  else
    after = without_inline(text, *found);
  const bool dotted = found->entry->keys.size() > 1;
  return proven(text, std::move(after), "take out " + path_text(path), [&](Node& root) {
    if (!remove_from(root, path)) return false;
    // The last of dotted keys takes the table that they made along.
    TomlPath outer = path;
    for (std::size_t i = 1; dotted && i < found->entry->keys.size(); ++i) {
      outer.pop_back();
      const Node* left = node_at(root, outer);
      const bool empty = left != nullptr && left->entries.empty();
      if (!empty || find_block(places.value(), outer) != nullptr) break;
      remove_from(root, outer);
    }
    return true;
  });
}

Result<std::string> replace_text(std::string_view text, const TableRef& table, std::string_view key,
                                 std::string_view raw, std::string_view decoded) {
  const TomlPath path = path_of(table, key);
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const std::vector<FoundEntry> all = all_entries(places.value());
  const FoundEntry* found = find_entry(all, path);
  if (found == nullptr || found->value->form != ValueForm::kText)
    return refused(path, "it is no text");
  return proven(text, with_value(text, *found, raw), "change " + path_text(path), [&](Node& root) {
    Node* node = node_at(root, path);
    if (node == nullptr || node->kind != NodeKind::kText) return false;
    node->text = decoded;
    return true;
  });
}

std::string raw_value(std::string_view text, const TableRef& table, std::string_view key) {
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return "";
  const std::vector<FoundEntry> all = all_entries(places.value());
  const FoundEntry* found = find_entry(all, path_of(table, key));
  if (found == nullptr) return "";
  return std::string(text.substr(found->value->span.begin, found->value->span.size()));
}

Result<Done> check_edit(std::string_view before, std::string_view after, std::string_view file_name,
                        const ReadBeside& beside) {
  const auto now = parse_panel_beside(after, file_name, beside);
  if (now.ok() || !parse_panel_beside(before, file_name, beside).ok()) return Done{};
  return now.error();
}

}  // namespace understudy
