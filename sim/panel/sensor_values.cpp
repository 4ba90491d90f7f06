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

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";  // of UTF-8; RFC 3629, section 6
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

bool all_digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

// "21,5" or "-3,75": a number with a comma for its point, unless it is two columns.
bool is_comma_number(std::string_view text) {
  if (text.starts_with('+') || text.starts_with('-')) text.remove_prefix(1);
  const std::size_t comma = text.find(',');
  return comma != std::string_view::npos && all_digits(text.substr(0, comma)) &&
         all_digits(text.substr(comma + 1));
}

std::string_view take_line(std::string_view& text) {
  const std::size_t end = std::min(text.find('\n'), text.size());
  const std::string_view line = trimmed(text.substr(0, end));
  text.remove_prefix(std::min(end + 1, text.size()));
  return line;
}

bool says_nothing(std::string_view line) {
  return line.empty() || line.starts_with('#');
}

// Whether any line has commas that stand between columns beyond doubt: below "time,heat" or beside
// "0,18.5" a line "1,19" is two columns as well.
bool has_comma_columns(std::string_view text) {
  while (!text.empty()) {
    const std::string_view line = take_line(text);
    if (says_nothing(line) || line.find_first_of(";\t") != std::string_view::npos) continue;
    if (line.find(',') != std::string_view::npos && !is_comma_number(line)) return true;
  }
  return false;
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
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  const bool comma_columns = has_comma_columns(text);
  bool first = true;  // a line that says something
  for (int line_number = 1; !text.empty(); ++line_number) {
    const std::string_view line = take_line(text);
    if (says_nothing(line)) continue;
    const std::string where =
        " in line " + std::to_string(line_number) + " of " + std::string(file_name);
    if (!comma_columns && is_comma_number(line))
      return unusable(printable(line).substr(0, 40) + where +
                      ", a decimal comma or two columns without their names above");
    const std::string_view last = last_column(line);
    const auto number = number_in(last);
    if (number)
      numbers.push_back(*number);
    else if (is_comma_number(last))
      return unusable(printable(last).substr(0, 40) + where + ", a decimal comma");
    else if (!first)
      return unusable(printable(last).substr(0, 40) + where);
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
