// The pacer against the real clock. Nothing here asserts lateness tighter than 30 ms: a busy
// machine is late by as much.
#include "sim/link/pacer.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <chrono>
#include <thread>

#include "sim/link/watch.h"

namespace understudy {
namespace {

using std::chrono::steady_clock;

std::int64_t ms_since(steady_clock::time_point start) {
  return std::chrono::duration_cast<std::chrono::milliseconds>(steady_clock::now() - start).count();
}

TEST(Pacer, ADueIsNeverReachedBeforeItsTime) {
  Pacer pacer;
  Instant due;
  for (int i = 0; i < 200; ++i) {
    due = due + microseconds(1'700);
    const Wake wake = pacer.wait(due, {});
    ASSERT_TRUE(wake.due_reached);
    ASSERT_GE(wake.now, due);
    ASSERT_LE(wake.now, pacer.clock());
  }
}

TEST(Pacer, StampsRiseByAMicrosecondAtLeastAndFollowTheClock) {
  Pacer pacer;
  Instant before = pacer.last_stamp();
  for (int i = 0; i < 10'000; ++i) {
    const Instant stamp = pacer.next();
    ASSERT_GE(stamp - before, microseconds(1));
    before = stamp;
  }
  std::this_thread::sleep_for(std::chrono::milliseconds(30));
  const Instant clock = pacer.clock();
  const Instant stamp = pacer.next();
  EXPECT_GE(stamp, clock);
  EXPECT_EQ(stamp.ns % 1'000, 0);
}

TEST(Pacer, ALittleBehindItCatchesUp) {
  Pacer pacer;
  std::this_thread::sleep_for(std::chrono::milliseconds(100));
  const Wake wake = pacer.wait(Instant{} + milliseconds(1), {});
  EXPECT_FALSE(wake.slipped);
  EXPECT_GE(wake.late, milliseconds(99));
  EXPECT_GE(wake.now, Instant{} + milliseconds(100));
}

TEST(Pacer, FarBehindTheClockSlipsToTheDueAndSaysByHowMuch) {
  Pacer pacer;
  pacer.wait(Instant{} + milliseconds(1), {});
  std::this_thread::sleep_for(std::chrono::milliseconds(400));
  const Instant due = Instant{} + milliseconds(2);
  const Wake wake = pacer.wait(due, {});
  ASSERT_TRUE(wake.slipped);
  EXPECT_GE(*wake.slipped, milliseconds(398));
  EXPECT_EQ(wake.now, due);
  EXPECT_LT(pacer.clock() - due, milliseconds(300));
  EXPECT_GT(pacer.next(), due);
  EXPECT_FALSE(pacer.wait(due + milliseconds(5), {}).slipped);
}

TEST(Pacer, HeldItStandsStillUntilItGoesOn) {
  Pacer pacer;
  pacer.hold();
  const Instant before = pacer.clock();
  std::this_thread::sleep_for(std::chrono::milliseconds(50));
  EXPECT_EQ(pacer.clock(), before);
  pacer.go();
  pacer.wait(before + milliseconds(5), {});
  EXPECT_LT(pacer.clock() - before, milliseconds(45));
}

TEST(Pacer, HeldFromTheStartItsFirstStampIsTheSameEachTime) {
  Pacer pacer({.begin = Instant{} + seconds(7), .held = true});
  std::this_thread::sleep_for(std::chrono::milliseconds(5));
  EXPECT_EQ(pacer.clock(), Instant{} + seconds(7));
  EXPECT_EQ(pacer.next(), Instant{} + seconds(7) + microseconds(1));
  pacer.go();
  EXPECT_GE(pacer.wait(Instant{} + seconds(7) + milliseconds(5), {}).now,
            Instant{} + seconds(7) + milliseconds(5));
}

TEST(Pacer, SpeedIsVirtualTimePerRealTime) {
  Pacer pacer({.speed_per_mille = 10'000});
  const auto start = steady_clock::now();
  pacer.wait(Instant{} + seconds(1), {});
  EXPECT_GE(ms_since(start), 100);
  EXPECT_LT(ms_since(start), 600);
}

TEST(Pacer, AReadyDescriptorWakesItBeforeTheDue) {
  Pacer pacer;
  int ends[2];
  ASSERT_EQ(pipe(ends), 0);
  {
    Watch watch(pacer, ends[0]);
    std::thread writer([&] {
      std::this_thread::sleep_for(std::chrono::milliseconds(30));
      (void)!write(ends[1], "x", 1);
    });
    const Wake wake = pacer.wait(Instant{} + seconds(20), {});
    writer.join();
    EXPECT_TRUE(wake.touched);
    EXPECT_FALSE(wake.due_reached);
    EXPECT_TRUE(watch.ready());
    EXPECT_FALSE(pacer.wait(pacer.clock() + milliseconds(2), {}).touched) << "one-shot";
    watch.arm();
    EXPECT_TRUE(pacer.wait(kNever, {}).touched) << "armed again with the byte still there";
  }
  close(ends[0]);
  close(ends[1]);
}

}  // namespace
}  // namespace understudy
