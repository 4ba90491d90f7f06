// Mutations of corpus inputs: bits, bytes, ranges, numbers, and splices of two inputs.
#include "tests/fuzz/mutate.h"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include "sim/base/check.h"
#include "sim/base/random.h"

namespace understudy {
namespace {

// Bytes that parsers tend to treat apart.
constexpr std::array<std::uint8_t, 20> kTelling{0,   '\t', '\n', '\r', ' ',  '"', '#',
                                                '*', ',',  '-',  '.',  '0',  ':', '=',
                                                '[', '{',  '}',  0x7f, 0x80, 0xff};

// Numbers at the edges of the types that parsers keep them in.
constexpr std::array<std::string_view, 12> kNumbers{
    "0",     "-1",         "00",         "255", "1023", "32767",
    "65536", "2147483648", "4294967296", "1e9", "0.5",  "18446744073709551616"};

struct Range {
  std::int64_t begin = 0;
  std::int64_t size = 0;
};

// A range of 1 to 32 bytes within `input`. REQUIRES: !input.empty()
Range range_of(const FuzzInput& input, Stream& chance) {
  const auto size = static_cast<std::int64_t>(input.size());
  const std::int64_t begin = chance.below(size);
  return {begin, chance.between(1, std::min<std::int64_t>(32, size - begin))};
}

void insert(FuzzInput& input, Stream& chance, const FuzzInput& piece) {
  const std::int64_t at = chance.between(0, static_cast<std::int64_t>(input.size()));
  input.insert(input.begin() + at, piece.begin(), piece.end());
}

FuzzInput piece_of(const FuzzInput& input, Stream& chance) {
  if (input.empty()) return {};
  const Range range = range_of(input, chance);
  return {input.begin() + range.begin, input.begin() + range.begin + range.size};
}

template <class Table>
auto pick(const Table& table, Stream& chance) {
  return table[static_cast<std::size_t>(chance.below(static_cast<std::int64_t>(table.size())))];
}

// Changes `input` once.
void mutate(FuzzInput& input, Stream& chance, const FuzzInput& other) {
  if (input.empty()) input.push_back(pick(kTelling, chance));
  const auto at = static_cast<std::size_t>(chance.below(static_cast<std::int64_t>(input.size())));
  switch (chance.below(8)) {
    case 0:
      input[at] = static_cast<std::uint8_t>(input[at] ^ (1U << chance.below(8)));
      break;
    case 1:
      input[at] = static_cast<std::uint8_t>(chance.below(256));
      break;
    case 2:
      input[at] = pick(kTelling, chance);
      break;
    case 3:
      insert(input, chance, {pick(kTelling, chance)});
      break;
    case 4: {
      const Range range = range_of(input, chance);
      input.erase(input.begin() + range.begin, input.begin() + range.begin + range.size);
      break;
    }
    case 5:
      insert(input, chance, piece_of(input, chance));
      break;
    case 6:
      insert(input, chance, piece_of(other, chance));
      break;
    default: {
      const std::string_view number = pick(kNumbers, chance);
      insert(input, chance, {number.begin(), number.end()});
    }
  }
}

}  // namespace

FuzzInput fuzz_input(const std::vector<FuzzInput>& corpus, const FuzzCase& wanted) {
  CHECK(!corpus.empty(), "a fuzz run needs a corpus");
  const auto count = static_cast<std::int64_t>(corpus.size());
  if (wanted.number < count) return corpus[static_cast<std::size_t>(wanted.number)];
  Stream chance(wanted.seed, "fuzz." + std::to_string(wanted.number));
  FuzzInput input = pick(corpus, chance);
  const FuzzInput other = pick(corpus, chance);
  // Mostly one or two changes: enough to leave the sound path, few enough to get far along it.
  const std::int64_t changes = chance.below(4) == 0 ? chance.between(3, 16) : chance.between(1, 2);
  for (std::int64_t change = 0; change < changes; ++change) mutate(input, chance, other);
  if (input.size() > kFuzzInputBytesMax) input.resize(kFuzzInputBytesMax);
  return input;
}

}  // namespace understudy
