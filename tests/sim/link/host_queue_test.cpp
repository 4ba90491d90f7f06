// The bookkeeping of what the game has taken, against a kernel that is played by the test.
#include "sim/link/host_queue.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <deque>
#include <utility>

namespace understudy {
namespace {

// Shows bytes as unread only some time after they were written.
struct PlayedKernel {
  std::size_t visible = 0;
  std::deque<std::pair<Instant, std::size_t>> on_the_way;
  Instant now;
  HostQueue::Kernel door() {
    return [this](std::string_view bytes) {
      on_the_way.emplace_back(now, bytes.size());
      return bytes.size();
    };
  }
  void arrive(Duration age = {}) {
    while (!on_the_way.empty() && now - on_the_way.front().first >= age) {
      visible += on_the_way.front().second;
      on_the_way.pop_front();
    }
  }
};

TEST(HostQueue, WhatDoesNotFitTheHostBufferIsDroppedNewestFirst) {
  PlayedKernel kernel;
  HostQueue queue({.bytes_max = 10, .kernel_max = 8});
  const WriteOutcome outcome = queue.put("0123456789ab", {}, kernel.door());
  EXPECT_EQ(outcome.handed, 8U);
  EXPECT_EQ(outcome.waiting, 2U);
  EXPECT_EQ(outcome.dropped, 2U);
}

TEST(HostQueue, BytesThatTheKernelDoesNotShowYetAreNotTaken) {
  PlayedKernel kernel;
  HostQueue queue({.settling = milliseconds(2)});
  queue.put("x", kernel.now, kernel.door());
  kernel.arrive();
  kernel.now = Instant{} + milliseconds(10);
  queue.put("hello", kernel.now, kernel.door());
  EXPECT_EQ(queue.taken(kernel.visible, Instant{} + milliseconds(11)), 0U);
  kernel.arrive();
  EXPECT_EQ(queue.taken(kernel.visible, Instant{} + milliseconds(13)), 0U);
  EXPECT_EQ(queue.taken(1, Instant{} + milliseconds(14)), 5U);
}

TEST(HostQueue, NothingUnreadMeansAllWasTaken) {
  PlayedKernel kernel;
  HostQueue queue({.settling = milliseconds(2)});
  queue.put("hello", {}, kernel.door());
  EXPECT_EQ(queue.taken(0, {}), 5U);
}

TEST(HostQueue, WhatWaitsMovesUpInOrderWhenTheGameReads) {
  std::string kernel;
  const HostQueue::Kernel door = [&](std::string_view bytes) {
    kernel += bytes;
    return bytes.size();
  };
  HostQueue queue({.bytes_max = 100, .kernel_max = 4});
  queue.put("abcd", {}, door);
  queue.put("efgh", {}, door);
  EXPECT_EQ(kernel, "abcd");
  queue.taken(1, {});
  queue.move_up({}, door);
  EXPECT_EQ(kernel, "abcdefg");
  EXPECT_EQ(queue.waiting(), 1U);
}

RC_GTEST_PROP(HostQueue, EveryByteIsTakenWaitingOrDroppedAndNoneBeforeItWasRead, ()) {
  constexpr Duration kLate = milliseconds(2);
  PlayedKernel kernel;
  HostQueue queue({.bytes_max = 64, .kernel_max = 40, .settling = kLate});
  std::size_t put = 0, dropped = 0, taken = 0, read = 0;
  for (int step = 0; step < 50; ++step) {
    kernel.now = kernel.now + microseconds(*rc::gen::inRange(0, 3'000));
    const auto size = *rc::gen::inRange<std::size_t>(0, 30);
    put += size;
    dropped += queue.put(std::string(size, 'x'), kernel.now, kernel.door()).dropped;
    if (*rc::gen::arbitrary<bool>()) kernel.arrive();
    kernel.arrive(kLate);
    const auto reading = std::min(kernel.visible, *rc::gen::inRange<std::size_t>(0, 50));
    kernel.visible -= reading;
    read += reading;
    // Zero is exact, since asking moves up what was on its way.
    if (kernel.visible == 0) kernel.arrive();
    taken += queue.taken(kernel.visible, kernel.now);
    RC_ASSERT(taken <= read);
    RC_ASSERT(queue.settling() || taken == read);
    queue.move_up(kernel.now, kernel.door());
    RC_ASSERT(put == dropped + taken + queue.in_kernel() + queue.waiting());
    RC_ASSERT(queue.in_kernel() + queue.waiting() <= 64U);
  }
}

}  // namespace
}  // namespace understudy
