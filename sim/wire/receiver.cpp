// Samples the sender's bit stream at the receiver's own rate, in whole numbers; stretches in which
// nothing changes are stepped over, so that the work follows the bits sent and not the ratio.
#include "sim/wire/receiver.h"

namespace understudy {
namespace {

// The line's level over time, in the sender's bits; idle (high) before and after.
class BitStream {
 public:
  BitStream(std::string_view sent, const ReceiverSettings& settings)
      : sent_(sent),
        frame_bits_(1 + settings.data_bits + settings.stop_bits),
        data_bits_(settings.data_bits),
        bit_count_(static_cast<std::int64_t>(sent.size()) * frame_bits_),
        // One receiver sample lasts num_ / den_ of the sender's bits.
        num_(static_cast<__int128>(settings.sender_baud.num) * settings.own_baud.den),
        den_(static_cast<__int128>(settings.sender_baud.den) * settings.own_baud.num *
             settings.samples_per_bit) {}

  [[nodiscard]] bool over(std::int64_t sample) const { return bit_at(sample) >= bit_count_; }
  [[nodiscard]] bool level(std::int64_t sample) const { return level_of_bit(bit_at(sample)); }
  // The first sample from `sample` on that finds the line at `wanted`; one beyond the end if none.
  [[nodiscard]] std::int64_t next(std::int64_t sample, bool wanted) const {
    std::int64_t bit = bit_at(sample);
    while (bit < bit_count_ && level_of_bit(bit) != wanted) {
      std::int64_t changed = bit + 1;
      while (changed < bit_count_ && level_of_bit(changed) != wanted) ++changed;
      sample = first_sample_of(changed);
      bit = bit_at(sample);  // further on where the samples are wider apart than the bits
    }
    return sample;
  }

 private:
  [[nodiscard]] std::int64_t bit_at(std::int64_t sample) const {
    return static_cast<std::int64_t>(sample * num_ / den_);
  }
  [[nodiscard]] std::int64_t first_sample_of(std::int64_t bit) const {
    return static_cast<std::int64_t>((bit * den_ + num_ - 1) / num_);
  }
  [[nodiscard]] bool level_of_bit(std::int64_t bit) const {
    if (bit >= bit_count_) return true;
    const auto byte =
        static_cast<unsigned char>(sent_[static_cast<std::size_t>(bit / frame_bits_)]);
    const std::int64_t place = bit % frame_bits_;
    if (place == 0) return false;
    return place > data_bits_ || (byte >> (place - 1) & 1) != 0;
  }

  std::string_view sent_;
  std::int64_t frame_bits_;
  std::int64_t data_bits_;
  std::int64_t bit_count_;
  __int128 num_;
  __int128 den_;
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
  std::int64_t sample = line.next(0, false);
  while (!line.over(sample)) {
    if (voted(sample)) {  // noise instead of a start bit: the next edge after its samples counts
      sample = line.next(line.next(sample + s / 2 + 1, true), false);
      continue;
    }
    unsigned byte = 0;
    for (int bit = 0; bit < settings.data_bits; ++bit)
      byte |= static_cast<unsigned>(voted(sample + std::int64_t{bit + 1} * s)) << bit;
    result.bytes += static_cast<char>(byte);
    const std::int64_t stop = sample + std::int64_t{settings.data_bits + 1} * s;
    const bool framed = voted(stop);
    sample = stop + s / 2 + 2;  // right after the stop bit's samples
    if (!framed) {
      ++result.frame_errors;
      sample = line.next(sample, true);  // here too
    }
    sample = line.next(sample, false);
  }
  return result;
}

}  // namespace understudy
