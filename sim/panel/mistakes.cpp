// Sorts mistakes by place and writes each as one line.
#include "sim/panel/mistakes.h"

#include <algorithm>

#include "sim/base/text.h"

namespace understudy {
namespace {

std::string told_one(const Mistake& mistake, std::string_view file_name) {
  std::string text(file_name);
  if (mistake.place.line > 0) {
    text += ":" + std::to_string(mistake.place.line) + ":" + std::to_string(mistake.place.column);
  }
  if (!mistake.key.empty()) text += ": " + mistake.key;
  text += ": found " + mistake.found + ", expected " + mistake.expected;
  if (!mistake.remedy.empty()) text += "; " + mistake.remedy;
  return text;
}

}  // namespace

Error Mistakes::told(std::string_view file_name) const {
  CHECK(!all_.empty(), "no mistake was made that could be told");
  std::vector<Mistake> sorted = all_;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Mistake& a, const Mistake& b) { return a.place < b.place; });
  const std::size_t told = std::min(sorted.size(), kToldMax);
  std::string text;
  for (std::size_t i = 0; i < told; ++i) {
    text += (i > 0 ? "\n" : "") + told_one(sorted[i], file_name);
  }
  if (sorted.size() > told) {
    text += "\n" + std::string(file_name) + ": and " + std::to_string(sorted.size() - told) +
            " more mistakes";
  }
  return {ErrorCode::kUnusable, std::move(text)};
}

std::string nearest_or_all(std::string_view word, const std::vector<std::string>& candidates) {
  const std::string near = nearest_word(word, candidates);
  if (!near.empty()) return "the nearest is " + near;
  return "there are " + either(candidates);
}

std::string either(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace understudy
