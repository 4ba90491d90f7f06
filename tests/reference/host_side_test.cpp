// The USB bridge's packets against application note AN232B-04: 62 bytes of the user's in a packet,
// a latency timer of 16 ms that starts anew at each packet.
#include "sim/wire/host_side.h"

#include <gtest/gtest.h>

#include <string>

namespace understudy {
namespace {

constexpr HostDescription kBridge{.flush = milliseconds(16),
                                  .chunk_bytes_max = 62,
                                  .buffer_bytes = 16'384,
                                  .write_buffer_bytes = 2'048,
                                  .full = WhenFull::kDropsNewest,
                                  .dtr = DtrMeans::kNothing};

Ratio byte_at(std::int64_t baud) {
  return {10'000'000'000, baud};
}

// Sends without a pause for so long and gives what came of it.
StepOutputs continuous(std::int64_t baud, Duration length) {
  HostSide host(kBridge, WireKind::kUart, false);
  StepOutputs outputs;
  host.open(Instant{0}, true, outputs);
  Instant t;
  while (t < Instant{0} + length) {
    host.send(t, std::string(10, 'x'), byte_at(baud));
    t = host.flight().free_at();
    while (host.next_flush() <= t) host.flush(kBridge, outputs);
  }
  return outputs;
}

TEST(Bridge, TenBytesThenSilenceComeWithTheTimerAfterTheLastPacket) {
  HostSide host(kBridge, WireKind::kUart, false);
  StepOutputs outputs;
  host.open(Instant{0}, true, outputs);
  host.send(Instant{3'000'000}, std::string(62, 'a'), byte_at(115'200));
  while (host.next_flush() <= Instant{10'000'000}) host.flush(kBridge, outputs);
  ASSERT_EQ(outputs.chunks.size(), 1U);
  const Instant last_packet = outputs.chunks[0].due;
  host.send(Instant{10'000'000}, std::string(10, 'b'), byte_at(115'200));
  while (host.next_flush() <= Instant{100'000'000}) host.flush(kBridge, outputs);
  ASSERT_EQ(outputs.chunks.size(), 2U);
  EXPECT_EQ(outputs.chunks[1].size, 10U);
  EXPECT_NEAR(static_cast<double>((outputs.chunks[1].due - last_packet).ns), 16e6, 1e6);
}

TEST(Bridge, At115200TheSixtySecondByteSendsThePacketAfter5382Microseconds) {
  const StepOutputs outputs = continuous(115'200, seconds(1));
  ASSERT_GT(outputs.chunks.size(), 100U);
  EXPECT_NEAR(static_cast<double>(outputs.chunks[0].due.ns), 5.382e6, 1e6);
  for (std::size_t i = 1; i < outputs.chunks.size(); ++i) {
    ASSERT_EQ(outputs.chunks[i].size, 62U);
    const Duration gap = outputs.chunks[i].due - outputs.chunks[i - 1].due;
    ASSERT_NEAR(static_cast<double>(gap.ns), 5.382e6, 1e3);
  }
}

TEST(Bridge, At9600EachPacketHasFifteenOrSixteenBytes) {
  const StepOutputs outputs = continuous(9'600, seconds(16));
  double bytes = 0;
  for (std::size_t i = 1; i < outputs.chunks.size(); ++i) {
    ASSERT_GE(outputs.chunks[i].size, 15U);
    ASSERT_LE(outputs.chunks[i].size, 16U);
    bytes += static_cast<double>(outputs.chunks[i].size);
  }
  EXPECT_NEAR(bytes / static_cast<double>(outputs.chunks.size() - 1), 15.36, 0.1);
}

}  // namespace
}  // namespace understudy
