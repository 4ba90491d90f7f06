// The one function that a fuzz target defines. Who calls it, and with what bytes, is the driver's
// affair: fuzz_driver.cpp (seeded, any compiler) or libfuzzer_entry.cpp (guided, clang++).
//
// To add a target `frob`: tests/fuzz/frob_fuzz.cpp defines fuzz_one, tests/fuzz/CMakeLists.txt gets
//   understudy_fuzz(NAME frob SOURCES frob_fuzz.cpp DEPENDS ...)
// and tests/fuzz/corpus/frob/ holds at least one sound input (small: each is a starting point).
#pragma once

#include <cstdint>
#include <span>

namespace understudy {

// Feeds `input` to what is tested; any bytes may come. A broken promise is a CHECK
// (sim/base/check.h), so it ends the program: only that is seen as a failure.
void fuzz_one(std::span<const std::uint8_t> input);

}  // namespace understudy
