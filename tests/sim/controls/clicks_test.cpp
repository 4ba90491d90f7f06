// Encoders and selectors: which contacts conduct where, and how their borders chatter.
#include "sim/controls/clicks.h"

#include <gtest/gtest.h>

namespace understudy {
namespace {

constexpr std::int32_t kDetent = kWholeTurn / 24;

struct Turned {
  explicit Turned(const EncoderPart& part, const ContactPart& with = {})
      : clicks(part), contact(with), bounce(1, "knob.bounce") {}
  void turn(Instant t, std::int32_t by, Duration in) {
    contacts.before_move(t, gesture, clicks);
    gesture.turn(t, by, in, Curve::kLinear);
  }
  [[nodiscard]] bool a(Instant t) const {
    return contacts.conducts(t, 0, gesture, clicks, contact, bounce);
  }
  [[nodiscard]] bool b(Instant t) const {
    return contacts.conducts(t, 1, gesture, clicks, contact, bounce);
  }
  [[nodiscard]] std::int64_t quarters(Instant t) const {
    return contacts.quarters(t, gesture, clicks, contact, bounce);
  }
  Clicks clicks;
  ContactPart contact;
  Gesture gesture;
  ClickedContacts contacts;
  Stream bounce;
};

Instant ms(std::int64_t n) {
  return Instant{} + milliseconds(n);
}

TEST(Encoder, OneContactChangesAtATimeAndALeadsWhenTurnedUp) {
  Turned knob(EncoderPart{});
  knob.turn(ms(0), kWholeTurn, seconds(24));  // a detent a second, a quarter every 250 ms
  bool a_before = knob.a(ms(0));
  bool b_before = knob.b(ms(0));
  int changes = 0;
  for (std::int64_t t = 1; t <= 24'000; ++t) {
    const bool a = knob.a(ms(t));
    const bool b = knob.b(ms(t));
    ASSERT_FALSE(a != a_before && b != b_before) << t;
    ASSERT_FALSE(a && !a_before && b) << "A closes first when turned up, " << t;
    changes += a != a_before || b != b_before ? 1 : 0;
    a_before = a;
    b_before = b;
  }
  EXPECT_EQ(changes, 96);  // 24 pulses a turn have 96 edges
}

TEST(Encoder, RestsOnItsDetentsWithBothContactsOpenHoweverItWasTurned) {
  Turned knob(EncoderPart{});
  Instant t = ms(0);
  for (const int clicks : {1, 5, -3, 17, -40, 1, 1}) {
    knob.turn(t, clicks * kDetent, milliseconds(7));
    t = t + milliseconds(50);
    EXPECT_FALSE(knob.a(t) || knob.b(t));
    EXPECT_EQ(knob.quarters(t) % 4, 0);
  }
  EXPECT_EQ(knob.quarters(t), 4 * (1 + 5 - 3 + 17 - 40 + 1 + 1));
}

TEST(Encoder, AMoveThatIsInterruptedStillEndsOnTheDetentThatWasMeant) {
  Turned knob(EncoderPart{});
  knob.turn(ms(0), 3 * kDetent, milliseconds(100));
  knob.turn(ms(40), 2 * kDetent, milliseconds(100));
  EXPECT_EQ(knob.quarters(ms(500)), 20);
}

TEST(Encoder, TurnsForEverWithoutLosingItsPhase) {
  Turned knob(EncoderPart{});
  Instant t = ms(0);
  for (int i = 0; i < 5'000; ++i) {
    knob.turn(t, kWholeTurn, milliseconds(1));
    t = t + milliseconds(2);
  }
  EXPECT_EQ(knob.quarters(t), 5'000 * 96);
  EXPECT_LE(knob.gesture.position_ppm(t), kTurnedMost);
}

TEST(Encoder, ChattersOnlyAfterABorderAndOnlyOnTheContactThatChanged) {
  const ContactPart worn{.bounce_mean_ns = 1'000'000, .bounce_max_ns = 2'000'000};
  Turned knob(EncoderPart{}, worn);
  knob.turn(ms(0), kDetent, milliseconds(400));  // borders at 50, 150, 250, 350 ms
  int chatter = 0;
  bool before = false;
  for (std::int64_t us = 0; us < 150'000; us += 10) {
    const Instant t = Instant{} + microseconds(us);
    ASSERT_FALSE(knob.b(t)) << us;
    ASSERT_FALSE(us < 49'990 && knob.a(t)) << us;
    ASSERT_TRUE(us <= 52'100 || knob.a(t)) << us;
    chatter += knob.a(t) != before ? 1 : 0;
    before = knob.a(t);
  }
  EXPECT_GT(chatter, 1);
  EXPECT_EQ(chatter % 2, 1);
}

TEST(Encoder, HowOftenItIsLookedAtChangesNothing) {
  const ContactPart worn{.bounce_mean_ns = 700'000, .bounce_max_ns = 2'000'000};
  Turned seldom(EncoderPart{}, worn);
  Turned often(EncoderPart{}, worn);
  for (Turned* knob : {&seldom, &often}) {
    knob->turn(ms(0), 7 * kDetent, milliseconds(90));
    if (knob == &often)
      for (std::int64_t us = 0; us < 60'000; us += 13) (void)knob->a(Instant{} + microseconds(us));
    knob->turn(ms(60), -9 * kDetent, milliseconds(80));
  }
  for (std::int64_t us = 60'000; us < 160'000; us += 101) {
    const Instant t = Instant{} + microseconds(us);
    ASSERT_EQ(seldom.a(t), often.a(t));
    ASSERT_EQ(seldom.quarters(t), often.quarters(t));
  }
}

// 24 clicks of 41'667 ppm are 8 ppm more than a turn; a knob settles in its detents all the same.
TEST(Encoder, SettlesInTheNearestDetent) {
  const Clicks clicks(EncoderPart{.detents = 24});
  EXPECT_EQ(clicks.settled(41'000), 41'667);
  EXPECT_EQ(clicks.settled(-41'000), -41'667);
  EXPECT_EQ(clicks.settled(20'000), 0);
  EXPECT_EQ(clicks.settled(1'000'008), 1'000'000);
  EXPECT_EQ(Clicks(EncoderPart{.detents = 0}).settled(41'000), 41'000);
}

struct Selected {
  explicit Selected(const SelectorPart& part)
      : clicks(part), bounce(1, "mode.bounce"), places(part.places) {}
  [[nodiscard]] int closed_count(Instant t) const {
    int count = 0;
    for (int place = 0; place < places; ++place)
      count += contacts.conducts(t, place, gesture, clicks, {}, bounce) ? 1 : 0;
    return count;
  }
  Clicks clicks;
  Gesture gesture;
  ClickedContacts contacts;
  Stream bounce;
  int places;
};

TEST(Selector, AtEachPlaceThatPlaceAloneConducts) {
  Selected mode(SelectorPart{.places = 5});
  for (int place = 0; place < 5; ++place) {
    mode.gesture.move(ms(place), place * 250'000, {}, Curve::kAtOnce);
    for (int other = 0; other < 5; ++other)
      EXPECT_EQ(
          mode.contacts.conducts(ms(place), other, mode.gesture, mode.clicks, {}, mode.bounce),
          other == place);
  }
}

// What the words say: break before make leaves a gap, make before break an overlap.
TEST(Selector, BetweenTwoPlacesNoneConductsOrBothDo) {
  for (const bool makes_first : {false, true}) {
    Selected mode(SelectorPart{.places = 4, .makes_first = makes_first});
    mode.gesture.move(ms(0), kFullTravel, milliseconds(3'000), Curve::kLinear);
    EXPECT_EQ(mode.closed_count(ms(0)), 1);
    EXPECT_EQ(mode.closed_count(ms(500)), makes_first ? 2 : 0);
    EXPECT_EQ(mode.closed_count(ms(1'000)), 1);
    EXPECT_EQ(mode.closed_count(ms(2'500)), makes_first ? 2 : 0);
    EXPECT_EQ(mode.closed_count(ms(3'000)), 1);
  }
}

TEST(Clicks, TheBorderOfAZoneIsItsLeastPosition) {
  const Clicks knob(EncoderPart{.detents = 24, .pulses = 12});
  const Clicks mode(SelectorPart{.places = 7});
  for (const Clicks* clicks : {&knob, &mode}) {
    const std::int64_t lowest = clicks == &knob ? -40 : 1;
    const std::int64_t highest = clicks == &knob ? 40 : 12;
    for (std::int64_t zone = lowest; zone <= highest; ++zone) {
      EXPECT_EQ(clicks->zone_of(clicks->border(zone)), zone);
      EXPECT_EQ(clicks->zone_of(clicks->border(zone) - 1), zone - 1);
    }
  }
}

}  // namespace
}  // namespace understudy
