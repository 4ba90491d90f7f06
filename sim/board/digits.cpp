// Number or word to segments.
#include "sim/board/digits.h"

#include <algorithm>
#include <bit>

namespace understudy {
namespace {

constexpr std::array<std::uint8_t, 10> kFigures = {0x3f, 0x06, 0x5b, 0x4f, 0x66,
                                                   0x6d, 0x7d, 0x07, 0x7f, 0x6f};

// a to z; capital letters only where both can be told apart (below). 0: cannot be shown.
constexpr std::array<std::uint8_t, 26> kLetters = {
    0x77, 0x7c, 0x58, 0x5e, 0x79, 0x71, 0x3d, 0x74, 0x04, 0x1e, 0x00, 0x38, 0x00,   // a to m
    0x54, 0x5c, 0x73, 0x67, 0x50, 0x6d, 0x78, 0x1c, 0x00, 0x00, 0x00, 0x6e, 0x5b};  // n to z

struct Sign {
  char character;
  std::uint8_t segments;
};
constexpr std::array<Sign, 9> kSigns = {{{'C', 0x39},
                                         {'H', 0x76},
                                         {'I', 0x06},
                                         {'O', 0x3f},
                                         {'U', 0x3e},
                                         {'-', kSegmentDash},
                                         {'_', 0x08},
                                         {'=', 0x48},
                                         {'.', kSegmentPoint}}};

DigitRow dashes(int count) {
  DigitRow row;
  row.count = count;
  std::fill_n(row.segments.begin(), count, kSegmentDash);
  return row;
}

DigitRow word_shown(std::string_view word, int count) {
  DigitRow row;
  row.count = count;
  int next = 0;
  for (const char c : word) {
    const bool joins = c == '.' && next > 0;
    if (!joins && next == count) break;
    std::uint8_t& digit = row.segments[static_cast<std::size_t>(joins ? next - 1 : next++)];
    digit = static_cast<std::uint8_t>(digit | segments_of(c));
  }
  return row;
}

DigitRow number_shown(std::int64_t number, int decimals, int count) {
  DigitRow row;
  row.count = count;
  // Away from 0 the least number has no positive twin.
  auto rest =
      number < 0 ? 0 - static_cast<std::uint64_t>(number) : static_cast<std::uint64_t>(number);
  int at = count;
  for (int place = 0; rest > 0 || place <= decimals; ++place) {
    if (at == 0) return dashes(count);
    std::uint8_t figure = kFigures[rest % 10];
    if (decimals > 0 && place == decimals) figure |= kSegmentPoint;
    row.segments[static_cast<std::size_t>(--at)] = figure;
    rest /= 10;
  }
  if (number < 0) {
    if (at == 0) return dashes(count);
    row.segments[static_cast<std::size_t>(--at)] = kSegmentDash;
  }
  return row;
}

}  // namespace

std::uint8_t segments_of(char character) {
  if (character >= '0' && character <= '9')
    return kFigures[static_cast<std::size_t>(character - '0')];
  for (const Sign& sign : kSigns)
    if (sign.character == character) return sign.segments;
  const bool capital = character >= 'A' && character <= 'Z';
  const bool small = character >= 'a' && character <= 'z';
  if (!capital && !small) return 0;
  return kLetters[static_cast<std::size_t>(character - (capital ? 'A' : 'a'))];
}

DigitRow digits_shown(std::int64_t number, const OutputDescription& digits) {
  const int count = digits.digits.count;
  const std::vector<std::string>& words = digits.sends.words;
  if (words.empty()) return number_shown(number, digits.sends.decimals, count);
  const bool known = number >= 0 && number < static_cast<std::int64_t>(words.size());
  return known ? word_shown(words[static_cast<std::size_t>(number)], count) : dashes(count);
}

int lit_segments(const DigitRow& row) {
  int lit = 0;
  for (const std::uint8_t segments : row.segments) lit += std::popcount(segments);
  return lit;
}

}  // namespace understudy
