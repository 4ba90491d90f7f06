// Reads single values and says what is wrong with them.
#include "sim/panel/readers.h"

#include <cmath>

#include "sim/base/text.h"

namespace understudy {
namespace {

constexpr double kMillimetresMax = 5'000;

// " from 1 to 64", " of at least 1", or nothing where all is allowed.
std::string range_of(const KeyText& key, const std::string& least, const std::string& most) {
  const bool bounded = key.most != std::numeric_limits<std::int64_t>::max();
  if (bounded) return ", from " + least + " to " + most;
  return ", at least " + least;
}

}  // namespace

void add_wrong(const KeyText& key, const Node& node, Mistakes& mistakes, std::string remedy) {
  mistakes.add({node.place, key.path(), shown(node), std::string(key.type), std::move(remedy)});
}

std::optional<std::string> read_text(const KeyText& key, const Node& node, Mistakes& mistakes) {
  if (node.kind == NodeKind::kText) return node.text;
  add_wrong(key, node, mistakes, node.is_number() ? "put it in quotes" : "");
  return std::nullopt;
}

std::optional<std::int64_t> read_integer(const KeyText& key, const Node& node, Mistakes& mistakes) {
  if (node.kind == NodeKind::kInteger && node.integer >= key.least && node.integer <= key.most)
    return node.integer;
  const std::string range = range_of(key, std::to_string(key.least), std::to_string(key.most));
  mistakes.add({node.place, key.path(), shown(node), std::string(key.type) + range, ""});
  return std::nullopt;
}

std::optional<bool> read_flag(const KeyText& key, const Node& node, Mistakes& mistakes) {
  if (node.kind == NodeKind::kFlag) return node.flag;
  add_wrong(key, node, mistakes);
  return std::nullopt;
}

std::optional<std::int64_t> read_quantity(const KeyText& key, const Node& node, Unit unit,
                                          Mistakes& mistakes) {
  if (node.kind != NodeKind::kText) {
    add_wrong(key, node, mistakes, node.is_number() ? "write its unit, in quotes" : "");
    return std::nullopt;
  }
  const auto value = parse_quantity(node.text, unit);
  if (!value) {
    add_wrong(key, node, mistakes);
    return std::nullopt;
  }
  if (*value < key.least || *value > key.most) {
    const std::string range =
        range_of(key, write_quantity(key.least, unit), write_quantity(key.most, unit));
    mistakes.add({node.place, key.path(), shown(node), std::string(key.type) + range, ""});
    return std::nullopt;
  }
  return value;
}

std::optional<std::int64_t> read_millimetres(const KeyText& key, const Node& node,
                                             Mistakes& mistakes) {
  if (node.is_number() && node.decimal >= 0 && node.decimal <= kMillimetresMax &&
      std::llround(node.decimal * 1'000) * 1'000 >= key.least)
    return std::llround(node.decimal * 1'000);
  mistakes.add(
      {node.place, key.path(), shown(node),
       std::string(key.type) + (key.least > 0 ? " above 0, up to 5000" : " from 0 to 5000"), ""});
  return std::nullopt;
}

std::optional<int> read_word(const KeyText& key, const Node& node, Mistakes& mistakes) {
  const std::vector<std::string> words = words_of(key);
  std::vector<std::string> in_quotes;
  for (const std::string& word : words) in_quotes.push_back(quoted(word));
  if (node.kind == NodeKind::kText) {
    for (std::size_t i = 0; i < words.size(); ++i)
      if (words[i] == node.text) return static_cast<int>(i);
    const std::string near = nearest_word(node.text, words);
    mistakes.add({node.place, key.path(), shown(node), either(in_quotes),
                  near.empty() ? "" : "the nearest is " + quoted(near)});
    return std::nullopt;
  }
  mistakes.add({node.place, key.path(), shown(node), either(in_quotes), ""});
  return std::nullopt;
}

std::optional<std::vector<std::string>> read_texts(const KeyText& key, const Node& node,
                                                   Mistakes& mistakes) {
  std::vector<std::string> texts;
  if (node.kind != NodeKind::kList) {
    add_wrong(key, node, mistakes, node.kind == NodeKind::kText ? "put it in [ ]" : "");
    return std::nullopt;
  }
  for (const Node& item : node.items) {
    if (item.kind != NodeKind::kText) {
      mistakes.add({item.place, key.path(), shown(item), "a text in the list", ""});
      return std::nullopt;
    }
    texts.push_back(item.text);
  }
  return texts;
}

std::optional<std::vector<std::int64_t>> read_integers(const KeyText& key, const Node& node,
                                                       Mistakes& mistakes) {
  std::vector<std::int64_t> integers;
  if (node.kind != NodeKind::kList) {
    add_wrong(key, node, mistakes);
    return std::nullopt;
  }
  for (const Node& item : node.items) {
    if (item.kind != NodeKind::kInteger || item.integer < key.least || item.integer > key.most) {
      const std::string range = range_of(key, std::to_string(key.least), std::to_string(key.most));
      mistakes.add({item.place, key.path(), shown(item), "a whole number" + range, ""});
      return std::nullopt;
    }
    integers.push_back(item.integer);
  }
  return integers;
}

std::string write_texts(const std::vector<std::string>& texts) {
  std::string out = "[";
  for (const std::string& text : texts) out += (out.size() > 1 ? ", " : "") + quoted(text);
  return out + "]";
}

std::string write_integers(const std::vector<std::int64_t>& integers) {
  std::string out = "[";
  for (const std::int64_t n : integers) out += (out.size() > 1 ? ", " : "") + std::to_string(n);
  return out + "]";
}

std::string write_millimetres(std::int64_t um) {
  std::string text = std::to_string(um / 1'000);
  if (um % 1'000 == 0) return text;
  std::string thousandths = std::to_string(1'000 + um % 1'000).substr(1);
  while (thousandths.back() == '0') thousandths.pop_back();
  return text + "." + thousandths;
}

// A degree is read like a millimetre: both are kept in thousandths.
std::optional<std::int64_t> parse_degrees(std::string text) {
  if (!text.ends_with("deg")) return std::nullopt;
  text.resize(text.size() - 3);
  return parse_quantity(text + "mm", Unit::kLength);
}

std::string write_degrees(std::int64_t thousandths) {
  return write_millimetres(thousandths) + " deg";
}

std::string write_quoted_quantity(std::int64_t value, Unit unit) {
  return quoted(write_quantity(value, unit));
}

std::string_view word_at(std::string_view words, int index) {
  for (; index > 0; --index) {
    const std::size_t bar = words.find('|');
    CHECK(bar != std::string_view::npos, "a word beyond the end of its list was asked for");
    words.remove_prefix(bar + 1);
  }
  return words.substr(0, words.find('|'));
}

}  // namespace understudy
