// What is wrong with a panel file: every mistake with its place, gathered and told in one go.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/panel/node.h"

namespace understudy {

// One mistake: what stands at a key and what would be right there.
struct Mistake {
  TextPlace place;
  std::string key;       // "manners.loop"; empty: the file as a whole
  std::string found;     // "\"20\""
  std::string expected;  // "a time such as \"20 ms\""
  std::string remedy;    // what to do next; empty: `expected` says it
};

// Collects mistakes in any order; tells them in the order of the file.
class Mistakes {
 public:
  void add(Mistake mistake) { all_.push_back(std::move(mistake)); }
  [[nodiscard]] bool empty() const { return all_.empty(); }

  // kUnusable; one line for each mistake, at most kToldMax of them and how many more there are:
  //   tram.panel.toml:12:8: manners.loop: found "20", expected a time such as "20 ms"
  // REQUIRES: !empty()
  [[nodiscard]] Error told(std::string_view file_name) const;

  static constexpr std::size_t kToldMax = 20;

 private:
  std::vector<Mistake> all_;
};

// "; the nearest is bell" where a candidate is near `word`, else the candidates as a list.
std::string nearest_or_all(std::string_view word, const std::vector<std::string>& candidates);

// "a, b or c"
std::string either(const std::vector<std::string>& words);

}  // namespace understudy
