// Measurements as plain text that reads well in 100 columns.
#pragma once

#include <span>
#include <string>

#include "sim/measure/measurement.h"

namespace understudy {

// All that was measured of one recording.
std::string measurement_text(const Measurement& measured);

// Several beside each other: a row for each figure, a column for each recording, at most four
// recordings in one table.
std::string comparison_text(std::span<const Measurement> measured);

}  // namespace understudy
