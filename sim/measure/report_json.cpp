// One function for each kind of figures; CSV goes over the finished JSON.
#include "sim/measure/report_json.h"

#include <nlohmann/json.hpp>
#include <optional>

#include "sim/measure/report_words.h"

namespace understudy {
namespace {

using Json = nlohmann::ordered_json;

Json json_of(const std::optional<Duration>& time) {
  return time ? Json(time->ns) : Json(nullptr);
}
Json json_of(const std::optional<Instant>& time) {
  return time ? Json(time->ns) : Json(nullptr);
}
template <class Number>
Json json_of(const std::optional<Number>& number) {
  return number ? Json(*number) : Json(nullptr);
}

Json json_of(const ContactFigures& figures) {
  return {{"presses", figures.presses},
          {"press_ns_least", json_of(figures.press_least)},
          {"press_ns_median", json_of(figures.press_median)},
          {"press_ns_most", json_of(figures.press_most)},
          {"bounces", figures.bounces},
          {"bounce_ns_median", json_of(figures.bounce_median)},
          {"bounce_ns_most", json_of(figures.bounce_most)},
          {"changes_most", figures.changes_most},
          {"down_at_end", figures.down_at_end}};
}

Json json_of(const RestFigures& figures) {
  return {{"numbers", figures.numbers},
          {"length_ns", figures.length.ns},
          {"rms_lsb", json_of(figures.rms)},
          {"peak_to_peak_lsb", json_of(figures.peak_to_peak)},
          {"effective_bits", json_of(figures.effective_bits)},
          {"drift_lsb_a_minute", json_of(figures.drift_per_minute)},
          {"drift_error_lsb_a_minute", json_of(figures.drift_error)}};
}

Json json_of(const std::vector<Jump>& jumps) {
  Json list = Json::array();
  for (const Jump& jump : jumps)
    list.push_back({{"at_ns", jump.at.ns},
                    {"length_ns", jump.length.ns},
                    {"from", jump.from},
                    {"to", jump.to}});
  return list;
}

Json json_of(const FieldFigures& field) {
  const ControlFigures& figures = field.figures;
  Json control = {{"name", field.name},
                  {"kind", field.kind},
                  {"verdict", std::string(word_of(figures.verdict))},
                  {"promised", Json::array({field.promised.low, field.promised.high})},
                  {"least", json_of(figures.least)},
                  {"most", json_of(figures.most)},
                  {"span_share", json_of(figures.span_share)},
                  {"out_of_range", figures.out_of_range},
                  {"numbers", figures.numbers},
                  {"changes", figures.changes},
                  {"hand_moves", figures.hand_moves},
                  {"unfollowed", figures.unfollowed},
                  {"stuck_since_ns", json_of(figures.stuck_since)},
                  {"stuck_at", json_of(figures.stuck_at)}};
  if (field.promised.way == FieldWay::kSlides) {
    control["rest"] = json_of(figures.rest);
    control["jumps"] = figures.jumps;
    control["first_jumps"] = json_of(figures.first_jumps);
  }
  if (field.promised.way == FieldWay::kContact) control["contact"] = json_of(figures.contact);
  return control;
}

Json json_of(const DirectionFigures& figures) {
  const auto told = [&](std::int64_t count) { return figures.told ? Json(count) : Json(nullptr); };
  return {{"bytes", figures.bytes},
          {"lines", figures.lines},
          {"read", told(figures.read)},
          {"said", told(figures.said)},
          {"unknown", told(figures.unknown)},
          {"malformed", told(figures.malformed)},
          {"check_errors", told(figures.check_errors)},
          {"torn", figures.torn},
          {"too_long", figures.too_long},
          {"stray", figures.stray},
          {"first_wrong", figures.first_wrong},
          {"first_wrong_why", figures.first_wrong_why},
          {"duplicates", json_of(figures.duplicates)},
          {"missing", json_of(figures.missing)},
          {"redundant", figures.redundant},
          {"redundant_share", json_of(redundant_share(figures))},
          {"redundant_bytes", figures.redundant_bytes},
          {"first_at_ns", json_of(figures.first_at)},
          {"last_at_ns", json_of(figures.last_at)},
          {"lines_a_second_median", json_of(figures.rate_median)},
          {"lines_a_second_least", json_of(figures.rate_least)},
          {"lines_a_second_most", json_of(figures.rate_most)},
          {"gap_ns_median", json_of(figures.gap_median)},
          {"gap_ns_99", json_of(figures.gap_99)},
          {"gap_ns_longest", json_of(figures.gap_longest)},
          {"gap_longest_at_ns", json_of(figures.gap_longest_at)},
          {"gap_bound_ns", figures.gap_bound.ns},
          {"gaps_over_bound", figures.gaps_over_bound},
          {"exact", figures.exact},
          {"baud", json_of(figures.baud)},
          {"bits_a_byte", figures.bits_per_byte},
          {"wire_share", json_of(figures.wire_share)},
          {"wire_share_busiest", json_of(figures.wire_share_busiest)}};
}

Json json_of(const LatencyFigures& figures) {
  return {{"count", figures.count},
          {"ns_median", json_of(figures.median)},
          {"ns_95", json_of(figures.percentile_95)},
          {"ns_worst", json_of(figures.worst)}};
}

Json json_of(const std::vector<AnswerFigures>& answers) {
  Json list = Json::array();
  for (const AnswerFigures& answer : answers)
    list.push_back({{"name", answer.when + ": " + answer.expect},
                    {"when", answer.when},
                    {"expect", answer.expect},
                    {"within_ns", answer.within.ns},
                    {"measurable", answer.measurable},
                    {"presses", answer.presses},
                    {"latency", json_of(answer.latency)},
                    {"late", answer.late},
                    {"missed", answer.missed},
                    {"already", answer.already}});
  return list;
}

Json json_of(const std::vector<PairFigures>& pairs) {
  Json list = Json::array();
  for (const PairFigures& pair : pairs)
    list.push_back({{"name", pair.when + ": " + pair.expect},
                    {"when", pair.when},
                    {"expect", pair.expect},
                    {"presses", pair.presses},
                    {"latency", json_of(pair.latency)},
                    {"chance", pair.chance},
                    {"written", pair.written},
                    {"within_ns", pair.within.ns}});
  return list;
}

Json json_of(const std::vector<LampReport>& lamps) {
  Json list = Json::array();
  for (const LampReport& lamp : lamps)
    list.push_back({{"name", lamp.name},
                    {"changes", lamp.figures.changes},
                    {"flashes_most", lamp.figures.flashes_most},
                    {"worst_at_ns", json_of(lamp.figures.worst_at)},
                    {"too_many", lamp.figures.too_many},
                    {"caution", lamp.figures.cautions()}});
  return list;
}

Json json_of(const std::string& name, const SeatFigures& figures) {
  Json fields = Json::array();
  for (const FieldFigures& field : figures.fields) fields.push_back(json_of(field));
  Json seat = {{"name", name},
               {"panel", figures.has_panel ? Json(figures.panel) : Json(nullptr)},
               {"opened", figures.opened},
               {"anew_since_ns", json_of(figures.anew_since)},
               {"controls", fields},
               {"to_game", json_of(figures.to_game)},
               {"to_panel", json_of(figures.to_panel)},
               {"answers", json_of(figures.answers)},
               {"shown", json_of(figures.shown)},
               {"pairs", json_of(figures.pairs)},
               {"proposed", proposed_answers(figures.pairs)},
               {"lamps", json_of(figures.lamps)}};
  return seat;
}

std::string csv_word(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

struct CsvRow {
  std::string recording;
  std::string seat;
  std::string about;
  std::string name;
};

std::string csv_value(const Json& value) {
  return value.is_string() ? value.get<std::string>() : value.dump();
}

// Every number, truth and word below `value`; keys of objects are joined by dots.
void add_rows(const CsvRow& row, const std::string& figure, const Json& value, std::string& csv) {
  if (value.is_object()) {
    for (const auto& [key, inner] : value.items())
      if (key != "name") add_rows(row, figure.empty() ? key : figure + "." + key, inner, csv);
  } else if (value.is_array()) {
    for (std::size_t i = 0; i < value.size(); ++i)
      add_rows(row, figure + "." + std::to_string(i + 1), value[i], csv);
  } else if (!value.is_null()) {
    for (const std::string* word : {&row.recording, &row.seat, &row.about, &row.name, &figure})
      csv += csv_word(*word) + ",";
    csv += csv_word(csv_value(value)) + "\n";
  }
}

void add_seat(const std::string& recording, const Json& seat, std::string& csv) {
  CsvRow row = {recording, seat["name"].get<std::string>(), "seat", ""};
  for (const auto& [key, value] : seat.items()) {
    if (key == "name") continue;
    row.about = value.is_structured() ? key : "seat";
    row.name.clear();
    if (!value.is_array()) {
      add_rows(row, value.is_object() ? "" : key, value, csv);
      continue;
    }
    for (const Json& one : value) {
      row.name = one["name"].get<std::string>();
      add_rows(row, "", one, csv);
    }
  }
}

}  // namespace

Json json_of(const Measurement& measured) {
  Json seats = Json::array();
  for (const MeasuredSeat& seat : measured.seats)
    seats.push_back(json_of(seat.name, seat.statistics.figures(measured.last_at)));
  Json marks = Json::array();
  for (const MeasuredMark& mark : measured.marks)
    marks.push_back({{"at_ns", mark.at.ns}, {"text", mark.text}});
  return {{"file", measured.file},
          {"start", measured.start},
          {"program", measured.program},
          {"first_at_ns", measured.first_at.ns},
          {"length_ns", measured.length().ns},
          {"events", measured.events},
          {"bad_lines", measured.bad_lines},
          {"problems", measured.problems},
          {"passed_over", measured.passed_over},
          {"torn", measured.torn},
          {"complete", measured.complete},
          {"ended", measured.ended},
          {"slipped_ns", measured.slipped.ns},
          {"marks", marks},
          {"seats", seats}};
}

std::string measurements_json(std::span<const Measurement> measured) {
  Json all = Json::array();
  for (const Measurement& one : measured) all.push_back(json_of(one));
  const Json document = {{"format", "1.0"}, {"recordings", all}};
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string measurements_csv(std::span<const Measurement> measured) {
  std::string csv = "recording,seat,about,name,figure,value\n";
  for (const Measurement& one : measured) {
    const Json json = json_of(one);
    CsvRow row = {one.file, "", "recording", ""};
    for (const auto& [key, value] : json.items())
      if (!value.is_structured()) add_rows(row, key, value, csv);
    for (const Json& seat : json["seats"]) add_seat(one.file, seat, csv);
  }
  return csv;
}

}  // namespace understudy
