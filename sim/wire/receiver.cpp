// Samples the sender's bit stream at the receiver's own rate.
#include "sim/wire/receiver.h"

namespace understudy {
namespace {

// The line's level over time, in the sender's bits; idle (high) before and after.
class BitStream {
 public:
  BitStream(std::string_view sent, const ReceiverSettings& settings)
      : sent_(sent), frame_bits_(1 + settings.data_bits + settings.stop_bits),
        data_bits_(settings.data_bits) {
    // One receiver sample lasts num / den of the sender's bits.
    const auto wide = [](Ratio r) { return static_cast<double>(r.num) / static_cast<double>(r.den); };
    bits_per_sample_ = wide(settings.sender_baud) / wide(settings.own_baud) / settings.samples_per_bit;
  }
  [[nodiscard]] bool over(std::int64_t sample) const {
    return bit_at(sample) >= static_cast<std::int64_t>(sent_.size()) * frame_bits_;
  }
  [[nodiscard]] bool level(std::int64_t sample) const {
    const std::int64_t bit = bit_at(sample);
    if (bit < 0 || bit >= static_cast<std::int64_t>(sent_.size()) * frame_bits_) return true;
    const auto byte = static_cast<unsigned char>(sent_[static_cast<std::size_t>(bit / frame_bits_)]);
    const std::int64_t place = bit % frame_bits_;
    if (place == 0) return false;
    return place > data_bits_ || (byte >> (place - 1) & 1) != 0;
  }

 private:
  [[nodiscard]] std::int64_t bit_at(std::int64_t sample) const {
    return static_cast<std::int64_t>(static_cast<double>(sample) * bits_per_sample_);
  }
  std::string_view sent_;
  std::int64_t frame_bits_;
  std::int64_t data_bits_;
  double bits_per_sample_ = 0;
};

}  // namespace

ReceivedBytes received(std::string_view sent, const ReceiverSettings& settings) {
  const BitStream line(sent, settings);
  const int s = settings.samples_per_bit;
  const auto voted = [&](std::int64_t bit_start) {
    const std::int64_t middle = bit_start + s / 2;
    return majority(line.level(middle - 1), line.level(middle), line.level(middle + 1));
  };
  ReceivedBytes result;
  std::int64_t sample = 0;
  while (!line.over(sample)) {
    if (line.level(sample) || voted(sample)) {  // no edge, or noise instead of a start bit
      ++sample;
      continue;
    }
    unsigned byte = 0;
    for (int bit = 0; bit < settings.data_bits; ++bit)
      byte |= static_cast<unsigned>(voted(sample + std::int64_t{bit + 1} * s)) << bit;
    const std::int64_t stop = sample + std::int64_t{settings.data_bits + 1} * s;
    if (!voted(stop)) {
      ++result.frame_errors;
      sample = stop + s / 2 + 2;
      while (!line.over(sample) && !line.level(sample)) ++sample;  // a new edge needs a high first
    } else {
      sample = stop + s / 2 + 2;
    }
    result.bytes += static_cast<char>(byte);
  }
  return result;
}

}  // namespace understudy
