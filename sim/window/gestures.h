// Gestures: what a hand did to one control, recorded to be done again, once or every few seconds.
// Times are handed in; who shows buttons for it stands in control_card.h.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/window/wishes.h"

namespace understudy {

// One control's actions, each so long after the gesture begins; which control is said when it is
// played.
struct KeptGesture {
  std::vector<TimedHand> hands;
  [[nodiscard]] Duration length() const;
};

// Without the points of slides that lie on the way between others, to half a hundredth of travel.
KeptGesture thinned(const KeptGesture& recorded);

// One line of text and back; nothing where the text is none.
std::string gesture_text(const KeptGesture& gesture);
std::optional<KeptGesture> gesture_of(std::string_view text);

// Which control: it is found again by these names.
struct GestureKey {
  std::string panel;
  std::string control;
  auto operator<=>(const GestureKey&) const = default;
};

class Gestures {
 public:
  void record(const GestureKey& key, std::uint16_t seat, std::uint16_t control);
  // What was wished in a frame; what belongs to the gesture being recorded is kept.
  void take(const Wish& wish, double seconds);
  // Ends recording. Nothing where nothing was done.
  std::optional<KeptGesture> done();
  [[nodiscard]] bool recording(const GestureKey& key) const { return record_ && *record_ == key; }

  void keep(const GestureKey& key, KeptGesture gesture) { kept_[key] = std::move(gesture); }
  [[nodiscard]] const KeptGesture* find(const GestureKey& key) const;

  // Every so many seconds from now, never sooner than it is over; without, once.
  void play(const GestureKey& key, double seconds, std::optional<double> every = std::nullopt);
  void stop(const GestureKey& key) { playing_.erase(key); }
  [[nodiscard]] bool playing(const GestureKey& key) const { return playing_.contains(key); }
  // What is to be handed over now for the panel that is seen: repeats come a little ahead, with
  // their time, and are counted from the first one, so that they never drift.
  std::vector<Wish> due(const std::shared_ptr<const Panel>& seen, std::uint16_t seat,
                        double seconds);

 private:
  struct Playing {
    double first = 0;
    std::int64_t next = 0;  // which repeat
    std::optional<double> every;
  };
  std::map<GestureKey, KeptGesture> kept_;
  std::map<GestureKey, Playing> playing_;
  std::optional<GestureKey> record_;
  std::uint16_t seat_ = 0;
  std::uint16_t control_ = 0;
  std::optional<double> began_;  // with the first action
  KeptGesture recorded_;
};

}  // namespace understudy
