// The one place where a broken rule of our own ends the program.
#include "sim/base/check.h"

#include <cstdio>
#include <cstdlib>

namespace understudy {

void check_failed(const char* file, int line, const char* condition, const char* why) {
  std::fprintf(stderr, "%s:%d: rule broken: %s: %s\n", file, line, condition, why);
  std::abort();
}

}  // namespace understudy
