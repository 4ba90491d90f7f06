// Contacts of a control that clicks from zone to zone as it moves: a quadrature encoder, a
// selector. Which contacts conduct follows from the zone; each one that changed at the last border
// chatters.
//
//   encoder, up  A __/~~~~~~~\________/~~~    selector,        1 ~~~~~\_________
//                B ______/~~~~~~~\________    break first      2 ________/~~~~~~
//           zone  0 | 1 | 2 | 3 | 0 | 1               zone     0   | 1 |   2
//
// Sources: quadrature code of two contacts a quarter of a pulse apart (Bourns PEC11R data sheet,
// its table of the quadrature output); make before break and break before make as the trade uses
// them. How wide a gap is: a fifth of the way between two places (common practice, no source).
#pragma once

#include <cstdint>

#include "sim/base/random.h"
#include "sim/controls/contact.h"
#include "sim/controls/gesture.h"
#include "sim/model/panel_description.h"

namespace understudy {

// Where the borders lie and what conducts between them. Constant once made.
class Clicks {
 public:
  Clicks() = default;
  explicit Clicks(const EncoderPart& encoder);
  explicit Clicks(const SelectorPart& selector);

  // The zone at a position in ppm of the travel (or of a turn).
  [[nodiscard]] std::int64_t zone_of(std::int32_t position_ppm) const;
  // The least position that is in `zone` or above.
  [[nodiscard]] std::int32_t border(std::int64_t zone) const;
  // The detent nearest to a position, where the knob comes to rest; the position itself where an
  // encoder has none.
  [[nodiscard]] std::int32_t settled(std::int32_t position_ppm) const;
  // Whether a contact conducts: 0 and 1 are A and B of an encoder, the n-th place of a selector.
  [[nodiscard]] bool conducts(std::int64_t zone, int contact) const;

 private:
  [[nodiscard]] bool selector_conducts(std::int64_t zone, int contact) const;
  enum class Kind : std::uint8_t { kEncoder, kSelector };
  Kind kind_ = Kind::kEncoder;
  std::int64_t per_travel_ = 96;  // quarters a turn, or places less one
  std::int64_t detents_ = 0;      // a turn
  bool makes_first_ = false;
};

// What a running control remembers of its clicks beside its gesture. A regular value.
class ClickedContacts {
 public:
  // The gesture is about to be changed at t.
  void before_move(Instant t, const Gesture& gesture, const Clicks& clicks);
  // Whether a contact conducts at t, chatter included; `bounce` is the stream of its chatter, which
  // nobody draws from.
  [[nodiscard]] bool conducts(Instant t, int contact, const Gesture& gesture, const Clicks& clicks,
                              const ContactPart& part, const Stream& bounce) const;
  // Quarters turned since power-on, as a program that is interrupted by every edge counts them.
  [[nodiscard]] std::int64_t quarters(Instant t, const Gesture& gesture, const Clicks& clicks,
                                      const ContactPart& part, const Stream& bounce) const;

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(borders_crossed_);
    digest.add(quarters_before_);
  }

 private:
  struct LastBorder {
    bool any = false;  // crossed one since the last move began
    std::int64_t zone = 0;
    std::int64_t zone_before = 0;
    Instant at;
    std::int64_t number = 0;  // of all the borders that it ever crossed
  };
  [[nodiscard]] LastBorder last_border(Instant t, const Gesture& gesture,
                                       const Clicks& clicks) const;
  [[nodiscard]] static bool chatters_back(const LastBorder& last, Instant t,
                                          const ContactPart& part, const Stream& bounce);
  std::int64_t borders_crossed_ = 0;  // before the last move
  std::int64_t quarters_before_ = 0;
};

}  // namespace understudy
