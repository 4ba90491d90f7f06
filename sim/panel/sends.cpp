// Reads and writes ranges and words of wire numbers.
#include "sim/panel/sends.h"

#include <cmath>
#include <set>

#include "sim/base/text.h"

namespace understudy {
namespace {

constexpr double kWireNumberSizeMax = 1e12;

double power_of_ten(int n) {
  double power = 1;
  for (; n > 0; --n) power *= 10;
  return power;
}

std::optional<std::int64_t> wire_number(const KeyText& key, const Node& node, int decimals,
                                        Mistakes& mistakes) {
  const double exact = node.decimal * power_of_ten(decimals);
  if (!(std::fabs(exact) <= kWireNumberSizeMax)) {
    mistakes.add({node.place, key.path(), shown(node), "a number of at most 12 digits", ""});
    return std::nullopt;
  }
  const double nearest = std::round(exact);
  if (std::fabs(exact - nearest) > 1e-6) {
    const std::string expected =
        decimals == 0 ? "a whole number"
                      : "a number with at most " + std::to_string(decimals) + " decimals";
    mistakes.add(
        {node.place, key.path(), shown(node), expected, "decimals says how many there are"});
    return std::nullopt;
  }
  return static_cast<std::int64_t>(nearest);
}

void read_range(const KeyText& key, const Node& node, Sends& sends, Mistakes& mistakes) {
  const auto low = wire_number(key, node.items[0], sends.decimals, mistakes);
  const auto high = wire_number(key, node.items[1], sends.decimals, mistakes);
  if (!low || !high) return;
  if (*low == *high) {
    mistakes.add({node.place, key.path(), shown(node), "two different numbers", ""});
    return;
  }
  sends.low = *low;
  sends.high = *high;
  sends.given = true;
}

void read_words(const KeyText& key, const Node& node, Sends& sends, Mistakes& mistakes) {
  std::vector<std::string> words;
  std::set<std::string> seen;
  for (const Node& item : node.items) {
    if (item.text.empty()) {
      mistakes.add({item.place, key.path(), "an empty text", "a word",
                    "nothing in a line could not be told from a word left out"});
      return;
    }
    if (!seen.insert(item.text).second) {
      mistakes.add(
          {item.place, key.path(), shown(item), "a word that differs from the others", ""});
      return;
    }
    words.push_back(item.text);
  }
  if (sends.decimals != 0) {
    mistakes.add({node.place, key.path(), "words and decimals", "one of both", ""});
    return;
  }
  sends.low = 0;
  sends.high = static_cast<std::int64_t>(words.size()) - 1;
  sends.words = std::move(words);
  sends.given = true;
}

std::string with_decimals(std::int64_t number, int decimals) {
  if (decimals == 0) return std::to_string(number);
  std::string digits = std::to_string(number < 0 ? -number : number);
  const auto count = static_cast<std::size_t>(decimals);
  if (digits.size() <= count) digits.insert(0, count + 1 - digits.size(), '0');
  digits.insert(digits.size() - count, ".");
  return (number < 0 ? "-" : "") + digits;
}

}  // namespace

void read_sends(const KeyText& key, const Node& node, SendsAllowed allowed, Sends& sends,
                Mistakes& mistakes) {
  if (node.kind != NodeKind::kList) return add_wrong(key, node, mistakes);
  std::size_t numbers = 0;
  std::size_t texts = 0;
  for (const Node& item : node.items) {
    if (item.is_number()) ++numbers;
    if (item.kind == NodeKind::kText) ++texts;
  }
  const std::size_t count = node.items.size();
  if (numbers == 2 && count == 2) return read_range(key, node, sends, mistakes);
  if (texts == count && count >= 1 && allowed.words_min > 0 && count >= allowed.words_min &&
      count <= allowed.words_max)
    return read_words(key, node, sends, mistakes);
  add_wrong(key, node, mistakes);
}

std::string write_sends(const Sends& sends) {
  if (!sends.words.empty()) return write_texts(sends.words);
  return "[" + with_decimals(sends.low, sends.decimals) + ", " +
         with_decimals(sends.high, sends.decimals) + "]";
}

}  // namespace understudy
