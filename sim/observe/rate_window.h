// How many per second over the last two seconds, in bounded memory.
#pragma once

#include <array>
#include <cstdint>

#include "sim/base/time.h"

namespace understudy {

// A regular value. Times handed in never go back.
class RateWindow {
 public:
  void add(Instant t, std::int64_t count) {
    turn_to(t);
    slots_[static_cast<std::size_t>(slot_ % kSlots)] += count;
  }
  // Per second, over the whole slots of the last two seconds before t.
  [[nodiscard]] double per_second(Instant t) const {
    RateWindow turned = *this;
    turned.turn_to(t);
    std::int64_t sum = 0;
    for (std::int64_t i = 1; i < kSlots; ++i)
      sum += turned.slots_[static_cast<std::size_t>((turned.slot_ + i) % kSlots)];
    return static_cast<double>(sum) / kSeconds;
  }

 private:
  static constexpr std::int64_t kSlots = 21;  // twenty whole ones and the one being filled
  static constexpr double kSeconds = 2.0;
  static constexpr std::int64_t kSlotNs = 100'000'000;
  void turn_to(Instant t) {
    const std::int64_t wanted = t.ns / kSlotNs;
    if (wanted - slot_ >= kSlots) slots_.fill(0);
    for (std::int64_t i = slot_ + 1; i <= wanted && wanted - slot_ < kSlots; ++i)
      slots_[static_cast<std::size_t>(i % kSlots)] = 0;
    if (wanted > slot_) slot_ = wanted;
  }
  std::array<std::int64_t, kSlots> slots_{};
  std::int64_t slot_ = 0;
};

}  // namespace understudy
