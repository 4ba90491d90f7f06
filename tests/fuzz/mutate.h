// Makes the inputs of a fuzz run: input n is the same for equal corpus, seed and n, whatever else
// ran before, so that one number repeats a failure.
#pragma once

#include <cstdint>
#include <vector>

namespace understudy {

using FuzzInput = std::vector<std::uint8_t>;

// The longest input that mutating makes; a corpus file may be longer.
inline constexpr std::size_t kFuzzInputBytesMax = 4096;

struct FuzzCase {
  std::uint64_t seed = 0;
  std::int64_t number = 0;  // 0, 1, 2 ... ; the first corpus.size() are the corpus as it is
};

// REQUIRES: !corpus.empty()
FuzzInput fuzz_input(const std::vector<FuzzInput>& corpus, const FuzzCase& wanted);

}  // namespace understudy
