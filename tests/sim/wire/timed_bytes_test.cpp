// Bytes on their way: when each arrives, what a cut leaves, what a full queue does.
#include "sim/wire/timed_bytes.h"

#include <gtest/gtest.h>

#include <string>

#include "sim/base/fingerprint.h"

namespace understudy {
namespace {

using Wire = TimedBytes<64, 4>;
constexpr Ratio kTenMicroseconds{10'000, 1};

std::string all_of(Wire& wire) {
  std::string bytes;
  while (!wire.empty()) bytes += wire.pop();
  return bytes;
}

TEST(TimedBytes, EachByteArrivesOneByteTimeAfterTheOneBefore) {
  Wire wire(kTenMicroseconds);
  EXPECT_EQ(wire.send(Instant{1'000}, "abc"), 3U);
  EXPECT_EQ(wire.arrival(0).ns, 11'000);
  EXPECT_EQ(wire.arrival(2).ns, 31'000);
  EXPECT_EQ(wire.arrived(Instant{30'999}, 10), 2U);
  EXPECT_EQ(wire.arrived(Instant{31'000}, 10), 3U);
  EXPECT_EQ(wire.arrived(Instant{31'000}, 1), 1U);
}

TEST(TimedBytes, WhatIsSentWhileTheWireIsBusyFollowsWithoutAGap) {
  Wire wire(kTenMicroseconds);
  wire.send(Instant{0}, "ab");
  wire.send(Instant{5'000}, "c");
  EXPECT_EQ(wire.arrival(2).ns, 30'000);
  EXPECT_EQ(wire.run_count(), 1U);
  wire.send(Instant{100'000}, "d");
  EXPECT_EQ(wire.arrival(3).ns, 110'000);
  EXPECT_EQ(wire.run_count(), 2U);
}

TEST(TimedBytes, ArrivalsOfALongRunNeverDriftFromTheExactRatio) {
  TimedBytes<4'096, 4> wire(Ratio{10'000'000'000, 115'200});  // 115200 baud, 8N1
  wire.send(Instant{0}, std::string(2'304, 'x'));             // 0.2 s exactly
  EXPECT_EQ(wire.arrival(2'303).ns, 200'000'000);
  EXPECT_EQ(wire.arrival(0).ns, 86'806);  // rounded up from 86805.56
}

TEST(TimedBytes, KeepsTheOrderAroundTheEndOfItsStorage) {
  Wire wire(kTenMicroseconds);
  wire.send(Instant{0}, std::string(50, 'x'));
  wire.drop(50);
  const std::string sent = "the quick brown fox jumps over the lazy dog";
  EXPECT_EQ(wire.send(Instant{0}, sent), sent.size());
  std::string taken;
  wire.take(20, [&](std::string_view bytes) { taken += bytes; });
  EXPECT_EQ(taken + all_of(wire), sent);
}

TEST(TimedBytes, TakesNoMoreThanFindsRoomAndSaysHowMuch) {
  Wire wire(kTenMicroseconds);
  EXPECT_EQ(wire.send(Instant{0}, std::string(100, 'x')), 64U);
  EXPECT_EQ(wire.send(Instant{0}, "y"), 0U);
}

TEST(TimedBytes, RefusesARunTooManyInsteadOfLosingItsTimes) {
  Wire wire(kTenMicroseconds);
  for (int i = 0; i < 4; ++i) EXPECT_EQ(wire.send(Instant{i * 1'000'000}, "x"), 1U);
  EXPECT_EQ(wire.send(Instant{9'000'000}, "y"), 0U);
  EXPECT_EQ(wire.size(), 4U);
  wire.pop();
  EXPECT_EQ(wire.send(Instant{9'000'000}, "y"), 1U);
  EXPECT_EQ(wire.arrival(3).ns, 9'010'000);
}

TEST(TimedBytes, ACutForgetsWhatHadNotArrivedAndFreesTheWire) {
  Wire wire(kTenMicroseconds);
  wire.send(Instant{0}, "abcdef");
  EXPECT_EQ(wire.cut_at(Instant{25'000}), 4U);
  EXPECT_EQ(wire.size(), 2U);
  wire.send(Instant{25'000}, "g");
  EXPECT_EQ(wire.arrival(2).ns, 35'000);
  EXPECT_EQ(all_of(wire), "abg");
}

// What is sent at the very instant of a cut once joined the run before it and came too early.
TEST(TimedBytes, NothingSentAfterACutComesBeforeIt) {
  Wire wire(kTenMicroseconds);
  wire.send(Instant{0}, "abcdef");
  wire.cut_at(Instant{29'999});
  wire.send(Instant{29'999}, "g");
  EXPECT_EQ(wire.arrival(2).ns, 39'999);
}

TEST(TimedBytes, MisreadBytesFillTheTimeOfThoseThatWereSent) {
  Wire wire(kTenMicroseconds);
  EXPECT_EQ(wire.send_misread(Instant{0}, 10, "abcde"), 5U);
  EXPECT_EQ(wire.arrival(0).ns, 20'000);
  EXPECT_EQ(wire.arrival(4).ns, 100'000);
  EXPECT_EQ(wire.free_at().ns, 100'000);
  EXPECT_EQ(wire.send_misread(Instant{0}, 3, ""), 0U);
  EXPECT_EQ(wire.free_at().ns, 130'000);
  wire.send(Instant{0}, "f");
  EXPECT_EQ(wire.arrival(5).ns, 140'000);
}

TEST(TimedBytes, EqualQueuesHaveEqualFingerprintsAndATouchOfDifferenceShows) {
  const auto print = [](const Wire& wire) {
    Fingerprint digest;
    wire.add_to(digest);
    return digest.value();
  };
  Wire a(kTenMicroseconds);
  a.send(Instant{0}, "ab");
  Wire b = a;
  EXPECT_EQ(print(a), print(b));
  b.set_byte_time({10'001, 1});
  EXPECT_NE(print(a), print(b));
}

}  // namespace
}  // namespace understudy
