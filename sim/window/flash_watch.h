// Watches for lamps that flash too often for some eyes, as WCAG 2.2 success criterion 2.3.1 counts
// flashes; and keeps what a lamp gives on average, for those who would rather see it calm.
//
// Use, once a frame, by whoever takes the feed of a seat:
//   FlashWatch watch(panel);                     // anew for every seat and after every reload
//   watch.take(change);                          // each FedChange of that seat, in their order
//   watch.pass(view.now);                        // after them
//   for (const FlashCaution& caution : watch.cautions()) text(words_of(caution, panel));
//   watch.average(output, view.now)              // in the place of numbers, where the person
//                                                // has chosen to see lamps calmly
// A caution stays for kCautionStays after the last second with too many flashes. No clock here.
//
// Sources: sim/observe/flash_counter.h; relative luminance: WCAG 2.2, "relative luminance".
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/time.h"
#include "sim/model/outputs.h"
#include "sim/model/panel_description.h"
#include "sim/observe/flash_counter.h"

namespace understudy {

inline constexpr Duration kCautionStays = seconds(5);
// A board sets lamp after lamp and part after part; what lies so close is one change to the eye.
inline constexpr Duration kOneChange = milliseconds(2);

struct FlashCaution {
  std::vector<std::uint16_t> outputs;  // one lamp, or several that flash too often only together
  int flashes = 0;                     // the most in any second since the caution began
  Instant last;                        // when there were too many last
  bool saturated_red = false;          // which is the worst to look at
};

// "signal red flashes 5 times in a second; more than 3 can harm some people": a sentence.
std::string words_of(const FlashCaution& caution, const PanelDescription& panel);

// Light of the three parts of an output, 0 to 1 each, or in the first alone where it has one part.
using PartShares = std::array<double, 3>;

// What was set at a time and stays until the next.
struct LightStep {
  Instant at;
  double share = 0;  // of the time or of the light: whatever is to be averaged
};
// The mean over (now - window, now]; what was before the first step counts as the first step's.
// REQUIRES: steps in order, none after now; window > 0
double steady_average(const std::vector<LightStep>& steps, Instant now, Duration window);

// A regular value. Watches the lamps and rgb of one panel.
class FlashWatch {
 public:
  FlashWatch() = default;
  // All dark.
  explicit FlashWatch(const PanelDescription& panel);

  void take(const OutputChange& change);
  void pass(Instant now);
  [[nodiscard]] const std::vector<FlashCaution>& cautions() const { return cautions_; }

  // The share of the time that each part of a lamp was lit, on average over the last second.
  [[nodiscard]] PartShares average(std::size_t output, Instant now) const;

 private:
  struct Watched {
    std::uint16_t output = 0;
    OutputDescription description;
    std::array<std::int64_t, 3> numbers = {};
    std::array<std::vector<LightStep>, 3> steps;
    FlashCounter counter;
    bool changed = false;
    std::optional<Instant> last_changed;
    std::optional<Instant> last_red;
  };
  [[nodiscard]] double luminance_of(const Watched& watched) const;
  void settle();
  void judge(Instant t);
  void caution(std::vector<std::uint16_t> outputs, int flashes, Instant t, bool red);

  BoardDescription board_;
  std::vector<Watched> watched_;
  FlashCounter together_;
  std::optional<Instant> pending_since_;
  std::vector<FlashCaution> cautions_;
};

}  // namespace understudy
