// Hands libFuzzer's inputs to fuzz_one; built instead of our own driver with UNDERSTUDY_LIBFUZZER.
#include <cstddef>

#include "tests/fuzz/fuzz_one.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  understudy::fuzz_one({data, size});
  return 0;
}
