// Numbers for the charts: what slides, contacts, lines a second, latencies.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sim/measure/page_parts.h"

namespace understudy {
namespace {

using Json = nlohmann::ordered_json;

Json whole_or_not(float value) {
  const auto whole = static_cast<std::int64_t>(value);
  if (static_cast<float>(whole) == value) return whole;
  return static_cast<double>(static_cast<std::int64_t>(value * 1'000)) / 1'000;
}

Json values_of(const Trace& trace) {
  Json values = Json::array();
  for (const TraceSpan& span : trace.spans()) {
    if (span.count == 0)
      values.push_back(nullptr);
    else if (span.least == span.most)
      values.push_back(whole_or_not(span.least));
    else
      values.push_back(Json::array({whole_or_not(span.least), whole_or_not(span.most)}));
  }
  return values;
}

// Lines in each span, as a rate.
Json counts_of(const Trace& trace) {
  Json values = Json::array();
  for (const TraceSpan& span : trace.spans()) values.push_back(span.count);
  return values;
}

Json chart(const char* id, const Trace& trace, Json values, const char* kind) {
  return {{"id", id},
          {"kind", kind},
          {"begin", trace.begin().ns},
          {"span", trace.span_length().ns},
          {"values", std::move(values)}};
}

}  // namespace

std::string chart_data(const Measurement& measured, const MeasuredSeat& seat,
                       const SeatFigures& figures) {
  Json charts = Json::array();
  const auto& traces = seat.statistics.field_traces();
  for (std::size_t i = 0; i < std::min(traces.size(), figures.fields.size()); ++i) {
    const FieldFigures& field = figures.fields[i];
    Json one = chart(fmt::format("c{}", i).c_str(), traces[i], values_of(traces[i]), "level");
    one["low"] =
        std::min({field.promised.low, field.promised.high, field.figures.least.value_or(0)});
    one["high"] =
        std::max({field.promised.low, field.promised.high, field.figures.most.value_or(0)});
    charts.push_back(std::move(one));
  }
  for (const Direction direction : {Direction::kToGame, Direction::kToPanel}) {
    const Trace& trace = seat.statistics.line_trace(direction);
    const bool game = direction == Direction::kToGame;
    charts.push_back(chart(game ? "g" : "p", trace, counts_of(trace), "rate"));
  }
  for (std::size_t i = 0; i < figures.answers.size(); ++i) {
    const Trace& trace = seat.statistics.latency_trace(i);
    Json one = chart(fmt::format("a{}", i).c_str(), trace, values_of(trace), "points");
    one["within"] = static_cast<double>(figures.answers[i].within.ns) / 1e6;
    charts.push_back(std::move(one));
  }
  Json marks = Json::array();
  for (const MeasuredMark& mark : measured.marks)
    marks.push_back(Json::array({mark.at.ns, mark.text}));
  const Json all = {{"begin", measured.first_at.ns},
                    {"end", measured.last_at.ns},
                    {"marks", marks},
                    {"charts", charts}};
  // Inside a script element nothing may look like its end.
  const std::string text = all.dump(-1, ' ', false, Json::error_handler_t::replace);
  std::string safe;
  safe.reserve(text.size());
  for (const char c : text) safe += c == '<' ? std::string("\\u003c") : std::string(1, c);
  return safe;
}

}  // namespace understudy
