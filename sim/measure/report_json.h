// Measurements as JSON, and the same figures as CSV. docs/measure.md lists the keys; a key that
// stands there keeps its name and meaning.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <span>
#include <string>

#include "sim/measure/measurement.h"

namespace understudy {

// What one recording came to.
nlohmann::ordered_json json_of(const Measurement& measured);

// {"format": "1.0", "recordings": [...]}, indented, with a line feed at the end.
std::string measurements_json(std::span<const Measurement> measured);

// A heading, then one row for each figure of every recording: recording, seat, about, name, figure,
// value. Figures that are not known have no row. RFC 4180, but lines end with a line feed alone.
std::string measurements_csv(std::span<const Measurement> measured);

}  // namespace understudy
