// Compares the file's text behind the opening quote with the template's text.
#include "sim/panel/template_place.h"

namespace understudy {

std::optional<TextPlace> place_in_template(std::string_view file_text, const Node& node,
                                           std::size_t column) {
  for (int line = 1; line < node.place.line; ++line) {
    const std::size_t end = file_text.find('\n');
    if (end == std::string_view::npos) return std::nullopt;
    file_text.remove_prefix(end + 1);
  }
  file_text = file_text.substr(0, file_text.find('\n'));
  // Columns count characters; before the quote there are mostly bytes of ASCII alone.
  const auto quote = static_cast<std::size_t>(node.place.column - 1);
  if (quote + 1 > file_text.size() || (file_text[quote] != '"' && file_text[quote] != '\''))
    return std::nullopt;
  const std::string_view before = std::string_view(node.text).substr(0, column - 1);
  if (file_text.substr(quote + 1, before.size()) != before) return std::nullopt;
  return TextPlace{node.place.line, node.place.column + static_cast<int>(column)};
}

}  // namespace understudy
