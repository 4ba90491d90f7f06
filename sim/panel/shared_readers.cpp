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

void read_kind_word(const KeyText& key, const Node& node, std::span<const std::string_view> to_come,
                    Mistakes& mistakes, const std::function<void(int)>& take) {
  if (node.kind == NodeKind::kText &&
      std::find(to_come.begin(), to_come.end(), node.text) != to_come.end()) {
    std::vector<std::string> kinds;
    for (const std::string& kind : words_of(key)) kinds.push_back(quoted(kind));
    mistakes.add(
        {node.place, key.path(), shown(node), either(kinds), "this kind cannot be simulated yet"});
    return;
  }
  if (const auto index = read_word(key, node, mistakes)) take(*index);
}

}  // namespace understudy
