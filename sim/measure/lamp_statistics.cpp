// From numbers to luminance to flashes.
#include "sim/measure/lamp_statistics.h"

#include "sim/board/pwm.h"

namespace understudy {

LampStatistics::LampStatistics(const OutputDescription& lamp, const BoardDescription& board)
    : lamp_(lamp), board_(board) {
  numbers_.fill(lamp.sends.low);
  counter_.take({}, luminance());
}

double LampStatistics::luminance() const {
  if (lamp_.kind == OutputKind::kRgb) return luminance_of(rgb_light(numbers_, lamp_, board_));
  return lamp_duty(numbers_[0], lamp_, board_);
}

void LampStatistics::set(Instant t, std::size_t part, std::int64_t number, bool whole) {
  if (part < numbers_.size() && numbers_[part] != number) {
    numbers_[part] = number;
    ++figures_.changes;
  }
  if (!whole) return;
  counter_.take(t, luminance());
  const int flashes = counter_.flashes(t);
  if (flashes > figures_.flashes_most) {
    figures_.flashes_most = flashes;
    figures_.worst_at = t;
  }
  const bool too_many = flashes > kFlashesAllowed;
  if (too_many && !too_many_) ++figures_.too_many;
  too_many_ = too_many;
}

}  // namespace understudy
