// What one control of a running device remembers: where the hand holds it, its contact, its noise.
#pragma once

#include <string>

#include "sim/base/random.h"
#include "sim/controls/contact.h"
#include "sim/controls/gesture.h"
#include "sim/model/inputs.h"
#include "sim/model/panel_description.h"

namespace understudy {

// A regular value. Times handed in never go back.
class ControlState {
 public:
  ControlState() = default;
  ControlState(const ControlDescription& control, std::uint64_t seed, const std::string& key);

  void move(Instant t, const HandAction& action, const ContactPart& part);
  [[nodiscard]] std::int32_t position_ppm(Instant t) const { return gesture_.position_ppm(t); }
  [[nodiscard]] const Gesture& gesture() const { return gesture_; }

  // Whether its contact conducts at t, chatter included.
  bool closed(Instant t, const ContactPart& part) {
    settle(t, part);
    return contact_.closed_at(t, part);
  }
  // The digital level last read: what a pin between its thresholds keeps.
  bool level_before = true;

  Stream noise;

  template <class Digest>
  void add_to(Digest& digest) const {
    gesture_.add_to(digest);
    contact_.add_to(digest);
    digest.add(change_at_.ns);
    digest.add(change_to_);
    digest.add(level_before);
    digest.add(noise.count());
    digest.add(bounce_.count());
  }

 private:
  // A button or switch changes when the hand is half way; done when somebody looks after that.
  void settle(Instant t, const ContactPart& part) {
    if (t < change_at_) return;
    contact_.change(change_at_, change_to_, part, bounce_);
    change_at_ = kNever;
  }
  Gesture gesture_;
  Contact contact_;
  Instant change_at_ = kNever;
  bool change_to_ = false;
  Stream bounce_;
};

}  // namespace understudy
