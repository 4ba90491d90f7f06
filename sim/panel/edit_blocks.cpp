// Whole blocks: where one begins and ends with what belongs to it, and where a new one goes.
#include <algorithm>
#include <optional>

#include "sim/panel/edit.h"
#include "sim/panel/edit_lookup.h"
#include "sim/panel/edit_tree.h"

namespace understudy {
namespace {

Error refused(std::string_view what, const TomlPath& path, const std::string& why) {
  return {ErrorCode::kUnusable, "cannot " + std::string(what) + " " + path_text(path) + ": " + why};
}

// The blocks that make up one [[list]]: itself and the sub-tables behind it.
struct Run {
  std::size_t first = 0;
  std::size_t last = 0;
};

std::optional<Run> find_run(const TextPlaces& places, const TomlPath& path) {
  std::optional<Run> run;
  for (std::size_t i = 0; i < places.blocks.size(); ++i) {
    if (!begins_with(places.blocks[i].path, path)) continue;
    if (!run) {
      if (places.blocks[i].path != path) return std::nullopt;
      run = Run{i, i};
    } else if (i == run->last + 1) {
      run->last = i;
    } else {
      return std::nullopt;  // another table stands between
    }
  }
  return run;
}

bool is_blank_line(std::string_view text, std::size_t at) {
  const std::string_view line = text.substr(at, text.find('\n', at) - at);
  return line.find_first_not_of(" \t\r") == std::string_view::npos;
}

std::size_t next_line(std::string_view text, std::size_t at) {
  const std::size_t end = text.find('\n', at);
  return end == std::string_view::npos ? text.size() : end + 1;
}

// Where blank lines that end at `at` begin.
std::size_t before_blanks(std::string_view text, std::size_t at) {
  while (at > 0) {
    const std::size_t line = at < 2 ? 0 : text.rfind('\n', at - 2) + 1;
    if (!is_blank_line(text, line)) break;
    at = line;
  }
  return at;
}

std::string not_in_blocks(const TextPlaces& places, const TomlPath& path, std::string_view text) {
  const std::vector<FoundEntry> all = all_entries(places);
  const FoundEntry* found = find_entry(all, {path.front()});
  if (found == nullptr) return "there is no such block";
  return path.front().key + " is written as one list in line " +
         std::to_string(line_number(text, found->value->span.begin)) + "; write [[" +
         path.front().key + "]] before each of them to do so here";
}

// How far down a kind of block stands by custom.
int rank_of(const BlockPlace& block) {
  if (block.path.empty()) return 0;
  const std::string& name = block.path.front().key;
  if (name == "control") return 1;
  if (name == "output") return 2;
  if (name == "line" || name == "to_game" || name == "to_panel") return 3;
  return name == "answer" ? 4 : 0;
}

// Whether blank lines stand between a block and what is before it.
bool has_blank_before(std::string_view text, const BlockPlace& block) {
  const std::size_t begin = own_begin(text, block);
  return before_blanks(text, begin) < begin;
}

struct Sibling {
  std::size_t at = 0;  // where a new block goes
  bool blank = true;   // whether a blank line goes before it
  std::size_t count = 0;
};

Sibling place_for(std::string_view text, const TextPlaces& places, std::string_view list) {
  const BlockPlace wanted{{{std::string(list), 0}}, true, {}, 0, {}};
  Sibling place;
  std::size_t behind = 0;
  const BlockPlace* last = nullptr;
  for (std::size_t i = 0; i < places.blocks.size(); ++i) {
    const BlockPlace& block = places.blocks[i];
    const bool sibling = !block.path.empty() && block.path.front().key == list;
    if (sibling && block.listed && block.path.size() == 2) {
      ++place.count;
      last = &block;
    }
    if (sibling || (last == nullptr && rank_of(block) <= rank_of(wanted))) behind = i;
  }
  place.at = own_end(text, places.blocks[behind]);
  if (behind == 0 && places.blocks[0].entries.empty()) place.at = places.blocks[0].end;
  if (place.count > 1) place.blank = has_blank_before(text, *last);
  return place;
}

// Puts lines (each with its end) in at `at`, where a line begins or the text ends.
std::string with_lines(std::string_view text, const TextPlaces& places, std::size_t at,
                       std::string lines) {
  std::string out(text.substr(0, at));
  if (at > 0 && text[at - 1] != '\n') {
    out += places.line_end;  // the file's last line has no end, and so it stays
    lines.resize(lines.size() - places.line_end.size());
  }
  return out + lines + std::string(text.substr(at));
}

bool in_manner(std::string_view text, const TextPlaces& places, std::string_view list) {
  for (const BlockPlace& block : places.blocks) {
    if (block.path.empty() || block.path.front().key != list) continue;
    for (const EntryPlace& entry : block.entries)
      if (entry.equals == entry.key.end) return false;
  }
  return !text.empty();
}

}  // namespace

Result<std::string> add_block(std::string_view text, std::string_view list, const KeyValues& keys) {
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const std::vector<FoundEntry> all = all_entries(places.value());
  const TomlPath path = {{std::string(list), 0}};
  if (find_entry(all, path) != nullptr || find_block(places.value(), path) != nullptr)
    return refused("add to", path, not_in_blocks(places.value(), path, text));
  const Sibling place = place_for(text, places.value(), list);
  const std::string& end = places.value().line_end;
  const bool spaced = in_manner(text, places.value(), list);
  std::string lines =
      (place.blank && place.at > 0 ? end : "") + "[[" + std::string(list) + "]]" + end;
  std::string source;
  for (const auto& [key, value] : keys) {
    const Result<ValuePlace> right = find_value(value);
    if (!right.ok()) return refused("add to", path, right.error().text);
    lines += key + (spaced ? " = " : "=") + value + end;
    source += key + " = " + value + "\n";
  }
  const Result<Node> meant = parse_tree(source, "block");
  if (!meant.ok()) return refused("add to", path, meant.error().text);
  return proven(text, with_lines(text, places.value(), place.at, std::move(lines)),
                "add [[" + std::string(list) + "]]", [&](Node& root) {
                  Node* node = node_at(root, path);
                  if (node == nullptr) {
                    Node fresh;
                    fresh.kind = NodeKind::kList;
                    if (!put_at(root, path, std::move(fresh))) return false;
                    node = node_at(root, path);
                  }
                  if (node->kind != NodeKind::kList) return false;
                  node->items.push_back(meant.value());
                  return true;
                });
}

Result<std::string> remove_block(std::string_view text, const TableRef& block) {
  const TomlPath path = path_of(block, "");
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const auto run = find_run(places.value(), path);
  if (!run) return refused("take out", path, not_in_blocks(places.value(), path, text));
  const auto& blocks = places.value().blocks;
  Span span{own_begin(text, blocks[run->first]), own_end(text, blocks[run->last])};
  if (before_blanks(text, span.begin) < span.begin || span.begin == 0) {
    while (span.end < text.size() && is_blank_line(text, span.end))
      span.end = next_line(text, span.end);
  }
  if (span.end >= text.size()) span.begin = before_blanks(text, span.begin);
  std::string after(text.substr(0, span.begin));
  after += text.substr(span.end);
  return proven(text, std::move(after), "take out " + path_text(path), [&](Node& root) {
    Node* list = node_at(root, {path.front()});
    if (list == nullptr || block.index >= list->items.size()) return false;
    list->items.erase(list->items.begin() + static_cast<std::ptrdiff_t>(block.index));
    if (list->items.empty())
      std::erase_if(root.entries, [&](const NodeEntry& e) { return e.key == block.table; });
    return true;
  });
}

Result<std::string> duplicate_block(std::string_view text, const TableRef& block) {
  const TomlPath path = path_of(block, "");
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const auto run = find_run(places.value(), path);
  if (!run) return refused("copy", path, not_in_blocks(places.value(), path, text));
  const auto& blocks = places.value().blocks;
  const std::size_t at = own_end(text, blocks[run->last]);
  const std::size_t begin = blocks[run->first].header.begin;
  std::string lines(text.substr(begin, at - begin));
  if (!lines.ends_with('\n')) lines += places.value().line_end;
  const Sibling sibling = place_for(text, places.value(), block.table);
  if (sibling.blank) lines = places.value().line_end + lines;
  return proven(text, with_lines(text, places.value(), at, std::move(lines)),
                "copy " + path_text(path), [&](Node& root) {
                  Node* list = node_at(root, {path.front()});
                  if (list == nullptr || block.index >= list->items.size()) return false;
                  const Node copy = list->items[block.index];
                  list->items.insert(
                      list->items.begin() + static_cast<std::ptrdiff_t>(block.index) + 1, copy);
                  return true;
                });
}

std::size_t count_blocks(std::string_view text, std::string_view list) {
  const Result<Node> root = parse_tree(text, "file");
  if (!root.ok()) return 0;
  const Node* node = root.value().find(list);
  return node == nullptr || node->kind != NodeKind::kList ? 0 : node->items.size();
}

LineRange lines_of_block(std::string_view text, const TableRef& block) {
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return {};
  const TomlPath path = path_of(block, "");
  const auto run = find_run(places.value(), path);
  if (!run) return {};
  const auto& blocks = places.value().blocks;
  const std::size_t end = own_end(text, blocks[run->last]);
  return {line_number(text, blocks[run->first].header.begin),
          line_number(text, end > 0 ? end - 1 : 0)};
}

}  // namespace understudy
