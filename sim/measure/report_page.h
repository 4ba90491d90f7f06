// Measurements as one page of HTML that needs nothing else: tables, charts that can be zoomed and
// read, light and dark, for the screen and for paper. It loads nothing from anywhere.
#pragma once

#include <cstddef>
#include <span>
#include <string>

#include "sim/measure/measurement.h"

namespace understudy {

// Of MeasureOptions::trace_spans_max for a page of so many recordings, so that it stays small
// enough to be sent. REQUIRES: recordings > 0
std::size_t page_spans_max(std::size_t recordings);

// The page, in UTF-8. Charts need traces (MeasureOptions::trace_spans_max).
std::string measurements_page(std::span<const Measurement> measured);

}  // namespace understudy
