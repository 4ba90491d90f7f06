// Currents by kind.
#include "sim/board/load.h"

#include "sim/base/check.h"
#include "sim/board/buzzer.h"
#include "sim/board/digits.h"
#include "sim/board/pwm.h"
#include "sim/model/kinds.h"

namespace understudy {

std::int64_t output_ua(const OutputDescription& output, std::span<const std::int64_t> numbers,
                       bool moving, const BoardDescription& board) {
  CHECK(numbers.size() == line_parts(output).size(), "an output has one number for each part");
  switch (output.kind) {
    case OutputKind::kLamp:
    case OutputKind::kRgb: {
      std::int64_t sum = 0;
      for (std::size_t part = 0; part < numbers.size(); ++part)
        sum += scaled(full_ua(output, part, board), lit_share(numbers[part], output, board));
      return sum;
    }
    case OutputKind::kGauge:
      return moving ? output.gauge.moving_ua : output.gauge.idle_ua;
    case OutputKind::kBuzzer:
      return sound_of(numbers[0], output).frequency_mhz > 0 ? output.buzzer.sounding_ua : 0;
    case OutputKind::kDigits:
      return lit_segments(digits_shown(numbers[0], output)) * output.digits.segment_ua;
  }
  return 0;
}

}  // namespace understudy
