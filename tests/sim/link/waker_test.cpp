// Waking the pacer from another thread, which neither loses a call nor makes two of one.
#include "sim/link/waker.h"

#include <gtest/gtest.h>

#include <atomic>
#include <thread>

namespace understudy {
namespace {

TEST(Waker, AnotherThreadEndsAWaitThatWouldLastForEver) {
  Pacer pacer;
  Waker waker(pacer);
  std::thread other([&] { waker.wake(); });
  EXPECT_TRUE(pacer.wait(kNever, {}).touched);
  EXPECT_TRUE(waker.take());
  other.join();
}

TEST(Waker, ManyCallsBeforeALookAreOne) {
  Pacer pacer;
  Waker waker(pacer);
  for (int i = 0; i < 1'000; ++i) waker.wake();
  EXPECT_TRUE(pacer.wait(kNever, {}).touched);
  EXPECT_TRUE(waker.take());
  EXPECT_FALSE(waker.take());
  EXPECT_FALSE(pacer.wait(pacer.clock() + milliseconds(5), {}).touched);
}

// What was left before a wake() is there when its take() is true, however the threads run.
TEST(Waker, NothingLeftForThePacersThreadIsOverlooked) {
  constexpr int kLast = 20'000;
  Pacer pacer;
  Waker waker(pacer);
  std::atomic<int> left = 0;
  std::thread other([&] {
    for (int i = 1; i <= kLast; ++i) {
      left = i;
      waker.wake();
    }
  });
  const Instant limit = pacer.clock() + seconds(20);
  int seen = 0;
  while (seen < kLast && pacer.clock() < limit) {
    pacer.wait(limit, {});
    if (waker.take()) seen = left;
  }
  EXPECT_EQ(seen, kLast);
  other.join();
}

}  // namespace
}  // namespace understudy
