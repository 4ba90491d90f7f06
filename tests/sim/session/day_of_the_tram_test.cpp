// The promise across compilers: a whole day of the tram panel, hands wandering, has one digest that
// is written down here. Every compiler at every level of optimisation is held to the same number.
// (The bytes are those that `emit` writes; the digest covers their times and the hands as well.)
#include <gtest/gtest.h>

#include <cstdint>

#include "sim/model/version.h"
#include "sim/session/session.h"
#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

// FNV-1a, 64 bits (Fowler, Noll, Vo; the offset and prime are those of its authors).
class Fnv1a {
 public:
  void add(std::string_view bytes) {
    for (const char c : bytes) {
      hash_ ^= static_cast<unsigned char>(c);
      hash_ *= 0x100000001b3ULL;
    }
  }
  void add(std::int64_t number) {
    for (int i = 0; i < 8; ++i) add(std::string(1, static_cast<char>(number >> (8 * i))));
  }
  [[nodiscard]] std::uint64_t value() const { return hash_; }

 private:
  std::uint64_t hash_ = 0xcbf29ce484222325ULL;
};

// When this number has to change, some stage gives other bytes than before: count the model up in
// sim/model/version.h, so that older recordings are told apart.
constexpr int kWrittenForModel = 2;
constexpr std::uint64_t kDigestOfTheDay = 986527072911910810ULL;
constexpr std::uint64_t kFingerprintOfTheDay = 15537089587817583860ULL;

TEST(DayOfTheTram, HasTheSameBytesDuesAndFingerprintEverywhere) {
  ASSERT_EQ(kModelNumber, kWrittenForModel);
  Session session(1);
  session.add_seat({.name = "tram",
                    .panel = tram_panel(),
                    .whole_lines = false,
                    .play = PlayKind::kWander,
                    .observed = false});
  SessionOutputs outputs;
  const SeatInput open{0, {at_ms(1), LinkOpened{.dtr = true, .takes_at_once = true}}};
  session.step(at_ms(1), std::span(&open, 1), outputs);
  Fnv1a digest;
  for (std::int64_t minute = 1; minute <= 24 * 60; ++minute) {
    // A game that drives the lamps, now and then, with a line torn in two.
    const Instant from = session.now();
    const SeatInput lamps[] = {
        {0, {from + milliseconds(7), BytesFromGame{"255,0," + std::to_string(minute % 256)}}},
        {0, {from + milliseconds(9), BytesFromGame{",90,31,130\n"}}}};
    session.step(at(seconds(60 * minute)), lamps, outputs);
    digest.add(outputs.seats[0].bytes);
    for (const Chunk& chunk : outputs.seats[0].chunks) digest.add(chunk.due.ns);
    for (const OutputChange& change : outputs.seats[0].changes) digest.add(change.number);
  }
  EXPECT_EQ(digest.value(), kDigestOfTheDay);
  EXPECT_EQ(session.fingerprint(), kFingerprintOfTheDay);
}

}  // namespace
}  // namespace understudy
