// Asks the system for the date.
#include "sim/app/calendar.h"

#include <ctime>

namespace understudy {

std::string calendar_now() {
  const std::time_t now = std::time(nullptr);
  std::tm parts{};
  gmtime_r(&now, &parts);
  char text[32];
  const std::size_t size = std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &parts);
  return {text, size};
}

}  // namespace understudy
