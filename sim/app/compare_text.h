// Comparisons of recordings as text and as JSON.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/record/compare.h"

namespace understudy {

// One recording against the first.
struct ComparedFile {
  Named b;
  std::optional<Comparison> comparison;
  std::string why_not;  // it cannot be compared
};

struct ComparedFiles {
  Named a;
  Duration tolerance;
  std::vector<ComparedFile> others;  // worst first
};

// Puts what cannot be compared first, then most that is not alike, then the worst difference.
void put_worst_first(std::vector<ComparedFile>& others);

// Every answer of two recordings, a row each.
std::string answers_text(const ComparedFiles& files);
// A row for each recording, and the first difference of each.
std::string summary_text(const ComparedFiles& files);
std::string json_text(const ComparedFiles& files);

}  // namespace understudy
