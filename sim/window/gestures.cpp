// A slide's course is a line through points; a contact's actions are kept as they are.
#include "sim/window/gestures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "sim/model/kinds.h"

namespace understudy {
namespace {

constexpr double kAheadSeconds = 1.5;         // longer than an idle window takes between two frames
constexpr std::int64_t kThinPpm = 5'000;      // half a hundredth of the travel
constexpr std::int64_t kRestNs = 50'000'000;  // a hand that does nothing for so long has stopped
constexpr std::size_t kMostSteps = 500;

struct CoursePoint {
  std::int64_t ns = 0;
  std::int32_t ppm = 0;
};

bool on_the_way(const std::vector<CoursePoint>& course, std::size_t from, std::size_t to) {
  const CoursePoint& a = course[from];
  const CoursePoint& b = course[to];
  for (std::size_t i = from + 1; i < to; ++i) {
    const double share =
        b.ns == a.ns ? 1
                     : static_cast<double>(course[i].ns - a.ns) / static_cast<double>(b.ns - a.ns);
    if (std::abs(a.ppm + share * (b.ppm - a.ppm) - course[i].ppm) > kThinPpm) return false;
  }
  return true;
}

void add_course(const std::vector<CoursePoint>& course, const TimedHand& like, KeptGesture& thin) {
  std::size_t from = 0;
  while (from + 1 < course.size()) {
    std::size_t to = from + 1;
    while (to + 1 < course.size() && on_the_way(course, from, to + 1)) ++to;
    TimedHand hand = like;
    hand.after.ns = course[from].ns;
    hand.action.to_ppm = course[to].ppm;
    hand.action.duration.ns = course[to].ns - course[from].ns;
    if (course[to].ppm != course[from].ppm || from == 0) thin.hands.push_back(hand);
    from = to;
  }
}

}  // namespace

Duration KeptGesture::length() const {
  Duration longest;
  for (const TimedHand& hand : hands)
    longest.ns = std::max(longest.ns, hand.after.ns + hand.action.duration.ns);
  return longest;
}

KeptGesture thinned(const KeptGesture& recorded) {
  KeptGesture thin;
  std::map<std::uint8_t, std::vector<CoursePoint>> courses;
  std::map<std::uint8_t, TimedHand> like;
  for (const TimedHand& hand : recorded.hands) {
    if (hand.action.curve != Curve::kLinear) {
      thin.hands.push_back(hand);
      continue;
    }
    std::vector<CoursePoint>& course = courses[hand.action.part];
    like.try_emplace(hand.action.part, hand);
    const CoursePoint arrival = {hand.after.ns + hand.action.duration.ns, hand.action.to_ppm};
    if (course.empty())
      course.push_back({hand.after.ns, hand.action.to_ppm});
    else if (hand.after.ns - course.back().ns > kRestNs)
      course.push_back({hand.after.ns, course.back().ppm});
    if (arrival.ns > course.back().ns)
      course.push_back(arrival);
    else
      course.back().ppm = arrival.ppm;
  }
  for (const auto& [part, course] : courses) add_course(course, like.at(part), thin);
  std::stable_sort(thin.hands.begin(), thin.hands.end(),
                   [](const TimedHand& a, const TimedHand& b) { return a.after < b.after; });
  return thin;
}

std::string gesture_text(const KeptGesture& gesture) {
  std::string text;
  for (const TimedHand& hand : gesture.hands)
    text += fmt::format("{} {} {} {} {} ", hand.after.ns / 1'000, int{hand.action.part},
                        hand.action.to_ppm, hand.action.duration.ns / 1'000,
                        hand.action.curve == Curve::kLinear ? 1 : 0);
  if (!text.empty()) text.pop_back();
  return text;
}

std::optional<KeptGesture> gesture_of(std::string_view text) {
  std::istringstream in{std::string(text)};
  KeptGesture gesture;
  std::int64_t after = 0;
  while (in >> after) {
    int part = 0;
    std::int32_t ppm = 0;
    std::int64_t duration = 0;
    int linear = 0;
    constexpr std::int64_t kLongest = 3'600'000'000;
    if (!(in >> part >> ppm >> duration >> linear) || part < 0 || part > 2 || after < 0 ||
        after > kLongest || duration < 0 || duration > kLongest ||
        gesture.hands.size() >= kMostSteps)
      return std::nullopt;
    TimedHand hand;
    hand.after.ns = after * 1'000;
    hand.action = {.control = 0,
                   .part = static_cast<std::uint8_t>(part),
                   .to_ppm = ppm,
                   .duration = {duration * 1'000},
                   .curve = linear != 0 ? Curve::kLinear : Curve::kAtOnce};
    gesture.hands.push_back(hand);
  }
  if (!in.eof() || gesture.hands.empty()) return std::nullopt;
  return gesture;
}

void Gestures::record(const GestureKey& key, std::uint16_t seat, std::uint16_t control) {
  stop(key);
  record_ = key;
  seat_ = seat;
  control_ = control;
  began_.reset();
  recorded_ = {};
}

void Gestures::take(const Wish& wish, double seconds) {
  const auto* hands = std::get_if<HandWish>(&wish);
  if (!record_ || hands == nullptr) return;
  if (hands->seen && hands->seen->description.name != record_->panel) return;
  for (TimedHand hand : hands->hands) {
    if (hand.seat != seat_ || hand.action.control != control_) continue;
    if (!began_) began_ = seconds;
    hand.after.ns += static_cast<std::int64_t>(std::llround((seconds - *began_) * 1e9));
    recorded_.hands.push_back(hand);
  }
}

std::optional<KeptGesture> Gestures::done() {
  if (!record_) return std::nullopt;
  KeptGesture found = thinned(recorded_);
  const GestureKey key = *record_;
  record_.reset();
  recorded_ = {};
  if (found.hands.empty()) return std::nullopt;
  if (found.hands.size() > kMostSteps) found.hands.resize(kMostSteps);
  keep(key, found);
  return found;
}

const KeptGesture* Gestures::find(const GestureKey& key) const {
  const auto kept = kept_.find(key);
  return kept != kept_.end() ? &kept->second : nullptr;
}

void Gestures::play(const GestureKey& key, double seconds, std::optional<double> every) {
  const KeptGesture* gesture = find(key);
  if (gesture == nullptr) return;
  if (every) *every = std::max({*every, static_cast<double>(gesture->length().ns) / 1e9, 0.05});
  playing_[key] = {.first = seconds, .next = 0, .every = every};
}

std::vector<Wish> Gestures::due(const std::shared_ptr<const Panel>& seen, std::uint16_t seat,
                                double seconds) {
  std::vector<Wish> wishes;
  if (!seen) return wishes;
  const auto& controls = seen->description.controls;
  for (auto one = playing_.begin(); one != playing_.end();) {
    const GestureKey& key = one->first;
    Playing& playing = one->second;
    const auto control = std::find_if(controls.begin(), controls.end(), [&](const auto& other) {
      return other.name == one->first.control;
    });
    const bool here = key.panel == seen->description.name && control != controls.end();
    const double every = playing.every.value_or(1);
    const auto passed = static_cast<std::int64_t>(std::ceil((seconds - playing.first) / every));
    if (playing.every) playing.next = std::max(playing.next, passed);  // what was missed is gone
    double at = playing.first + static_cast<double>(playing.next) * every;
    while (here && at <= seconds + kAheadSeconds) {
      HandWish wish = {.hands = kept_.at(key).hands, .instead = false, .seen = seen};
      std::erase_if(wish.hands, [&](const TimedHand& hand) {
        return hand.action.part >= hand_parts(*control).size();
      });
      for (TimedHand& hand : wish.hands) {
        hand.seat = seat;
        hand.action.control = static_cast<std::uint16_t>(control - controls.begin());
        const double wait = std::max(0.0, at - seconds);
        hand.after.ns += static_cast<std::int64_t>(std::llround(wait * 1e9));
      }
      if (!wish.hands.empty()) wishes.emplace_back(std::move(wish));
      at = playing.first + static_cast<double>(++playing.next) * every;
      if (!playing.every) break;
    }
    one = !playing.every && (playing.next > 0 || !here) ? playing_.erase(one) : std::next(one);
  }
  return wishes;
}

}  // namespace understudy
