// Measuring recordings of any bytes ends with figures or a refusal in words, never with a crash;
// what is counted adds up, and every way of telling it can be written.
#include "tests/fuzz/fuzz_one.h"

#include <nlohmann/json.hpp>
#include <string>

#include "sim/base/check.h"
#include "sim/measure/measurement.h"
#include "sim/measure/report_json.h"
#include "sim/measure/report_page.h"
#include "sim/measure/report_text.h"

namespace understudy {
namespace {

void check_direction(const DirectionFigures& f) {
  const std::int64_t wrong =
      f.unknown + f.malformed + f.check_errors + f.torn + f.too_long + f.stray;
  CHECK(!f.told || f.read + f.said + wrong == f.lines, "lines were counted twice or not at all");
  CHECK(f.redundant <= f.lines, "more lines repeat than there are");
  CHECK(!f.gap_longest || *f.gap_median <= *f.gap_longest, "a median above the longest");
}

}  // namespace

void fuzz_one(std::span<const std::uint8_t> input) {
  const auto measured = measure_source(memory_source(std::string(input.begin(), input.end())),
                                       "fuzz", {.trace_spans_max = 64});
  if (!measured.ok()) {
    CHECK(!measured.error().text.empty(), "a refusal without words");
    return;
  }
  const Measurement& one = measured.value();
  for (const MeasuredSeat& seat : one.seats) {
    const SeatFigures figures = seat.statistics.figures(one.last_at);
    check_direction(figures.to_game);
    check_direction(figures.to_panel);
  }
  CHECK(one.bad_lines == 0 || !one.problems.empty(), "a bad line without words");
  const std::span<const Measurement> all(&one, 1);
  CHECK(nlohmann::json::accept(measurements_json(all)), "what was written is no JSON");
  CHECK(!measurements_csv(all).empty() && !measurement_text(one).empty(), "nothing was told");
  CHECK(measurements_page(all).ends_with("</html>\n"), "the page has no end");
}

}  // namespace understudy
