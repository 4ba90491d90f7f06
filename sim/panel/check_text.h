// A check report as text for people: aligned tables, remarks, and the trade's caution.
#pragma once

#include <string>

#include "sim/panel/check_report.h"

namespace understudy {

// At most 100 columns where names allow; ends in a line feed.
std::string written(const CheckReport& report);

// The caution that stands under it.
std::string_view check_caution();

}  // namespace understudy
