// Rows are found by the name of what they are about, so that files of different panels compare too.
#include "sim/measure/comparison.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <optional>

#include "sim/measure/report_words.h"

namespace understudy {
namespace {

using Seats = std::vector<std::optional<SeatFigures>>;  // one for each recording
using Value = std::function<std::string(const SeatFigures&)>;

constexpr const char* kNothing = "-";

class Rows {
 public:
  explicit Rows(const Seats& seats) : seats_(seats) {}
  void add(const std::string& heading, const std::string& figure, const Value& value) {
    ComparisonRow row = {heading, figure, {}};
    for (const auto& seat : seats_) row.values.push_back(seat ? value(*seat) : kNothing);
    const bool any = std::any_of(row.values.begin(), row.values.end(),
                                 [](const std::string& text) { return text != kNothing; });
    if (any) rows_.push_back(std::move(row));
  }
  std::vector<ComparisonRow> take() { return std::move(rows_); }

 private:
  const Seats& seats_;
  std::vector<ComparisonRow> rows_;
};

std::string count(std::int64_t number) {
  return std::to_string(number);
}
std::string count(const std::optional<std::int64_t>& number) {
  return number ? std::to_string(*number) : kNothing;
}

void add_direction(Rows& rows, const std::string& heading,
                   DirectionFigures SeatFigures::*direction) {
  const auto add = [&](const char* figure, auto of) {
    rows.add(heading, figure, [&](const SeatFigures& seat) { return of(seat.*direction); });
  };
  using Figures = const DirectionFigures&;
  add("lines", [](Figures f) { return count(f.lines); });
  add("lines/s, median", [](Figures f) { return count(f.rate_median); });
  add("longest gap", [](Figures f) { return time_in_words(f.gap_longest); });
  add("gaps above the bound", [](Figures f) { return count(f.gaps_over_bound); });
  add("wrong lines", [](Figures f) { return count(wrong_lines(f)); });
  add("lines that change nothing", [](Figures f) { return percent_in_words(redundant_share(f)); });
  add("share of the wire", [](Figures f) { return percent_in_words(f.wire_share); });
}

// The first seat's names, then those that only others have.
template <class Name>
std::vector<std::string> names_in(const Seats& seats, const Name& names_of) {
  std::vector<std::string> all;
  for (const auto& seat : seats) {
    if (!seat) continue;
    for (const std::string& name : names_of(*seat))
      if (std::find(all.begin(), all.end(), name) == all.end()) all.push_back(name);
  }
  return all;
}

void add_controls(Rows& rows, const Seats& seats) {
  const auto names = names_in(seats, [](const SeatFigures& seat) {
    std::vector<std::string> all;
    for (const FieldFigures& field : seat.fields) all.push_back(field.name);
    return all;
  });
  for (const std::string& name : names) {
    const auto add = [&](const char* figure, auto of) {
      rows.add(name, figure, [&](const SeatFigures& seat) -> std::string {
        const auto field = std::find_if(seat.fields.begin(), seat.fields.end(),
                                        [&](const FieldFigures& one) { return one.name == name; });
        return field == seat.fields.end() ? kNothing : of(*field);
      });
    };
    using Field = const FieldFigures&;
    add("verdict", [](Field f) { return std::string(word_of(f.figures.verdict)); });
    add("span", [](Field f) {
      return f.promised.way == FieldWay::kSlides ? percent_in_words(f.figures.span_share)
                                                 : kNothing;
    });
    add("noise, RMS LSB", [](Field f) { return number_in_words(f.figures.rest.rms, 2); });
    add("effective bits",
        [](Field f) { return number_in_words(f.figures.rest.effective_bits, 2); });
    add("jumps", [](Field f) {
      return f.promised.way == FieldWay::kSlides ? count(f.figures.jumps) : kNothing;
    });
    add("presses", [](Field f) {
      return f.promised.way == FieldWay::kContact ? count(f.figures.contact.presses) : kNothing;
    });
    add("bounces", [](Field f) {
      return f.promised.way == FieldWay::kContact ? count(f.figures.contact.bounces) : kNothing;
    });
  }
}

void add_answers(Rows& rows, const Seats& seats) {
  const auto names = names_in(seats, [](const SeatFigures& seat) {
    std::vector<std::string> all;
    for (const AnswerFigures& answer : seat.answers)
      all.push_back(answer.when + ": " + answer.expect);
    return all;
  });
  for (const std::string& name : names) {
    const auto add = [&](const char* figure, auto of) {
      rows.add(name, figure, [&](const SeatFigures& seat) -> std::string {
        for (const AnswerFigures& answer : seat.answers)
          if (answer.when + ": " + answer.expect == name) return of(answer);
        return kNothing;
      });
    };
    using Answer = const AnswerFigures&;
    add("presses", [](Answer a) { return count(a.presses); });
    add("latency, median", [](Answer a) { return time_in_words(a.latency.median); });
    add("latency, 95th", [](Answer a) { return time_in_words(a.latency.percentile_95); });
    add("latency, worst", [](Answer a) { return time_in_words(a.latency.worst); });
    add("late or missed", [](Answer a) { return count(a.late + a.missed); });
  }
}

void add_lamps(Rows& rows, const Seats& seats) {
  const auto names = names_in(seats, [](const SeatFigures& seat) {
    std::vector<std::string> all;
    for (const LampReport& lamp : seat.lamps) all.push_back(lamp.name);
    return all;
  });
  for (const std::string& name : names)
    rows.add("lamps", name + ", most flashes in a second",
             [&](const SeatFigures& seat) -> std::string {
               for (const LampReport& lamp : seat.lamps)
                 if (lamp.name == name) return count(lamp.figures.flashes_most);
               return kNothing;
             });
}

}  // namespace

std::string short_name(const std::string& file) {
  const std::size_t folder = file.find_last_of("/\\");
  std::string name = folder == std::string::npos ? file : file.substr(folder + 1);
  for (const std::string_view ending : {".zst", ".jsonl"})
    if (name.size() > ending.size() && name.ends_with(ending))
      name.resize(name.size() - ending.size());
  return name;
}

std::vector<Comparison> compared(std::span<const Measurement> measured) {
  std::vector<Comparison> all;
  if (measured.empty()) return all;
  for (std::size_t place = 0; place < measured.front().seats.size(); ++place) {
    const std::string& name = measured.front().seats[place].name;
    Seats seats;
    for (const Measurement& one : measured) {
      const auto named = std::find_if(one.seats.begin(), one.seats.end(),
                                      [&](const MeasuredSeat& seat) { return seat.name == name; });
      const MeasuredSeat* seat = named != one.seats.end() ? &*named : nullptr;
      if (seat == nullptr && place == 0 && !one.seats.empty()) seat = &one.seats.front();
      seats.push_back(seat == nullptr ? std::nullopt
                                      : std::optional(seat->statistics.figures(one.last_at)));
    }
    Rows rows(seats);
    add_direction(rows, "to the game", &SeatFigures::to_game);
    add_direction(rows, "to the panel", &SeatFigures::to_panel);
    add_controls(rows, seats);
    add_answers(rows, seats);
    add_lamps(rows, seats);
    all.push_back({name, rows.take()});
  }
  return all;
}

}  // namespace understudy
