// A list of texts and a place in it.
#include "sim/panel/edit_history.h"

#include <utility>

namespace understudy {

void EditHistory::push(std::string text, std::string name) {
  if (text == texts_[at_]) return;
  texts_.resize(at_ + 1);
  names_.resize(at_);
  texts_.push_back(std::move(text));
  names_.push_back(std::move(name));
  ++at_;
  if (names_.size() <= kStepsMax) return;
  texts_.erase(texts_.begin());
  names_.erase(names_.begin());
  --at_;
}

void EditHistory::push_on(std::string text, std::string name) {
  const bool goes_on = at_ > 0 && at_ == names_.size() && names_[at_ - 1] == name;
  if (!goes_on) return push(std::move(text), std::move(name));
  texts_[at_] = std::move(text);
}

bool EditHistory::undo() {
  if (at_ == 0) return false;
  --at_;
  return true;
}

bool EditHistory::redo() {
  if (at_ >= names_.size()) return false;
  ++at_;
  return true;
}

}  // namespace understudy
