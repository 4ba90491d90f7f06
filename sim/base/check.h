// Checks for our own bugs: they stay on in release builds and stop the program with the words of
// the broken rule. What the outside world does wrong is never checked here: that is a Result.
#pragma once

namespace understudy {

// Writes "file:line: rule broken: CONDITION: WHY" to standard error and aborts.
[[noreturn]] void check_failed(const char* file, int line, const char* condition, const char* why);

}  // namespace understudy

#define CHECK(condition, why)                                                       \
  do {                                                                              \
    if (!(condition)) ::understudy::check_failed(__FILE__, __LINE__, #condition, (why)); \
  } while (false)
