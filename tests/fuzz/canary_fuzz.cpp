// Must fail: shows that a fuzz run reaches what it was not given and notices what breaks. The
// corpus holds "canary" in small letters; one changed letter is a broken promise.
#include <algorithm>

#include "sim/base/check.h"
#include "tests/fuzz/fuzz_one.h"

namespace understudy {

void fuzz_one(std::span<const std::uint8_t> input) {
  CHECK(std::find(input.begin(), input.end(), std::uint8_t{'C'}) == input.end(),
        "the canary met a capital C, as it should");
}

}  // namespace understudy
