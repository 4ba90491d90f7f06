// Widths first, then the lines.
#include "sim/measure/text_table.h"

#include <algorithm>

namespace understudy {
namespace {

// Letters, not bytes, of UTF-8.
std::size_t width_of(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xc0) != 0x80;
  }));
}

}  // namespace

std::string TextTable::text(bool words_last) const {
  std::vector<std::size_t> widths;
  for (const auto& row : rows_) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
  }
  std::string text;
  for (const auto& row : rows_) {
    std::string line = " ";
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::string space(widths[i] - width_of(row[i]), ' ');
      const bool left = i == 0 || (words_last && i + 1 == widths.size());
      line += std::string(i == 0 ? 1 : 2, ' ') + (left ? row[i] + space : space + row[i]);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  return text;
}

}  // namespace understudy
