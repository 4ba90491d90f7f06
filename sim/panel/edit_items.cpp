// Lists keep how they are written: on one line or on several, with their comments.
#include "sim/panel/edit_items.h"

#include <utility>

#include "sim/panel/edit_lookup.h"
#include "sim/panel/edit_tree.h"

namespace understudy {
namespace {

std::string replaced(std::string_view text, Span span, std::string_view by) {
  std::string out(text.substr(0, span.begin));
  out += by;
  out += text.substr(span.end);
  return out;
}

Error refused(const TomlPath& path) {
  return {ErrorCode::kUnusable,
          "cannot change " + path_text(path) + ": there is no such list item"};
}

Result<Node> value_of(std::string_view value) {
  Result<Node> tree = parse_tree("x = " + std::string(value), "value");
  if (!tree.ok()) return tree;
  return tree.value().entries.front().value;
}

}  // namespace

Result<std::string> set_item(std::string_view text, const TomlPath& path, std::string_view value) {
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const Result<Node> meant = value_of(value);
  if (!meant.ok()) return meant.error();
  const std::vector<FoundEntry> all = all_entries(places.value());
  const FoundEntry* found = find_entry(all, path);
  if (found == nullptr) return refused(path);
  return proven(text, replaced(text, found->value->span, value), "set " + path_text(path),
                [&](Node& root) { return put_at(root, path, meant.value()); });
}

Result<std::string> remove_item(std::string_view text, const TomlPath& path) {
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const std::vector<FoundEntry> all = all_entries(places.value());
  const TomlPath list(path.begin(), path.end() - 1);
  const FoundEntry* found = find_entry(all, list);
  const std::size_t index = path.back().index;
  if (found == nullptr || index >= found->value->items.size()) return refused(path);
  const std::vector<ValuePlace>& items = found->value->items;
  Span span = items[index].span;
  if (index > 0)
    span.begin = items[index - 1].span.end;
  else if (items.size() > 1)
    span.end = items[1].span.begin;
  return proven(text, replaced(text, span, ""), "take out " + path_text(path), [&](Node& root) {
    Node* node = node_at(root, list);
    if (node == nullptr || index >= node->items.size()) return false;
    node->items.erase(node->items.begin() + static_cast<std::ptrdiff_t>(index));
    return true;
  });
}

Result<std::string> add_item(std::string_view text, const TomlPath& path, std::string_view value) {
  const Result<TextPlaces> places = find_places(text);
  if (!places.ok()) return places.error();
  const Result<Node> meant = value_of(value);
  if (!meant.ok()) return meant.error();
  const std::vector<FoundEntry> all = all_entries(places.value());
  const FoundEntry* found = find_entry(all, path);
  if (found == nullptr || found->value->form != ValueForm::kList) return refused(path);
  const std::vector<ValuePlace>& items = found->value->items;
  std::string between;
  std::size_t at = found->value->span.begin + 1;
  if (!items.empty()) {
    at = items.back().span.end;
    between = ", ";
    if (items.size() > 1) {
      const std::size_t from = items[items.size() - 2].span.end;
      between = text.substr(from, items.back().span.begin - from);
      if (between.find('#') != std::string::npos) between = ", ";
    }
  }
  return proven(text, replaced(text, {at, at}, between + std::string(value)),
                "add to " + path_text(path), [&](Node& root) {
                  Node* node = node_at(root, path);
                  if (node == nullptr || node->kind != NodeKind::kList) return false;
                  node->items.push_back(meant.value());
                  return true;
                });
}

}  // namespace understudy
