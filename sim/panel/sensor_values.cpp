// Lines of numbers, read without locale, and their shares of a range.
#include "sim/panel/sensor_values.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

#include "sim/base/text.h"
#include "sim/panel/control_kinds.h"

namespace understudy {
namespace {

constexpr double kFullPpm = 1e6;
constexpr double kNumberMax = 1e12;

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\"";
  const std::size_t first = std::min(text.find_first_not_of(kBlank), text.size());
  text.remove_prefix(first);
  return text.substr(0, text.find_last_not_of(kBlank) + 1);
}

std::string_view last_column(std::string_view line) {
  const bool semicolons = line.find_first_of(";\t") != std::string_view::npos;
  const std::size_t at = line.find_last_of(semicolons ? ";\t" : ",");
  return trimmed(at == std::string_view::npos ? line : line.substr(at + 1));
}

std::optional<double> number_in(std::string_view text) {
  if (text.starts_with('+')) text.remove_prefix(1);
  double number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size() || !is_sensor_number(number))
    return std::nullopt;
  return number;
}

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

}  // namespace

bool is_sensor_number(double number) {
  return std::fabs(number) <= kNumberMax;  // false of what is no number
}

Result<std::vector<double>> numbers_in(std::string_view text, std::string_view file_name) {
  std::vector<double> numbers;
  bool first = true;  // a line that says something
  for (int line_number = 1; !text.empty(); ++line_number) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    if (line.empty() || line.starts_with('#')) continue;
    const auto number = number_in(last_column(line));
    if (number) {
      numbers.push_back(*number);
    } else if (!first) {
      return unusable(printable(last_column(line)).substr(0, 40) + " in line " +
                      std::to_string(line_number) + " of " + std::string(file_name));
    }
    first = false;
  }
  if (numbers.empty()) return unusable("no number in " + std::string(file_name));
  return numbers;
}

void take_sensor_values(const Node& table, const std::vector<double>& numbers, std::string_view key,
                        ControlDescription& into, Mistakes& mistakes) {
  // What is no list of numbers was told already.
  if (numbers.empty() || !std::all_of(numbers.begin(), numbers.end(), is_sensor_number)) return;
  if (numbers.size() > kSensorValuesMax) {
    return add_at(table, key, std::to_string(numbers.size()) + " values",
                  "at most " + std::to_string(kSensorValuesMax) + " of all sensors together",
                  "leave every second out and double every", mistakes);
  }
  double low = *std::min_element(numbers.begin(), numbers.end());
  double high = *std::max_element(numbers.begin(), numbers.end());
  const Node* range = table.find("range");
  if (range != nullptr) {
    const bool two = range->items.size() == 2 && is_sensor_number(range->items[0].decimal) &&
                     is_sensor_number(range->items[1].decimal);
    if (!two) return;  // told already
    low = range->items[0].decimal;
    high = range->items[1].decimal;
  }
  if (low == high) {
    if (range != nullptr) return;  // told already
    return add_at(table, key, "values that are all the same", "range = [LOW, HIGH] beside them",
                  "without it the least and the most of them are the ends", mistakes);
  }
  into.sensor.values_ppm.clear();
  for (const double number : numbers) {
    const double share = std::clamp((number - low) / (high - low), 0.0, 1.0);
    into.sensor.values_ppm.push_back(std::llround(share * kFullPpm));
  }
}

void read_sensor_file(const Node& table, const ReadBeside& read, ControlDescription& into,
                      Mistakes& mistakes) {
  if (into.sensor.file.empty() || table.find("values") != nullptr) return;
  const std::string name = std::exchange(into.sensor.file, "");
  if (!read) {
    return add_at(table, "file", quoted(name), "values = [...] in the panel itself",
                  "this panel came as a text, so there is no folder that the file could lie in",
                  mistakes);
  }
  const Result<std::string> text = read(name);
  if (!text.ok()) {
    return add_at(table, "file", quoted(name), "the name of a file beside the panel file",
                  text.error().text, mistakes);
  }
  const auto numbers = numbers_in(text.value(), name);
  if (!numbers.ok()) {
    return add_at(table, "file", numbers.error().text,
                  "a number in each line, with a point for its decimals", "", mistakes);
  }
  take_sensor_values(table, numbers.value(), "file", into, mistakes);
}

}  // namespace understudy
