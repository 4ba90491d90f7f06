// What one part of a control that a hand moves remembers: where the hand holds it, its contacts,
// its noise. A stick has three of them, a sensor none.
#pragma once

#include <string>

#include "sim/base/random.h"
#include "sim/controls/clicks.h"
#include "sim/controls/contact.h"
#include "sim/controls/gesture.h"
#include "sim/model/inputs.h"
#include "sim/model/kinds.h"

namespace understudy {

// What is constant about it.
struct MovedPartPlan {
  HandWay way = HandWay::kSlides;
  std::int32_t rest_ppm = 0;
  ContactPart contact;
  Clicks clicks;  // of a selector or encoder
};

// A regular value. Times handed in never go back.
class MovedPart {
 public:
  MovedPart() = default;
  // `key` is the written name that its streams are keyed by.
  MovedPart(const MovedPartPlan& plan, std::uint64_t seed, const std::string& key);

  void move(Instant t, const HandAction& action, const MovedPartPlan& plan);
  // It is the same part as one before its board was written anew: it lies where that lay, moves as
  // that moved, and draws on where that stopped. What pins had read is forgotten.
  void go_on_from(const MovedPart& before) {
    const std::uint64_t levels = levels_before;
    *this = before;
    levels_before = levels;
  }
  [[nodiscard]] std::int32_t position_ppm(Instant t) const { return gesture_.position_ppm(t); }
  [[nodiscard]] const Gesture& gesture() const { return gesture_; }

  // Whether its contact conducts at t, chatter included.
  bool closed(Instant t, const ContactPart& part) {
    settle(t, part);
    return contact_.closed_at(t, part, bounce_);
  }
  // The same of one of the contacts of what clicks.
  [[nodiscard]] bool closed(Instant t, int contact, const MovedPartPlan& plan) const {
    return clicked_.conducts(t, contact, gesture_, plan.clicks, plan.contact, bounce_);
  }
  [[nodiscard]] std::int64_t quarters(Instant t, const MovedPartPlan& plan) const {
    return clicked_.quarters(t, gesture_, plan.clicks, plan.contact, bounce_);
  }
  // The digital levels last read, a bit for each of its pins: what a pin between its thresholds
  // keeps.
  std::uint64_t levels_before = 0;

  Stream noise;

  template <class Digest>
  void add_to(Digest& digest) const {
    gesture_.add_to(digest);
    contact_.add_to(digest);
    clicked_.add_to(digest);
    digest.add(change_at_.ns);
    digest.add(change_to_);
    digest.add(levels_before);
    digest.add(noise.count());
    digest.add(bounce_.count());
  }

 private:
  void turn(Instant t, const HandAction& action, const Clicks& clicks);
  // A button or switch changes when the hand is half way; done when somebody looks after that.
  void settle(Instant t, const ContactPart& part) {
    if (t < change_at_) return;
    contact_.change(change_at_, change_to_, part, bounce_);
    change_at_ = kNever;
  }
  Gesture gesture_;
  Contact contact_;
  ClickedContacts clicked_;
  Instant change_at_ = kNever;
  bool change_to_ = false;
  Stream bounce_;
};

}  // namespace understudy
