// Undo and redo: texts with the names of the edits that led from one to the next.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace understudy {

class EditHistory {
 public:
  static constexpr std::size_t kStepsMax = 200;  // the oldest go beyond it
  explicit EditHistory(std::string text = "") : texts_{std::move(text)} {}

  [[nodiscard]] const std::string& text() const { return texts_[at_]; }
  // What the edits that were undone would have led to is forgotten. An equal text is no step.
  void push(std::string text, std::string name);  // "rename bell to horn"
  // A step of the same name as the last becomes one with it: a drag is one step.
  void push_on(std::string text, std::string name);
  bool undo();  // false: there is nothing to undo
  bool redo();
  // The names of what would be undone and done again; empty: nothing.
  [[nodiscard]] std::string undo_name() const { return at_ > 0 ? names_[at_ - 1] : ""; }
  [[nodiscard]] std::string redo_name() const { return at_ < names_.size() ? names_[at_] : ""; }

 private:
  std::vector<std::string> texts_;
  std::vector<std::string> names_;  // names_[i] leads from texts_[i] to texts_[i + 1]
  std::size_t at_ = 0;
};

}  // namespace understudy
