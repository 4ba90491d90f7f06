// Names, kinds, pins and places of controls and outputs.
#include "sim/panel/shared_readers.h"

#include <algorithm>

namespace understudy {
namespace {

constexpr std::size_t kNameBytesMax = 40;

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

}  // namespace

bool is_name(std::string_view text) {
  if (text.empty() || text.size() > kNameBytesMax || !is_letter(text.front())) return false;
  return std::all_of(text.begin(), text.end(),
                     [](char c) { return is_letter(c) || is_digit(c) || c == '_' || c == '-'; });
}

std::optional<std::string> read_pin_name(const KeyText& key, const Node& node, Mistakes& mistakes) {
  if (node.kind == NodeKind::kInteger && node.integer >= 0 && node.integer <= 999)
    return "D" + std::to_string(node.integer);
  const bool text = node.kind == NodeKind::kText;
  if (!text || node.text.empty() || node.text.size() > 8 ||
      !std::all_of(node.text.begin(), node.text.end(),
                   [](char c) { return is_letter(c) || is_digit(c); })) {
    add_wrong(key, node, mistakes);
    return std::nullopt;
  }
  if (std::all_of(node.text.begin(), node.text.end(), is_digit)) return "D" + node.text;
  return node.text;
}

std::optional<std::vector<std::string>> read_pin_names(const KeyText& key, const Node& node,
                                                       Mistakes& mistakes) {
  if (node.kind != NodeKind::kList) {
    const bool one = node.kind == NodeKind::kText || node.kind == NodeKind::kInteger;
    add_wrong(key, node, mistakes, one ? "put it in [ ]" : "");
    return std::nullopt;
  }
  std::vector<std::string> pins;
  KeyText one = key;
  one.type = kPinType;
  for (const Node& item : node.items) {
    auto pin = read_pin_name(one, item, mistakes);
    if (!pin) return std::nullopt;
    pins.push_back(*std::move(pin));
  }
  return pins;
}

void complain_of_pin_count(const KeyText& key, const Node& table, std::size_t needed,
                           std::string_view which, Mistakes& mistakes) {
  const Node* node = table.find(key.name);
  if (node == nullptr || node->kind != NodeKind::kList || node->items.size() == needed) return;
  const std::size_t found = node->items.size();
  mistakes.add({node->place, key.path(), std::to_string(found) + (found == 1 ? " pin" : " pins"),
                std::to_string(needed), std::string(which)});
}

std::optional<Place> read_place(const KeyText& key, const Node& node, Mistakes& mistakes) {
  if (node.kind != NodeKind::kList || node.items.size() != 2) {
    add_wrong(key, node, mistakes);
    return std::nullopt;
  }
  const auto x = read_millimetres(key, node.items[0], mistakes);
  const auto y = read_millimetres(key, node.items[1], mistakes);
  if (!x || !y) return std::nullopt;
  return Place{true, *x, *y};
}

}  // namespace understudy
