// Counts shapes and gathers, place by place, what their values have been.
#include "sim/panel/shapes_seen.h"

#include <algorithm>
#include <map>

namespace understudy {
namespace {

constexpr std::size_t kShapesMax = 12;  // kinds of line that are believed
constexpr std::size_t kRareShare = 50;  // a shape below 1/50 of the lines is noise

int decimals_in(const std::string& raw) {
  const std::size_t point = raw.find('.');
  return point == std::string::npos ? 0 : static_cast<int>(raw.size() - point - 1);
}

double number_of(const std::string& raw) {
  // Digits and a point only, as the shape found them: no locale comes into it.
  double value = 0;
  double part = 0;
  for (const char c : raw) {
    if (c == '.') part = 1;
    if (c < '0' || c > '9') continue;
    value = value * 10 + (c - '0');
    part *= 10;
  }
  return part > 0 ? value / part : value;
}

void see(PlaceSeen& place, const SampleValue& value) {
  const std::string& raw = value.raw;
  if (place.count++ == 0) {
    place.label = value.label;
    place.word = value.word;
    place.decimals = decimals_in(raw);
    place.width = raw.size();
  }
  if (value.word) {
    find_state_pair(raw, place.pair);
    ++(place.pair.index == 0 ? place.zeros : place.ones);
    return;
  }
  const int decimals = decimals_in(raw);
  if (decimals != place.decimals) place.decimals_vary = true;
  place.decimals = std::max(place.decimals, decimals);
  if (raw.size() != place.width) place.width_varies = true;
  const std::string digits = raw.substr(raw.front() == '-' ? 1 : 0);
  if (digits.size() > 1 && digits[0] == '0' && digits[1] != '.') place.leading_zero = true;
  if (raw.front() == '-') place.negative = true;
  if (raw == "0") ++place.zeros;
  if (raw == "1") ++place.ones;
  const double number = number_of(raw);
  if (place.count > 1 && number != place.last + 1) place.counts_up = false;
  place.last = number;
  place.largest = std::max(place.largest, number);
}

}  // namespace

std::vector<ShapeSeen> shapes_in(const std::vector<SampleLine>& lines) {
  std::map<std::string, std::size_t> index_of;
  std::vector<ShapeSeen> shapes;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    LineShape shape = shape_of(lines[i].text);
    const auto [at, fresh] = index_of.emplace(shape.key(), shapes.size());
    if (fresh) {
      if (shapes.size() >= 1'000) continue;  // noise without end is not remembered
      shapes.push_back({shape, std::vector<PlaceSeen>(shape.values.size()), 0, i, lines[i].text});
    }
    if (at->second >= shapes.size()) continue;
    ShapeSeen& seen = shapes[at->second];
    ++seen.count;
    for (std::size_t v = 0; v < shape.values.size(); ++v) see(seen.places[v], shape.values[v]);
  }
  return shapes;
}

std::vector<ShapeSeen> believed(const std::vector<ShapeSeen>& shapes, std::size_t lines) {
  std::vector<ShapeSeen> often;
  for (const ShapeSeen& seen : shapes) {
    const bool rare = lines >= 10 && (seen.count < 2 || seen.count * kRareShare < lines);
    if (!seen.places.empty() && !rare) often.push_back(seen);
  }
  std::stable_sort(often.begin(), often.end(),
                   [](const ShapeSeen& a, const ShapeSeen& b) { return a.count > b.count; });
  if (often.size() > kShapesMax) often.resize(kShapesMax);
  std::stable_sort(often.begin(), often.end(),
                   [](const ShapeSeen& a, const ShapeSeen& b) { return a.first < b.first; });
  return often;
}

}  // namespace understudy
