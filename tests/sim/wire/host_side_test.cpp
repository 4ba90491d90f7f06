// What the computer does with bytes: chunks, timers, frames, full buffers.
#include "sim/wire/host_side.h"

#include <gtest/gtest.h>

#include <string>

namespace understudy {
namespace {

constexpr Ratio kFast{10'000, 1};  // 10 us a byte

HostDescription bridge() {
  return {.flush = milliseconds(4),
          .chunk_bytes_max = 64,
          .buffer_bytes = 4'096,
          .write_buffer_bytes = 2'048,
          .full = WhenFull::kDropsNewest,
          .dtr = DtrMeans::kNothing};
}

constexpr Instant at_ns(std::int64_t ns) {
  return {ns};
}

struct Bench {
  explicit Bench(const HostDescription& described, WireKind wire = WireKind::kUart,
                 bool whole_lines = false)
      : host(described), side(described, wire, whole_lines) {
    side.open(Instant{0}, false, outputs);
  }
  void run_until(Instant t) {
    while (side.next_flush() <= t) side.flush(host, outputs);
  }
  HostDescription host;
  HostSide side;
  StepOutputs outputs;
};

TEST(HostSide, HandsAShortLineOverAtTheNextBeatOfItsTimer) {
  Bench bench(bridge());
  bench.side.send(at_ns(500'000), "512,1\n", kFast);
  bench.run_until(at_ns(20'000'000));
  ASSERT_EQ(bench.outputs.chunks.size(), 1U);
  EXPECT_EQ(bench.outputs.chunks[0].due.ns, 4'000'000);
  EXPECT_EQ(bench.outputs.bytes, "512,1\n");
}

TEST(HostSide, CutsALineThatIsOnItsWayWhenTheTimerBeats) {
  Bench bench(bridge());
  bench.side.send(at_ns(3'975'000), "512,1\n", kFast);
  bench.run_until(at_ns(20'000'000));
  ASSERT_EQ(bench.outputs.chunks.size(), 2U);
  EXPECT_EQ(bench.outputs.bytes_of(bench.outputs.chunks[0]), "51");
  EXPECT_EQ(bench.outputs.bytes_of(bench.outputs.chunks[1]), "2,1\n");
  EXPECT_EQ(bench.outputs.chunks[1].due.ns, 8'000'000);
}

TEST(HostSide, AFullChunkGoesAtOnceAndTheTimerStartsAnew) {
  Bench bench(bridge());
  bench.side.send(at_ns(0), std::string(70, 'x'), kFast);
  bench.run_until(at_ns(20'000'000));
  ASSERT_EQ(bench.outputs.chunks.size(), 2U);
  EXPECT_EQ(bench.outputs.chunks[0].due.ns, 640'000);
  EXPECT_EQ(bench.outputs.chunks[0].size, 64U);
  EXPECT_EQ(bench.outputs.chunks[1].due.ns, 4'640'000);
}

TEST(HostSide, ANativePortWaitsForItsFrameEvenWithAFullChunk) {
  HostDescription native = bridge();
  native.flush = milliseconds(1);
  Bench bench(native, WireKind::kNativeUsb);
  bench.side.send(at_ns(1'100'000), std::string(130, 'x'), {1'000, 1});
  bench.run_until(at_ns(5'000'000));
  ASSERT_EQ(bench.outputs.chunks.size(), 3U);
  for (const Chunk& chunk : bench.outputs.chunks) EXPECT_EQ(chunk.due.ns, 2'000'000);
}

TEST(HostSide, FramesOfANativePortStayOnTheirGridAfterAFullBufferWasEmptied) {
  HostDescription native = bridge();
  native.flush = milliseconds(1);
  native.buffer_bytes = 64;
  native.full = WhenFull::kHoldsTheBoard;
  Bench bench(native, WireKind::kNativeUsb);
  bench.side.send(at_ns(100'000), std::string(128, 'x'), {1'000, 1});
  bench.run_until(at_ns(5'000'000));
  EXPECT_TRUE(bench.side.holds_the_board());
  bench.side.taken(at_ns(5'300'001), 64);
  bench.run_until(at_ns(9'000'000));
  ASSERT_EQ(bench.outputs.chunks.size(), 2U);
  EXPECT_EQ(bench.outputs.chunks[1].due.ns, 6'000'000);
}

TEST(HostSide, AFullBufferDropsTheNewestAndSaysSo) {
  HostDescription small = bridge();
  small.buffer_bytes = 100;
  Bench bench(small);
  bench.side.send(at_ns(0), std::string(64, 'a') + std::string(64, 'b'), kFast);
  bench.run_until(at_ns(20'000'000));
  EXPECT_EQ(bench.outputs.bytes, std::string(64, 'a') + std::string(36, 'b'));
  ASSERT_EQ(bench.outputs.notes.size(), 1U);
  EXPECT_EQ(bench.outputs.notes[0].kind, NoteKind::kHostBufferFull);
  EXPECT_EQ(bench.outputs.notes[0].count, 28);
  EXPECT_EQ(bench.side.counts().dropped_full, 28);
}

TEST(HostSide, AFullBufferThatHoldsTheBoardLosesNothing) {
  HostDescription small = bridge();
  small.buffer_bytes = 100;
  small.full = WhenFull::kHoldsTheBoard;
  Bench bench(small);
  const std::string sent = std::string(64, 'a') + std::string(64, 'b');
  bench.side.send(at_ns(0), sent, kFast);
  bench.run_until(at_ns(20'000'000));
  EXPECT_EQ(bench.side.next_flush(), kNever);
  bench.side.taken(at_ns(30'000'000), 50);
  bench.run_until(at_ns(60'000'000));
  EXPECT_EQ(bench.outputs.bytes, sent);
  EXPECT_EQ(bench.outputs.chunks[1].due.ns, 30'000'000);
}

// A chunk larger than the whole buffer would never fit.
TEST(HostSide, ABufferSmallerThanAChunkStillPassesEverything) {
  HostDescription tiny = bridge();
  tiny.buffer_bytes = 10;
  tiny.full = WhenFull::kHoldsTheBoard;
  Bench bench(tiny);
  bench.side.send(at_ns(0), std::string(64, 'a'), kFast);
  for (int i = 1; i < 20; ++i) {
    bench.run_until(at_ns(i * 10'000'000));
    bench.side.taken(at_ns(i * 10'000'000), 10);
  }
  EXPECT_EQ(bench.outputs.bytes.size(), 64U);
}

TEST(HostSide, WhatComesWhileNobodyListensIsGoneAndToldAtTheNextOpening) {
  Bench bench(bridge());
  bench.side.close(at_ns(1));
  bench.side.send(at_ns(10), std::string(30, 'x'), kFast);
  bench.run_until(at_ns(20'000'000));
  EXPECT_TRUE(bench.outputs.bytes.empty());
  EXPECT_TRUE(bench.outputs.notes.empty());
  bench.side.open(at_ns(21'000'000), false, bench.outputs);
  ASSERT_EQ(bench.outputs.notes.size(), 1U);
  EXPECT_EQ(bench.outputs.notes[0].kind, NoteKind::kNobodyListening);
  EXPECT_EQ(bench.outputs.notes[0].count, 30);
}

TEST(HostSide, WholeLinesAreOneChunkEachAtTheirLastByte) {
  Bench bench(bridge(), WireKind::kUart, true);
  const std::string longer(100, 'y');
  bench.side.send(at_ns(0), "one\n", kFast);
  bench.side.send(at_ns(0), longer, kFast);
  bench.run_until(at_ns(20'000'000));
  ASSERT_EQ(bench.outputs.chunks.size(), 2U);
  EXPECT_EQ(bench.outputs.bytes_of(bench.outputs.chunks[0]), "one\n");
  EXPECT_EQ(bench.outputs.chunks[0].due.ns, 40'000);
  EXPECT_EQ(bench.outputs.bytes_of(bench.outputs.chunks[1]), longer);
  EXPECT_EQ(bench.outputs.chunks[1].due.ns, 1'040'000);
}

TEST(HostSide, AGameThatTakesAtOnceNeverFillsTheBuffer) {
  HostDescription small = bridge();
  small.buffer_bytes = 64;
  Bench bench(small);
  bench.side.open(at_ns(1), true, bench.outputs);
  bench.side.send(at_ns(10), std::string(1'000, 'x'), kFast);
  bench.run_until(at_ns(200'000'000));
  EXPECT_EQ(bench.outputs.bytes.size(), 1'000U);
  EXPECT_EQ(bench.side.waiting(), 0);
}

}  // namespace
}  // namespace understudy
