// A panel file as a tree of plain values with their places, free of the TOML library; node.cpp is
// the only file that knows it. What the values mean is left to readers.h.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"

namespace understudy {

// A place in a text, both counted from 1; line 0: nowhere in a file.
struct TextPlace {
  int line = 0;
  int column = 0;
  friend auto operator<=>(const TextPlace&, const TextPlace&) = default;
};

enum class NodeKind : std::uint8_t { kText, kInteger, kDecimal, kFlag, kDate, kList, kTable };

struct NodeEntry;

// One value. Only the member of its kind means anything.
struct Node {
  NodeKind kind = NodeKind::kTable;
  TextPlace place;
  std::string text;                // kText
  std::int64_t integer = 0;        // kInteger
  double decimal = 0;              // kDecimal, and kInteger as well
  bool flag = false;               // kFlag
  std::vector<Node> items;         // kList
  std::vector<NodeEntry> entries;  // kTable, in the order of the file

  // The value of a key of a table; null where it has no such key.
  [[nodiscard]] const Node* find(std::string_view key) const;
  [[nodiscard]] bool is_number() const;
};

struct NodeEntry {
  std::string key;
  TextPlace place;  // of the key
  Node value;
};

// The tree of a TOML text. Errors: kUnusable, "FILE:LINE:COLUMN: not TOML: ...", the first one
// only.
Result<Node> parse_tree(std::string_view text, std::string_view file_name);

// A value as a person would write it, cut to a readable length, for messages.
std::string shown(const Node& node);

// A TOML basic string with its quotes.
std::string quoted(std::string_view text);

}  // namespace understudy
