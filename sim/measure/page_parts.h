// Pieces that the page is put together from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/measure/measurement.h"

namespace understudy {

// The style sheet and the script, as they stand in the page.
extern const std::string_view kPageStyle;
extern const std::string_view kPageScript;

// Text as it may stand in HTML; what is no UTF-8 is made printable.
std::string in_html(std::string_view text);

// A table: headings, then rows; the first column leads. `classes` as in the style sheet.
struct PageTable {
  std::vector<std::string> headings;
  std::vector<std::vector<std::string>> rows;  // HTML already
  std::string classes;
};
std::string html_of(const PageTable& table);

// The charts' numbers of a seat, as JSON for kPageScript:
//   {"begin": ns, "end": ns, "marks": [[ns, text]...], "charts": [{"name", "unit", "ink", "low",
//   "high", "kind", "begin", "span", "values"}...]}
// values: one for each span: null where none came, a number, or [least, most].
std::string chart_data(const Measurement& measured, const MeasuredSeat& seat,
                       const SeatFigures& figures);

}  // namespace understudy
