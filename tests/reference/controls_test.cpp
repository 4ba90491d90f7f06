// Hands, pots and contacts against published curves and measurements.
#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

#include "sim/controls/contact.h"
#include "sim/controls/gesture.h"
#include "sim/controls/pot.h"

namespace understudy {
namespace {

// y = (b^x - 1) / (b - 1), b = (1/m - 1)^2: the exponential through 0, m and 1 (algebra).
TEST(Taper, TheExponentialOfTenPercentAtItsQuarters) {
  EXPECT_NEAR(exponential_taper(0.1, 256), 0.025, 1e-12);
  EXPECT_NEAR(exponential_taper(0.1, 512), 0.100, 1e-12);
  EXPECT_NEAR(exponential_taper(0.1, 768), 0.325, 1e-12);
  EXPECT_NEAR(exponential_taper(0.1, 0), 0.0, 1e-12);
  EXPECT_NEAR(exponential_taper(0.1, 1'024), 1.0, 1e-12);
}

TEST(Taper, TheTrackFollowsItsCurveAndTheAntilogIsItTurnedOver) {
  PotPart pot;
  pot.taper = Taper::kLog;
  pot.middle_ppm = 100'000;
  const Track log(pot);
  EXPECT_NEAR(static_cast<double>(log.share_ppb(500'000)), 0.1e9, 1);
  EXPECT_NEAR(static_cast<double>(log.share_ppb(250'000)), 0.025e9, 1);
  pot.taper = Taper::kAntilog;
  pot.middle_ppm = 900'000;
  const Track antilog(pot);
  EXPECT_NEAR(static_cast<double>(antilog.share_ppb(500'000)), 0.9e9, 1);
  EXPECT_NEAR(static_cast<double>(antilog.share_ppb(750'000)), 0.975e9, 1);
}

// "15A", the two-line law that makers print as an audio taper: 0 / 7.5 / 15 / 57.5 / 100 % at the
// quarters of the travel (common maker curve, from memory).
TEST(Taper, TheTwoLineAudioTaperOfFifteenPercent) {
  PotPart pot;
  pot.middle_ppm = 150'000;
  const Track track(pot);
  EXPECT_EQ(track.share_ppb(0), 0);
  EXPECT_EQ(track.share_ppb(250'000), 75'000'000);
  EXPECT_EQ(track.share_ppb(500'000), 150'000'000);
  EXPECT_EQ(track.share_ppb(750'000), 575'000'000);
  EXPECT_EQ(track.share_ppb(1'000'000), 1'000'000'000);
}

// The divider's algebra: half a 10 kohm track loaded by 10 kohm gives 5 || 10 over 5 + 5 || 10 =
// 0.4 of the supply; unloaded, and at both ends, the load changes nothing.
TEST(Loading, HalfOfATrackLoadedByItsOwnResistanceGivesFourTenths) {
  PotPart pot;
  pot.load_mohm = 10'000'000;
  const Track loaded(pot);
  EXPECT_EQ(loaded.share_ppb(500'000), 400'000'000);
  EXPECT_EQ(loaded.share_ppb(0), 0);
  EXPECT_EQ(loaded.share_ppb(1'000'000), 1'000'000'000);
  pot.load_mohm = 100'000'000'000;  // 100 Mohm, as a converter's input (data sheet 8161D): nothing
  EXPECT_NEAR(static_cast<double>(Track(pot).share_ppb(500'000)), 0.5e9, 0.5e9 * 3e-5);
}

// Bourns PTV09 data sheet: up to 500 ohm of a 10 kohm track is never reached at an end, which at 10
// bits is 51 codes.
TEST(Ends, ResidualResistanceLosesFiftyOneCodes) {
  PotPart pot;
  pot.end_low_ppm = 50'000;
  const std::int64_t share = Track(pot).share_ppb(0);
  EXPECT_EQ(share * 1'024 / kWholeTrackPpb, 51);
}

// Flash and Hogan, J. Neurosci. 5 (1985): 10 s^3 - 15 s^4 + 6 s^5; its speed peaks at 1.875 of the
// mean, its acceleration at 5.7735 at s = 0.2113 (values worked out from the polynomial).
TEST(MinimumJerk, TheCurveAndItsPeaks) {
  EXPECT_NEAR(minimum_jerk(0.25), 0.103515625, 1e-9);
  EXPECT_NEAR(minimum_jerk(0.5), 0.5, 1e-9);
  EXPECT_NEAR(minimum_jerk(0.75), 0.896484375, 1e-9);
  constexpr double kStep = 1e-4;
  double fastest = 0;
  double hardest = 0;
  for (double s = kStep; s < 1 - kStep; s += kStep) {
    const double ahead = minimum_jerk(s + kStep);
    const double behind = minimum_jerk(s - kStep);
    fastest = std::max(fastest, (ahead - behind) / (2 * kStep));
    hardest = std::max(hardest, (ahead - 2 * minimum_jerk(s) + behind) / (kStep * kStep));
  }
  EXPECT_NEAR(fastest, 1.875, 1e-6);
  EXPECT_NEAR(hardest, 5.773503, 1e-5);
}

// A plain debouncer as books have it: a new level counts once it was stable for T.
int edges_reported(const std::vector<bool>& level_per_ms_tenth, int stable_tenths) {
  bool reported = level_per_ms_tenth.front();
  bool seen = reported;
  int since = 0;
  int edges = 0;
  for (const bool level : level_per_ms_tenth) {
    since = level == seen ? since + 1 : 0;
    seen = level;
    if (level != reported && since >= stable_tenths) {
      reported = level;
      ++edges;
    }
  }
  return edges;
}

// J. Ganssle, "A Guide to Debouncing", switch E as quoted in an open library's notes (second hand):
// pressed, solid for 81 ms, then open for 42 ms, then closed for good.
TEST(Bounce, TheWorstMeasuredSwitchDefeatsADebouncerOf20MillisecondsButNotOneOf50) {
  std::vector<bool> trace(100, false);
  trace.insert(trace.end(), 810, true);
  trace.insert(trace.end(), 420, false);
  trace.insert(trace.end(), 2'000, true);
  EXPECT_EQ(edges_reported(trace, 200), 3);
  EXPECT_EQ(edges_reported(trace, 500), 1);
}

ContactPart measured_switch() {
  ContactPart part;
  part.bounce_mean_ns = 1'557'000;
  part.bounce_max_ns = 6'200'000;
  return part;
}

// The same source: 16 switches bounced 1557 us on average, 6200 us at most. So a debouncer of
// 6.2 ms or more reports exactly one edge for each press of ours.
TEST(Bounce, ADebouncerOf62TenthsOfAMillisecondReportsEachPressOnce) {
  const ContactPart part = measured_switch();
  Stream chance(1, "bounce");
  Contact contact(false);
  Instant t{1'000'000};
  for (int press = 0; press < 500; ++press) {
    const bool down = press % 2 == 0;
    contact.change(t, down, part, chance);
    std::vector<bool> trace(1, !down);
    for (int tenth = 0; tenth < 200; ++tenth)
      trace.push_back(contact.closed_at(t + microseconds(100 * tenth), part, chance));
    ASSERT_EQ(edges_reported(trace, 62), 1);
    ASSERT_EQ(trace.back(), down);
    t = t + milliseconds(50);
  }
}

TEST(Bounce, ItsLengthIsExponentialUpToItsLongest) {
  const ContactPart part = measured_switch();
  Stream chance(3, "lengths");
  double sum = 0;
  constexpr int kChanges = 10'000;
  int at_cap = 0;
  for (int i = 0; i < kChanges; ++i) {
    const Bounce bounce = bounce_of(part, chance);
    for (int draw = 0; draw < 20; ++draw) chance.bits();
    ASSERT_EQ(bounce.edge_count % 2, 0);
    if (bounce.edge_count == 0) continue;
    const std::int64_t length = bounce.edges[bounce.edge_count - 1].ns;
    ASSERT_LE(length, part.bounce_max_ns);
    ASSERT_TRUE(std::is_sorted(bounce.edges, bounce.edges + bounce.edge_count));
    at_cap += length == part.bounce_max_ns ? 1 : 0;
    sum += static_cast<double>(length);
  }
  // min(X, c) of an exponential X has the mean m (1 - e^(-c/m)): 1.528 ms; its share at the cap is
  // e^(-c/m) = 1.865 %. Four standard deviations of 10^4.
  EXPECT_NEAR(sum / kChanges, 1.528e6, 4 * 1.45e6 / 100);
  EXPECT_NEAR(at_cap / 1e4, 0.01865, 4 * 0.00135);
}

}  // namespace
}  // namespace understudy
