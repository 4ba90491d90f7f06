// The calendar's date and time as text, for the heads of files. No timing is taken from it.
#pragma once

#include <string>

namespace understudy {

// Now, in UTC, by ISO 8601: "2026-03-01T12:00:00Z".
std::string calendar_now();

}  // namespace understudy
