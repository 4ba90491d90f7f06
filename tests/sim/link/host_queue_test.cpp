// The bookkeeping of what the game has taken, against a kernel that is played by the test.
#include "sim/link/host_queue.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace understudy {
namespace {

// Takes everything up to a size, and shows bytes as unread only some time after they were written.
struct PlayedKernel {
  std::size_t visible = 0;
  std::size_t on_the_way = 0;
  std::size_t room = 100'000;
  HostQueue::Kernel door() {
    return [this](std::string_view bytes) {
      const std::size_t taken = std::min(room, bytes.size());
      on_the_way += taken;
      return taken;
    };
  }
  void arrive() { visible += std::exchange(on_the_way, 0); }
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
  queue.put("x", {}, kernel.door());
  kernel.arrive();
  queue.put("hello", Instant{} + milliseconds(10), kernel.door());
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

RC_GTEST_PROP(HostQueue, EveryByteIsTakenWaitingOrDroppedAndNoneTwice, ()) {
  PlayedKernel kernel;
  HostQueue queue({.bytes_max = 64, .kernel_max = 40, .settling = milliseconds(2)});
  std::size_t put = 0, dropped = 0, taken = 0, really_read = 0;
  Instant now;
  for (int step = 0; step < 200; ++step) {
    now = now + microseconds(*rc::gen::inRange(0, 3'000));
    const auto size = *rc::gen::inRange<std::size_t>(0, 30);
    put += size;
    dropped += queue.put(std::string(size, 'x'), now, kernel.door()).dropped;
    if (*rc::gen::arbitrary<bool>()) kernel.arrive();
    const auto read = std::min(kernel.visible, *rc::gen::inRange<std::size_t>(0, 50));
    kernel.visible -= read;
    really_read += read;
    // Zero is exact in the kernel, since asking moves up what was on its way.
    if (kernel.visible == 0) kernel.arrive();
    taken += queue.taken(kernel.visible, now);
    // What is on its way longer than the settling time has arrived.
    queue.move_up(now, kernel.door());
    if (!queue.settling()) kernel.arrive();
    RC_ASSERT(taken <= really_read || queue.settling() == false);
    RC_ASSERT(put == dropped + taken + queue.in_kernel() + queue.waiting());
    RC_ASSERT(queue.in_kernel() + queue.waiting() <= 64U);
  }
}

}  // namespace
}  // namespace understudy
