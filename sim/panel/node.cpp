// Turns the TOML library's tree into ours, so that one file alone pays for the library's headers.
#include "sim/panel/node.h"

#include <toml++/toml.h>

#include <algorithm>
#include <sstream>

#include "sim/base/text.h"

namespace understudy {
namespace {

constexpr std::size_t kShownBytesMax = 60;

TextPlace place_of(const toml::source_region& region) {
  return {static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

Node converted(const toml::node& from);

void convert_table(const toml::table& table, Node& into) {
  for (auto&& [key, value] : table) {
    into.entries.push_back({std::string(key.str()), place_of(key.source()), converted(value)});
  }
  // The library sorts by name; messages and defaults go by the order of the file.
  std::stable_sort(into.entries.begin(), into.entries.end(),
                   [](const NodeEntry& a, const NodeEntry& b) { return a.place < b.place; });
}

Node converted(const toml::node& from) {
  Node node;
  node.place = place_of(from.source());
  if (const auto* table = from.as_table()) {
    node.kind = NodeKind::kTable;
    convert_table(*table, node);
  } else if (const auto* list = from.as_array()) {
    node.kind = NodeKind::kList;
    for (const toml::node& item : *list) node.items.push_back(converted(item));
  } else if (const auto* text = from.as_string()) {
    node.kind = NodeKind::kText;
    node.text = text->get();
  } else if (const auto* integer = from.as_integer()) {
    node.kind = NodeKind::kInteger;
    node.integer = integer->get();
    node.decimal = static_cast<double>(integer->get());
  } else if (const auto* decimal = from.as_floating_point()) {
    node.kind = NodeKind::kDecimal;
    node.decimal = decimal->get();
  } else if (const auto* flag = from.as_boolean()) {
    node.kind = NodeKind::kFlag;
    node.flag = flag->get();
  } else {
    node.kind = NodeKind::kDate;
  }
  return node;
}

std::string shown_number(double number) {
  std::ostringstream out;
  out.imbue(std::locale::classic());
  out << number;
  return out.str();
}

std::string shown_list(const Node& node) {
  std::string text = "[";
  for (const Node& item : node.items) {
    if (text.size() > kShownBytesMax) return text + ", ...]";
    text += (text.size() > 1 ? ", " : "") + shown(item);
  }
  return text + "]";
}

std::string shown_table(const Node& node) {
  std::string text = "a table";
  for (const NodeEntry& entry : node.entries) {
    if (text.size() > kShownBytesMax) return text + ", ...";
    text += (&entry == &node.entries.front() ? " with " : ", ") + printable(entry.key);
  }
  return text;
}

}  // namespace

const Node* Node::find(std::string_view key) const {
  for (const NodeEntry& entry : entries)
    if (entry.key == key) return &entry.value;
  return nullptr;
}

bool Node::is_number() const {
  return kind == NodeKind::kInteger || kind == NodeKind::kDecimal;
}

Result<Node> parse_tree(std::string_view text, std::string_view file_name) {
  try {
    return converted(toml::parse(text, file_name));
  } catch (const toml::parse_error& error) {
    const TextPlace place = place_of(error.source());
    std::string said(error.description());
    std::replace(said.begin(), said.end(), '\n', ' ');
    return Error{ErrorCode::kUnusable, std::string(file_name) + ":" + std::to_string(place.line) +
                                           ":" + std::to_string(place.column) +
                                           ": not TOML: " + said};
  }
}

std::string shown(const Node& node) {
  switch (node.kind) {
    case NodeKind::kText: {
      const bool cut = node.text.size() > kShownBytesMax;
      return "\"" + printable(std::string_view(node.text).substr(0, kShownBytesMax)) +
             (cut ? "...\"" : "\"");
    }
    case NodeKind::kInteger:
      return std::to_string(node.integer);
    case NodeKind::kDecimal:
      return shown_number(node.decimal);
    case NodeKind::kFlag:
      return node.flag ? "true" : "false";
    case NodeKind::kDate:
      return "a date or time";
    case NodeKind::kList:
      return node.items.empty() ? "an empty list" : shown_list(node);
    case NodeKind::kTable:
      return shown_table(node);
  }
  return "";
}

std::string quoted(std::string_view text) {
  static constexpr char kHex[] = "0123456789ABCDEF";
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += {'\\', c};
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\r') {
      out += "\\r";
    } else if (c == '\t') {
      out += "\\t";
    } else if (byte < 0x20 || byte == 0x7f) {
      out += {'\\', 'u', '0', '0', kHex[byte >> 4], kHex[byte & 15]};
    } else {
      out += c;
    }
  }
  return out + "\"";
}

}  // namespace understudy
