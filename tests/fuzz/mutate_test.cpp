// The maker of fuzz inputs: repeatable, reaching, bounded.
#include "tests/fuzz/mutate.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

namespace understudy {
namespace {

FuzzInput bytes(const char* text) {
  const std::string_view view(text);
  return {view.begin(), view.end()};
}

const std::vector<FuzzInput> kCorpus{bytes("512,300,1,0,0\n"), bytes("")};

TEST(FuzzInputs, TheCorpusItselfComesFirst) {
  EXPECT_EQ(fuzz_input(kCorpus, {.seed = 4, .number = 0}), kCorpus[0]);
  EXPECT_EQ(fuzz_input(kCorpus, {.seed = 4, .number = 1}), kCorpus[1]);
}

TEST(FuzzInputs, OneSeedAndNumberGiveOneInput) {
  for (std::int64_t number = 2; number < 500; ++number) {
    EXPECT_EQ(fuzz_input(kCorpus, {.seed = 4, .number = number}),
              fuzz_input(kCorpus, {.seed = 4, .number = number}));
  }
}

TEST(FuzzInputs, OtherSeedsAndNumbersGiveOtherInputs) {
  std::set<std::string> seen;
  for (std::uint64_t seed = 0; seed < 2; ++seed) {
    for (std::int64_t number = 2; number < 1002; ++number) {
      const FuzzInput input = fuzz_input(kCorpus, {.seed = seed, .number = number});
      seen.emplace(input.begin(), input.end());
    }
  }
  EXPECT_GT(seen.size(), 1500U);  // of 2000; short corpus entries repeat
}

TEST(FuzzInputs, EveryByteValueIsReached) {
  std::set<std::uint8_t> seen;
  for (std::int64_t number = 2; number < 20'000; ++number) {
    const FuzzInput input = fuzz_input(kCorpus, {.seed = 1, .number = number});
    seen.insert(input.begin(), input.end());
  }
  EXPECT_EQ(seen.size(), 256U);
}

TEST(FuzzInputs, MutatingStaysWithinTheLongest) {
  const std::vector<FuzzInput> corpus{FuzzInput(kFuzzInputBytesMax, 'x')};
  for (std::int64_t number = 1; number < 500; ++number) {
    EXPECT_LE(fuzz_input(corpus, {.seed = 1, .number = number}).size(), kFuzzInputBytesMax);
  }
}

}  // namespace
}  // namespace understudy
