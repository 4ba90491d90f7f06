// Tables and whole-number arithmetic of selectors and encoders.
#include "sim/manners/decoders.h"

#include <algorithm>
#include <array>

namespace understudy {

int quadrature_step(unsigned before, unsigned now) {
  constexpr int kNo = kCannotTell;
  // Row: A and B before; column: A and B now. Up is 00, 10, 11, 01.
  constexpr std::array<std::array<int, 4>, 4> kSteps = {{
      {0, -1, 1, kNo},
      {1, 0, kNo, -1},
      {-1, kNo, 0, 1},
      {kNo, 1, -1, 0},
  }};
  return kSteps[before & 3U][now & 3U];
}

int place_read(std::uint64_t closed, int places, int last, bool keeps_in_gap) {
  for (int place = 0; place < places; ++place)
    if ((closed >> place & 1U) != 0) return place;
  return keeps_in_gap ? last : 0;
}

std::int64_t wire_number_of_place(int place, int places, const Sends& sends) {
  if (places < 2) return sends.low;
  return sends.low + (sends.high - sends.low) * place / (places - 1);
}

std::int64_t wire_number_of_count(std::int64_t count, const Sends& sends) {
  const std::int64_t low = std::min(sends.low, sends.high);
  const std::int64_t high = std::max(sends.low, sends.high);
  if (sends.low > sends.high) count = -count;
  const std::int64_t span = high - low + 1;
  const std::int64_t start = low <= 0 && high >= 0 ? 0 : low;
  const std::int64_t beyond = (start - low + count) % span;
  return low + (beyond < 0 ? beyond + span : beyond);
}

std::int64_t wire_number_of_step(std::int64_t step, const Sends& sends, const Sends& count_sends) {
  const bool turned = (sends.low > sends.high) != (count_sends.low > count_sends.high);
  if (turned) step = -step;
  return std::clamp(step, std::min(sends.low, sends.high), std::max(sends.low, sends.high));
}

void Decoded::take_pins(unsigned now) {
  const int step = seen ? quadrature_step(pins, now) : 0;
  if (step != kCannotTell) quarters += step;
  pins = static_cast<std::uint8_t>(now);
  seen = true;
}

void Decoded::take_count(std::int64_t counted) {
  if (!seen) first = static_cast<std::int32_t>(counted);
  quarters = static_cast<std::int32_t>(counted - first);
  seen = true;
}

std::int64_t Decoded::count(const EncoderPart& encoder) const {
  const std::int64_t per =
      encoder.counts_quarters || encoder.detents == 0 ? 1 : 4 * encoder.pulses / encoder.detents;
  if (per <= 1) return quarters;
  const std::int64_t shifted = quarters + per / 2;
  return shifted >= 0 ? shifted / per : -((per - 1 - shifted) / per);
}

}  // namespace understudy
