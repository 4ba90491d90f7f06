// Small walks over trees; nothing here knows how values are written.
#include "sim/panel/edit_tree.h"

#include <algorithm>
#include <utility>

namespace understudy {
namespace {

bool same_entries(const Node& a, const Node& b) {
  if (a.entries.size() != b.entries.size()) return false;
  return std::all_of(a.entries.begin(), a.entries.end(), [&b](const NodeEntry& entry) {
    const Node* other = b.find(entry.key);
    return other != nullptr && same_meaning(entry.value, *other);
  });
}

Node* child(Node& node, const PathStep& step) {
  if (step.key.empty()) {
    if (node.kind != NodeKind::kList || step.index >= node.items.size()) return nullptr;
    return &node.items[step.index];
  }
  if (node.kind != NodeKind::kTable) return nullptr;
  for (NodeEntry& entry : node.entries)
    if (entry.key == step.key) return &entry.value;
  return nullptr;
}

}  // namespace

bool same_meaning(const Node& a, const Node& b) {
  if (a.kind != b.kind) return false;
  switch (a.kind) {
    case NodeKind::kText:
      return a.text == b.text;
    case NodeKind::kInteger:
      return a.integer == b.integer;
    case NodeKind::kDecimal:
      return a.decimal == b.decimal || (a.decimal != a.decimal && b.decimal != b.decimal);
    case NodeKind::kFlag:
      return a.flag == b.flag;
    case NodeKind::kDate:
      return true;  // no key of a panel file is one, so no edit makes or moves one
    case NodeKind::kList:
      return a.items.size() == b.items.size() &&
             std::equal(a.items.begin(), a.items.end(), b.items.begin(), same_meaning);
    case NodeKind::kTable:
      return same_entries(a, b);
  }
  return false;
}

Node* node_at(Node& root, const TomlPath& path) {
  Node* node = &root;
  for (const PathStep& step : path) {
    node = child(*node, step);
    if (node == nullptr) return nullptr;
  }
  return node;
}

const Node* node_at(const Node& root, const TomlPath& path) {
  return node_at(const_cast<Node&>(root), path);
}

bool put_at(Node& root, const TomlPath& path, Node value) {
  Node* node = &root;
  for (const PathStep& step : path) {
    Node* next = child(*node, step);
    if (next == nullptr) {
      if (step.key.empty() || node->kind != NodeKind::kTable) return false;
      node->entries.push_back({step.key, {}, Node{}});
      next = &node->entries.back().value;
    }
    node = next;
  }
  *node = std::move(value);
  return true;
}

Result<std::string> proven(std::string_view before, std::string after, std::string_view what,
                           const std::function<bool(Node&)>& change) {
  Result<Node> meant = parse_tree(before, "file");
  if (!meant.ok()) {
    return Error{ErrorCode::kUnusable,
                 "cannot " + std::string(what) +
                     " while the file is not TOML; mend this first: " + meant.error().text};
  }
  const Result<Node> made = parse_tree(after, "file");
  if (!change(meant.value()) || !made.ok() || !same_meaning(meant.value(), made.value())) {
    return Error{ErrorCode::kUnusable,
                 "cannot " + std::string(what) +
                     " without changing something else, so nothing was changed; change the file "
                     "in a text editor"};
  }
  return after;
}

}  // namespace understudy
