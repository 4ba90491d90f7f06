// The template grammar of docs/line-format.md, by hand, one byte at a time.
#include "protocol/template_parser.h"

#include "protocol/digits.h"
#include "protocol/line_format.h"

namespace understudy::protocol {
namespace {

constexpr int kWidthMax = 20;

std::string quoted(std::string_view text) {
  return "`" + std::string(text) + "`";
}

// What stands in one pair of braces.
class PlaceParser {
 public:
  // `inside` is the text between the braces, the first of which is at column `brace`.
  PlaceParser(std::string_view inside, std::size_t brace) : inside_(inside), brace_(brace) {}

  Outcome<TemplateNode> parse() {
    TemplateNode node;
    node.column = brace_;
    const std::size_t colon = find_style();
    const std::string_view name = inside_.substr(0, colon);
    if (name.starts_with("bits ") ||
        (name == "bits" && inside_.find(' ') != std::string_view::npos)) {
      if (auto error = parse_bits(node)) return *error;
    } else if (name.empty() || name.find(' ') != std::string_view::npos) {
      return error_at(0, quoted("{" + std::string(inside_) + "}"),
                      "the name of a field, without spaces");
    } else {
      node.kind = name[0] == '#' ? TemplateNode::Kind::kBuiltIn : TemplateNode::Kind::kField;
      node.text = name;
    }
    if (colon < inside_.size()) {
      if (auto error = parse_style(colon + 1, node.style)) return *error;
    }
    return node;
  }

 private:
  FormatError error_at(std::size_t offset, std::string found, std::string expected) const {
    return {
        .column = brace_ + 1 + offset, .found = std::move(found), .expected = std::move(expected)};
  }

  // Where the style's colon is; in `bits low first: a b` the first colon is another one.
  std::size_t find_style() const {
    std::size_t from = 0;
    if (inside_.starts_with("bits ")) {
      const std::size_t first = inside_.find(':');
      from = first == std::string_view::npos ? inside_.size() : first + 1;
    }
    const std::size_t colon = inside_.find(':', from);
    return colon == std::string_view::npos ? inside_.size() : colon;
  }

  std::optional<FormatError> parse_bits(TemplateNode& node) {
    node.kind = TemplateNode::Kind::kBits;
    node.text = "bit mask";
    constexpr std::string_view kLow = "bits low first:";
    constexpr std::string_view kHigh = "bits high first:";
    node.high_first = inside_.starts_with(kHigh);
    if (!node.high_first && !inside_.starts_with(kLow)) {
      return error_at(0, quoted(inside_), "`bits low first: a b c` or `bits high first: a b c`");
    }
    std::size_t at = node.high_first ? kHigh.size() : kLow.size();
    const std::size_t end = find_style();
    while (true) {
      while (at < end && inside_[at] == ' ') ++at;
      if (at == end) break;
      const std::size_t begin = at;
      while (at < end && inside_[at] != ' ') ++at;
      node.bits.emplace_back(inside_.substr(begin, at - begin));
      node.bit_columns.push_back(brace_ + 1 + begin);
    }
    if (node.bits.empty() || node.bits.size() > 59) {
      return error_at(0, std::to_string(node.bits.size()) + " names in a bit mask", "1 to 59");
    }
    return std::nullopt;
  }

  std::optional<FormatError> parse_style(std::size_t at, NumberStyle& style) const {
    const std::string_view all = inside_.substr(at);
    std::string_view rest = all;
    while (!rest.empty() && is_digit(rest[0]) && style.width <= kWidthMax) {
      style.width = style.width * 10 + (rest[0] - '0');
      rest.remove_prefix(1);
    }
    const bool has_width = rest.size() < all.size();
    if (has_width && (style.width == 0 || style.width > kWidthMax)) {
      return error_at(at, "a width of " + quoted(all), "a width of 1 to 20");
    }
    style.width_exact = has_width;
    if (has_width && rest.starts_with('+')) {
      style.width_exact = false;
      rest.remove_prefix(1);
    }
    if (rest == "x") {
      style.notation = Notation::kHexLower;
    } else if (rest == "X") {
      style.notation = Notation::kHexUpper;
    } else if (rest == "short" && !has_width) {
      style.short_decimals = true;
    } else if (!rest.empty() || all.empty()) {
      return error_at(at, quoted(all), "a width such as 4 or 4+, then x or X; or `short`");
    }
    return std::nullopt;
  }

  std::string_view inside_;
  std::size_t brace_;
};

}  // namespace

Outcome<std::vector<TemplateNode>> parse_template(std::string_view text) {
  if (text.size() > kTemplateBytesMax) {
    return FormatError{.found = "a template of " + std::to_string(text.size()) + " bytes",
                       .expected = "at most " + std::to_string(kTemplateBytesMax)};
  }
  std::vector<TemplateNode> nodes;
  const auto add_text = [&](std::size_t at) {
    if (nodes.empty() || nodes.back().kind != TemplateNode::Kind::kText) {
      nodes.push_back({.column = at + 1});
    }
    nodes.back().text += text[at];
  };
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool brace = text[at] == '{' || text[at] == '}';
    if (!brace) {
      add_text(at);
    } else if (at + 1 < text.size() && text[at + 1] == text[at]) {
      add_text(at++);
    } else if (text[at] == '}') {
      return FormatError{.column = at + 1, .found = "`}` alone", .expected = "`}}` for a brace"};
    } else {
      const std::size_t close = text.find_first_of("{}", at + 1);
      if (close == std::string_view::npos || text[close] == '{') {
        return FormatError{.column = at + 1,
                           .found = "`{` without `}`",
                           .expected = "`{name}`, or `{{` for a brace"};
      }
      auto node = PlaceParser(text.substr(at + 1, close - at - 1), at + 1).parse();
      if (!node) return node.error();
      nodes.push_back(std::move(node).value());
      at = close;
    }
  }
  return nodes;
}

}  // namespace understudy::protocol
