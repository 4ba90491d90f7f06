// A receiver whose clock differs from the sender's, against a plain one that looks at every sample.
#include "sim/wire/receiver.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <array>

namespace understudy {
namespace {

// Sample k of a receiver at `own` baud falls on the sender's bit k * sender / (own * samples).
bool level_at(std::string_view sent, std::int64_t sample, std::int64_t sender, std::int64_t own,
              int samples) {
  const std::int64_t bit = sample * sender / (own * samples);
  const auto byte = static_cast<std::size_t>(bit / 10);
  if (byte >= sent.size()) return true;
  const std::int64_t place = bit % 10;
  if (place == 0) return false;
  if (place == 9) return true;
  return ((static_cast<unsigned char>(sent[byte]) >> (place - 1)) & 1) != 0;
}

// 8N1, one sample after the other, as the data sheet tells it.
ReceivedBytes plainly_received(std::string_view sent, std::int64_t sender, std::int64_t own,
                               int samples) {
  ReceivedBytes result;
  const std::int64_t end = static_cast<std::int64_t>(sent.size()) * 10 * own * samples / sender + 1;
  bool before = true;
  std::int64_t since_edge = -1;  // -1: idle; else samples since the first low one
  std::array<int, 3> votes{};
  unsigned byte = 0;
  for (std::int64_t k = 0; k < end + 20 * samples; ++k) {
    const bool level = level_at(sent, k, sender, own, samples);
    if (since_edge < 0) {
      if (before && !level && k < end) {
        since_edge = 0;
        byte = 0;
      }
      before = level;
      if (since_edge < 0) continue;
    }
    const std::int64_t bit = since_edge / samples;
    const std::int64_t place = since_edge % samples;
    ++since_edge;
    const std::int64_t vote = place - (samples / 2 - 1);
    if (vote >= 0 && vote < 3) votes[static_cast<std::size_t>(vote)] = level ? 1 : 0;
    if (vote != 2) continue;
    const bool high = votes[0] + votes[1] + votes[2] >= 2;
    before = level;
    if (bit == 0 && high) {
      since_edge = -1;
    } else if (bit >= 1 && bit <= 8) {
      byte |= (high ? 1U : 0U) << (bit - 1);
    } else if (bit == 9) {
      result.bytes += static_cast<char>(byte);
      result.frame_errors += high ? 0 : 1;
      before = high;  // after a good stop bit a low is an edge; after a bad one a high must come
      since_edge = -1;
    }
  }
  return result;
}

ReceivedBytes by_model(std::string_view sent, std::int64_t sender, std::int64_t own, int samples) {
  return received(sent,
                  {.sender_baud = {sender, 1}, .own_baud = {own, 1}, .samples_per_bit = samples});
}

constexpr std::string_view kTramLines = "512,300,0,0,1\n511,300,0,0,1\n0,1023,1,1,0\n";

TEST(Receiver, ReadsEveryByteOfASenderAtItsOwnSpeed) {
  std::string all;
  for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
  for (const int samples : {8, 16}) {
    const ReceivedBytes read = by_model(all, 115'200, 115'200, samples);
    EXPECT_EQ(read.bytes, all);
    EXPECT_EQ(read.frame_errors, 0);
  }
}

// 2.12 % is inside of the range that the data sheet gives for eight samples (8271H, 20.8.3).
TEST(Receiver, StandsTheTwoPercentThatADividerCosts) {
  EXPECT_EQ(by_model(kTramLines, 117'647, 115'200, 16).bytes, kTramLines);
  EXPECT_EQ(by_model(kTramLines, 115'200, 117'647, 8).bytes, kTramLines);
}

TEST(Receiver, ReadsGarbageAndFramingErrorsAtAnotherSpeed) {
  const ReceivedBytes slow_sender = by_model(kTramLines, 9'600, 115'200, 16);
  EXPECT_NE(slow_sender.bytes, kTramLines);
  EXPECT_GT(slow_sender.frame_errors, 0);
  const ReceivedBytes fast_sender = by_model(kTramLines, 115'200, 9'600, 16);
  EXPECT_LT(fast_sender.bytes.size(), kTramLines.size());
}

TEST(Receiver, ReadsALowLineAsZeroWithAFramingError) {
  // 0x00 sent at a twentieth of the speed holds the line low for many of the receiver's frames.
  const ReceivedBytes read = by_model(std::string(1, '\0'), 5'760, 115'200, 16);
  ASSERT_FALSE(read.bytes.empty());
  EXPECT_EQ(read.bytes[0], '\0');
  EXPECT_GT(read.frame_errors, 0);
}

TEST(Receiver, ReadsWhatAPlainOneReadsWhateverTheSpeeds) {
  EXPECT_TRUE(rc::check("against the plain receiver", [] {
    const auto sent = *rc::gen::container<std::string>(rc::gen::arbitrary<char>());
    const auto sender = *rc::gen::resize(100, rc::gen::inRange<std::int64_t>(300, 300'000));
    const auto own = *rc::gen::resize(100, rc::gen::inRange<std::int64_t>(300, 300'000));
    const int samples = *rc::gen::element(8, 16);
    const ReceivedBytes plain = plainly_received(sent, sender, own, samples);
    const ReceivedBytes model = by_model(sent, sender, own, samples);
    RC_ASSERT(model.bytes == plain.bytes);
    RC_ASSERT(model.frame_errors == plain.frame_errors);
  }));
}

// A hostile speed must not cost time: the work follows the bits, not the ratio.
TEST(Receiver, AnswersAtOnceForTheMostUnequalSpeeds) {
  const std::string much(4'096, 'U');
  EXPECT_LE(by_model(much, 50, 1'000'000'000, 16).bytes.size(), 5 * much.size());
  EXPECT_LE(by_model(much, 1'000'000'000, 50, 16).bytes.size(), 1U);
}

}  // namespace
}  // namespace understudy
