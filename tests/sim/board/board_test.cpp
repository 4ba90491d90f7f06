// The receive ring and what a lamp makes of a number; published values are in tests/reference/.
#include <gtest/gtest.h>

#include <string>

#include "sim/board/pwm.h"
#include "sim/board/receive_ring.h"

namespace understudy {
namespace {

// Byte i arrives at i + 1.
class Wire {
 public:
  explicit Wire(std::string bytes) : bytes_(std::move(bytes)) {}
  [[nodiscard]] bool empty() const { return next_ == bytes_.size(); }
  [[nodiscard]] Instant first_arrival() const { return {static_cast<std::int64_t>(next_) + 1}; }
  char pop() { return bytes_[next_++]; }

 private:
  std::string bytes_;
  std::size_t next_ = 0;
};

TEST(ReceiveRing, OnePlaceStaysFreeAndTheNewestBytesAreLost) {
  ReceiveRing ring(4);
  Wire wire("abcdef");
  ring.draw(wire, Instant{100}, Instant{0});
  EXPECT_EQ(ring.size(), 3U);
  EXPECT_EQ(ring.counts().overrun, 3);
  EXPECT_EQ(ring.pop(), 'a');
  EXPECT_EQ(ring.pop(), 'b');
  EXPECT_EQ(ring.pop(), 'c');
}

TEST(ReceiveRing, TakesOnlyWhatHasArrived) {
  ReceiveRing ring(64);
  Wire wire("abcdef");
  ring.draw(wire, Instant{2}, Instant{0});
  EXPECT_EQ(ring.size(), 2U);
  EXPECT_FALSE(wire.empty());
}

TEST(ReceiveRing, WhatArrivesBeforeTheBoardListensIsLostInItsBoot) {
  ReceiveRing ring(64);
  Wire wire("abcdef");
  ring.draw(wire, Instant{100}, Instant{5});
  EXPECT_EQ(ring.counts().lost_in_boot, 4);
  EXPECT_EQ(ring.pop(), 'e');
}

TEST(ReceiveRing, TheLargestRingALoaderLetsPassIsReallyThatLarge) {
  ReceiveRing ring(static_cast<int>(kReceiveRingBytesMax));
  Wire wire(std::string(5'000, 'x'));
  ring.draw(wire, Instant{10'000}, Instant{0});
  EXPECT_EQ(ring.size(), kReceiveRingBytesMax - 1);
  EXPECT_EQ(ring.counts().received, static_cast<std::int64_t>(kReceiveRingBytesMax - 1));
}

TEST(Lamp, IsDarkAtOneEndAndFullAtTheOtherWhateverTheTimerWouldGive) {
  OutputDescription lamp;
  lamp.sends.low = 0;
  lamp.sends.high = 255;
  for (const bool phase_correct : {false, true}) {
    BoardDescription board;
    board.phase_correct_pwm = phase_correct;
    EXPECT_EQ(lamp_duty(0, lamp, board), 0.0);
    EXPECT_EQ(lamp_duty(255, lamp, board), 1.0);
    EXPECT_EQ(lamp_duty(999, lamp, board), 1.0);
    double last = 0;
    for (int n = 1; n < 256; ++n) {
      EXPECT_GT(lamp_duty(n, lamp, board), last);
      last = lamp_duty(n, lamp, board);
    }
  }
}

TEST(Lamp, AReversedRangeIsDarkAtItsLowEnd) {
  OutputDescription lamp;
  lamp.sends.low = 255;
  lamp.sends.high = 0;
  EXPECT_EQ(lamp_duty(255, lamp, BoardDescription{}), 0.0);
  EXPECT_EQ(lamp_duty(0, lamp, BoardDescription{}), 1.0);
}

}  // namespace
}  // namespace understudy
