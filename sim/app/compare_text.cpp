// Columns as wide as what stands in them.
#include "sim/app/compare_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "sim/base/text.h"
#include "sim/base/units.h"

namespace understudy {
namespace {

using Json = nlohmann::ordered_json;

// More rows than a person reads; the JSON has all.
constexpr std::size_t kRowsMax = 1'000;

std::string ms_text(const std::optional<Duration>& length) {
  return length ? fmt::format("{:.1f} ms", static_cast<double>(length->ns) / 1e6) : "-";
}

std::string seconds_text(Duration time) {
  return fmt::format("{:.3f} s", static_cast<double>(time.ns) / 1e9);
}

std::string counted(std::int64_t count, std::string_view what) {
  return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

// Cells below each other; the columns of numbers end at one place.
class Table {
 public:
  Table(std::vector<std::string> head, std::vector<bool> numbers)
      : rows_{std::move(head)}, numbers_(std::move(numbers)) {}
  void add(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }

  [[nodiscard]] std::string text() const {
    std::vector<std::size_t> widths(rows_.front().size());
    for (const auto& row : rows_)
      for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], row[i].size());
    std::string text;
    for (const auto& row : rows_) {
      std::string line;
      for (std::size_t i = 0; i < row.size(); ++i)
        line += numbers_[i] ? fmt::format("  {:>{}}", row[i], widths[i])
                            : fmt::format("  {:<{}}", row[i], widths[i]);
      line.resize(line.find_last_not_of(' ') + 1);
      text += line + "\n";
    }
    return text;
  }

 private:
  std::vector<std::vector<std::string>> rows_;
  std::vector<bool> numbers_;
};

// "signal_red 255", or both numbers where they differ; with the seat where there are several.
std::string answer_words(const AnswerRow& row, const Performance& a) {
  const ShownOutput& output = a.outputs[row.output];
  std::string text = a.seats.size() > 1 ? printable(a.seats[output.seat]) + "/" : "";
  text += printable(output.name) + " ";
  if (!row.number_a || !row.number_b)
    return text + std::to_string(row.number_a ? *row.number_a : *row.number_b);
  text += std::to_string(*row.number_a);
  return row.number_a == row.number_b ? text : text + " | " + std::to_string(*row.number_b);
}

std::string deed_words(const AnswerRow& row, const Comparison& comparison, const Performance& a) {
  if (!row.deed) return row.a || row.b ? "" : "(before)";
  const ComparedDeed& deed = comparison.deeds[*row.deed];
  return (a.seats.size() > 1 ? printable(a.seats[deed.seat]) + "/" : "") + deed.words;
}

std::string difference_words(const AnswerRow& row) {
  const auto difference = row.difference();
  std::string text = difference ? signed_ms(*difference) : "";
  if (row.kind == AnswerKind::kAlike) return text;
  const bool timed = row.kind == AnswerKind::kEarlier || row.kind == AnswerKind::kLater;
  return timed ? text + " " + std::string(name_of(row.kind)) : std::string(name_of(row.kind));
}

std::string counts_words(const Comparison& comparison) {
  std::string text = counted(static_cast<std::int64_t>(comparison.rows.size()), "answer");
  for (int i = 0; i < 6; ++i)
    if (comparison.counts[i] > 0)
      text += fmt::format(", {} {}", comparison.counts[i], name_of(static_cast<AnswerKind>(i)));
  if (comparison.median)
    text += fmt::format("; difference {} in the middle, {} at worst", signed_ms(*comparison.median),
                        signed_ms(*comparison.worst));
  return text;
}

std::string head_words(const ComparedFiles& files) {
  return fmt::format("tolerance {} for times, none for numbers", write_duration(files.tolerance));
}

Json json_of(const AnswerRow& row, const Comparison& comparison, const Performance& a) {
  const ShownOutput& output = a.outputs[row.output];
  const auto or_null = [](const auto& value) { return value ? Json(*value) : Json(); };
  const auto ns_or_null = [](const auto& value) { return value ? Json(value->ns) : Json(); };
  return {{"kind", name_of(row.kind)},
          {"time_ns", row.time.ns},
          {"hand", row.deed ? Json(comparison.deeds[*row.deed].words) : Json()},
          {"seat", a.seats[output.seat]},
          {"output", output.name},
          {"a_number", or_null(row.number_a)},
          {"b_number", or_null(row.number_b)},
          {"a_latency_ns", ns_or_null(row.a)},
          {"b_latency_ns", ns_or_null(row.b)},
          {"difference_ns", ns_or_null(row.difference())}};
}

Json json_of(const ComparedFile& file, const Named& a) {
  if (!file.comparison) return {{"file", file.b.name}, {"why_not", file.why_not}};
  const Comparison& comparison = *file.comparison;
  Json rows = Json::array();
  for (const AnswerRow& row : comparison.rows)
    rows.push_back(json_of(row, comparison, a.performance));
  Json counts;
  for (int i = 0; i < 6; ++i)
    counts[std::string(name_of(static_cast<AnswerKind>(i)))] = comparison.counts[i];
  const auto ns_or_null = [](const auto& value) { return value ? Json(value->ns) : Json(); };
  return {{"file", file.b.name},
          {"same", comparison.unlike() == 0},
          {"a_zero_ns", comparison.zero_a.ns},
          {"b_zero_ns", comparison.zero_b.ns},
          {"hands", comparison.deeds.size()},
          {"counts", counts},
          {"median_difference_ns", ns_or_null(comparison.median)},
          {"worst_difference_ns", ns_or_null(comparison.worst)},
          {"first_difference",
           comparison.first ? Json(first_difference(comparison, a, file.b)) : Json()},
          {"remarks", comparison.remarks},
          {"answers", rows}};
}

}  // namespace

void put_worst_first(std::vector<ComparedFile>& others) {
  const auto badness = [](const ComparedFile& file) {
    if (!file.comparison) return std::pair<std::int64_t, std::int64_t>{INT64_MAX, 0};
    const auto& worst = file.comparison->worst;
    return std::pair<std::int64_t, std::int64_t>{file.comparison->unlike(),
                                                 worst ? std::abs(worst->ns) : 0};
  };
  std::stable_sort(others.begin(), others.end(), [&](const ComparedFile& x, const ComparedFile& y) {
    return badness(x) > badness(y);
  });
}

std::string answers_text(const ComparedFiles& files) {
  const ComparedFile& other = files.others.front();
  const Comparison& comparison = *other.comparison;
  const Performance& a = files.a.performance;
  std::string text = fmt::format(
      "time zero at {} in {} and at {} in {}; {}\n\n", seconds_text(comparison.zero_a - Instant{}),
      files.a.name, seconds_text(comparison.zero_b - Instant{}), other.b.name, head_words(files));
  Table table({"time", "hand", "answer", files.a.name, other.b.name, "difference"},
              {true, false, false, true, true, false});
  std::optional<std::size_t> said;
  for (std::size_t i = 0; i < std::min(comparison.rows.size(), kRowsMax); ++i) {
    const AnswerRow& row = comparison.rows[i];
    const bool again = row.deed && row.deed == said;
    said = row.deed;
    table.add({seconds_text(row.time), again ? "" : deed_words(row, comparison, a),
               answer_words(row, a), ms_text(row.a), ms_text(row.b), difference_words(row)});
  }
  text += table.text();
  if (comparison.rows.size() > kRowsMax)
    text += fmt::format("  and {} more; --json has them all\n", comparison.rows.size() - kRowsMax);
  text += "\n";
  for (const std::string& remark : comparison.remarks) text += remark + "\n";
  if (comparison.first)
    text += "first difference: " + first_difference(comparison, files.a, other.b) + "\n";
  return text + fmt::format("{}, {}\n",
                            counted(static_cast<std::int64_t>(comparison.deeds.size()), "hand"),
                            counts_words(comparison));
}

std::string summary_text(const ComparedFiles& files) {
  std::string text =
      fmt::format("against {}, worst first; {}\n\n", files.a.name, head_words(files));
  Table table({"recording", "answers", "alike", "earlier", "later", "missing", "extra", "other",
               "median", "worst"},
              {false, true, true, true, true, true, true, true, true, true});
  std::string first;
  for (const ComparedFile& file : files.others) {
    if (!file.comparison) {
      table.add({file.b.name, "-"});
      first += file.b.name + ": cannot be compared: " + file.why_not + "\n";
      continue;
    }
    const Comparison& comparison = *file.comparison;
    std::vector<std::string> cells{file.b.name, std::to_string(comparison.rows.size())};
    for (const std::int64_t count : comparison.counts) cells.push_back(std::to_string(count));
    cells.push_back(comparison.median ? signed_ms(*comparison.median) : "-");
    cells.push_back(comparison.worst ? signed_ms(*comparison.worst) : "-");
    table.add(std::move(cells));
    for (const std::string& remark : comparison.remarks)
      first += file.b.name + ": " + remark + "\n";
    if (comparison.first)
      first += file.b.name + ": " + first_difference(comparison, files.a, file.b) + "\n";
  }
  return text + table.text() + (first.empty() ? "" : "\n") + first;
}

std::string json_text(const ComparedFiles& files) {
  Json others = Json::array();
  for (const ComparedFile& file : files.others) others.push_back(json_of(file, files.a));
  const Json all = {
      {"against", files.a.name}, {"tolerance_ns", files.tolerance.ns}, {"recordings", others}};
  return all.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace understudy
