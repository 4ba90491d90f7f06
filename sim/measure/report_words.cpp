// Numbers rounded for people, and sentences about what matters.
#include "sim/measure/report_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace understudy {
namespace {

constexpr const char* kNothing = "-";

// Three digits that count, but whole numbers whole.
std::string three_digits(double value) {
  const double size = std::abs(value);
  return fmt::format("{:.{}f}", value, size >= 99.95 ? 0 : size >= 9.995 ? 1 : 2);
}

}  // namespace

std::string_view word_of(ControlVerdict verdict) {
  switch (verdict) {
    case ControlVerdict::kUnseen:
      return "unseen";
    case ControlVerdict::kUsed:
      return "used";
    case ControlVerdict::kNeverUsed:
      return "never used";
    case ControlVerdict::kStuck:
      return "stuck";
    case ControlVerdict::kHeld:
      return "held";
  }
  return "";
}

std::string verdict_in_words(const FieldFigures& field) {
  const ControlFigures& figures = field.figures;
  switch (figures.verdict) {
    case ControlVerdict::kUnseen:
      return "no line carried it";
    case ControlVerdict::kStuck:
      return fmt::format("stuck at {} since {}: movements by hand changed nothing",
                         figures.stuck_at.value_or(0), moment_in_words(figures.stuck_since));
    case ControlVerdict::kHeld:
      return "down in every line: held, jammed, or wired the other way round";
    case ControlVerdict::kUsed:
    case ControlVerdict::kNeverUsed:
      return std::string(word_of(figures.verdict));
  }
  return "";
}

std::optional<double> redundant_share(const DirectionFigures& figures) {
  const std::int64_t of = figures.told ? figures.read : figures.lines;
  if (of == 0) return std::nullopt;
  return static_cast<double>(figures.redundant) / static_cast<double>(of);
}

std::int64_t wrong_lines(const DirectionFigures& figures) {
  return figures.unknown + figures.malformed + figures.check_errors + figures.torn +
         figures.too_long + figures.stray;
}

std::string time_in_words(std::optional<Duration> time) {
  if (!time) return kNothing;
  const auto ns = static_cast<double>(time->ns);
  if (time->ns == 0) return "0";
  if (ns < 999.5e3) return three_digits(ns / 1e3) + " us";
  if (ns < 999.5e6) return three_digits(ns / 1e6) + " ms";
  if (ns < 600e9) return three_digits(ns / 1e9) + " s";
  if (ns < 7200e9) return three_digits(ns / 60e9) + " min";
  return three_digits(ns / 3600e9) + " h";
}

std::string moment_in_words(std::optional<Instant> at) {
  if (!at) return kNothing;
  return fmt::format("{:.3f} s", static_cast<double>(at->ns) / 1e9);
}

std::string percent_in_words(std::optional<double> share) {
  return share ? fmt::format("{:.1f} %", *share * 100) : kNothing;
}

std::string number_in_words(std::optional<double> number, int decimals) {
  return number ? fmt::format("{:.{}f}", *number, decimals) : kNothing;
}

std::string drift_in_words(const RestFigures& figures) {
  if (!figures.drift_per_minute || !figures.drift_error) return kNothing;
  return fmt::format("{:+.2f} ({:.2f})", *figures.drift_per_minute, *figures.drift_error);
}

std::vector<std::string> flash_cautions(const SeatFigures& figures) {
  std::vector<std::string> cautions;
  for (const LampReport& lamp : figures.lamps) {
    if (!lamp.figures.cautions()) continue;
    cautions.push_back(fmt::format(
        "{} flashes up to {} times in one second (before {}, {}); more than {} can be dangerous to "
        "look at",
        lamp.name, lamp.figures.flashes_most, moment_in_words(lamp.figures.worst_at),
        lamp.figures.too_many == 1 ? "once" : fmt::format("{} times", lamp.figures.too_many),
        kFlashesAllowed));
  }
  return cautions;
}

std::vector<std::string> remarks_on(const Measurement& measured) {
  std::vector<std::string> remarks;
  if (measured.ended.empty())
    remarks.push_back(measured.torn ? "it was cut off in the middle of a line, which is left out"
                                    : "it was cut off: its end is missing");
  else if (!measured.complete)
    remarks.push_back("it broke off: " + measured.ended);
  if (measured.bad_lines > 0)
    remarks.push_back(fmt::format("{} lines of it were wrong and left out", measured.bad_lines));
  if (measured.passed_over > 0)
    remarks.push_back(
        fmt::format("{} events are of a newer format and were passed over", measured.passed_over));
  if (measured.slipped.ns > 0)
    remarks.push_back("the machine that recorded stood still for " +
                      time_in_words(measured.slipped) + " in all, which shows as gaps");
  return remarks;
}

}  // namespace understudy
