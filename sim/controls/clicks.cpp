// Zones in whole numbers, and the chatter at their borders.
#include "sim/controls/clicks.h"

#include <cstdlib>

namespace understudy {
namespace {

constexpr std::int64_t kMillion = 1'000'000;
// The zone of a place ends at two fifths of the way to the next, whose zone begins at three fifths.
constexpr std::int64_t kGapBegins = 400'000;
constexpr std::int64_t kGapEnds = 600'000;

std::int64_t floor_of(std::int64_t num, std::int64_t den) {
  return num >= 0 ? num / den : -((den - 1 - num) / den);
}
std::int64_t ceiling_of(std::int64_t num, std::int64_t den) {
  return -floor_of(-num, den);
}
std::int64_t modulo(std::int64_t value, std::int64_t by) {
  return value - by * floor_of(value, by);
}

}  // namespace

Clicks::Clicks(const EncoderPart& encoder)
    : kind_(Kind::kEncoder),
      per_travel_(4 * std::int64_t{encoder.pulses}),
      detents_(encoder.detents) {}

Clicks::Clicks(const SelectorPart& selector)
    : kind_(Kind::kSelector),
      per_travel_(selector.places - 1),
      makes_first_(selector.makes_first) {}

// An encoder rests in the middle of a quarter, so that its detents lie away from the borders.
std::int64_t Clicks::zone_of(std::int32_t position_ppm) const {
  const std::int64_t way = position_ppm * per_travel_;
  if (kind_ == Kind::kEncoder) return floor_of(way + kMillion / 2, kMillion);
  const std::int64_t place = floor_of(way, kMillion);
  const std::int64_t beyond = way - place * kMillion;
  return 2 * place + (beyond >= kGapBegins ? 1 : 0) + (beyond >= kGapEnds ? 1 : 0);
}

std::int32_t Clicks::border(std::int64_t zone) const {
  if (kind_ == Kind::kEncoder)
    return static_cast<std::int32_t>(ceiling_of(zone * kMillion - kMillion / 2, per_travel_));
  const std::int64_t place = floor_of(zone - 1, 2);
  const std::int64_t way = place * kMillion + (modulo(zone, 2) == 1 ? kGapBegins : kGapEnds);
  return static_cast<std::int32_t>(ceiling_of(way, per_travel_));
}

std::int32_t Clicks::settled(std::int32_t position_ppm) const {
  if (detents_ == 0) return position_ppm;
  const std::int64_t detent = floor_of(position_ppm * detents_ + kMillion / 2, kMillion);
  return static_cast<std::int32_t>(floor_of(detent * kMillion + detents_ / 2, detents_));
}

bool Clicks::conducts(std::int64_t zone, int contact) const {
  if (kind_ == Kind::kSelector) return selector_conducts(zone, contact);
  const std::int64_t quarter = modulo(zone, 4);
  return contact == 0 ? quarter == 1 || quarter == 2 : quarter >= 2;
}

bool Clicks::selector_conducts(std::int64_t zone, int contact) const {
  const std::int64_t place = floor_of(zone, 2);
  if (modulo(zone, 2) == 0) return place == contact;
  return makes_first_ && (place == contact || place + 1 == contact);
}

ClickedContacts::LastBorder ClickedContacts::last_border(Instant t, const Gesture& gesture,
                                                         const Clicks& clicks) const {
  const std::int64_t from = clicks.zone_of(gesture.from_ppm());
  LastBorder last;
  last.zone = last.zone_before = clicks.zone_of(gesture.position_ppm(t));
  last.number = borders_crossed_ + std::abs(last.zone - from);
  if (last.zone == from) return last;
  const bool rose = last.zone > from;
  last.any = true;
  last.zone_before = rose ? last.zone - 1 : last.zone + 1;
  last.at = gesture.reached(rose ? clicks.border(last.zone) : clicks.border(last.zone + 1) - 1);
  return last;
}

bool ClickedContacts::chatters_back(const LastBorder& last, Instant t, const ContactPart& part,
                                    const Stream& bounce) {
  if (!last.any || (t - last.at).ns >= part.bounce_max_ns) return false;
  const Stream chatter = bounce.skipped(static_cast<std::uint64_t>(last.number) * kDrawsPerChange);
  return !level_in_chatter(true, last.at, t, part, chatter);
}

bool ClickedContacts::conducts(Instant t, int contact, const Gesture& gesture, const Clicks& clicks,
                               const ContactPart& part, const Stream& bounce) const {
  const LastBorder last = last_border(t, gesture, clicks);
  return clicks.conducts(chatters_back(last, t, part, bounce) ? last.zone_before : last.zone,
                         contact);
}

// Chatter is counted to and fro, so what is left of it is where the contact is now.
std::int64_t ClickedContacts::quarters(Instant t, const Gesture& gesture, const Clicks& clicks,
                                       const ContactPart& part, const Stream& bounce) const {
  const LastBorder last = last_border(t, gesture, clicks);
  const std::int64_t zone = chatters_back(last, t, part, bounce) ? last.zone_before : last.zone;
  return quarters_before_ + zone - clicks.zone_of(gesture.from_ppm());
}

void ClickedContacts::before_move(Instant t, const Gesture& gesture, const Clicks& clicks) {
  const std::int64_t from = clicks.zone_of(gesture.from_ppm());
  const std::int64_t now = clicks.zone_of(gesture.position_ppm(t));
  borders_crossed_ += std::abs(now - from);
  quarters_before_ += now - from;
}

}  // namespace understudy
