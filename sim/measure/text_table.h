// A table of plain text: the first column leads, the others are set to the right, each as wide as
// its widest word.
#pragma once

#include <string>
#include <vector>

namespace understudy {

class TextTable {
 public:
  explicit TextTable(std::vector<std::string> headings) : rows_{std::move(headings)} {}
  void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
  [[nodiscard]] bool empty() const { return rows_.size() < 2; }
  // Each line after two spaces, ending in a line feed; a last column of words, set to the left,
  // where `words_last`.
  [[nodiscard]] std::string text(bool words_last = false) const;

 private:
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace understudy
