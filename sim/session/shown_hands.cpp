// Tries positions on copies of the device: all controls at once in each try, so that the number of
// tries does not grow with their number.
#include "sim/session/shown_hands.h"

#include <algorithm>
#include <optional>

#include "sim/base/check.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

constexpr Duration kStartMax = seconds(10);
constexpr Duration kTryMax = seconds(3);
// Bounce and the converter's settling: the slowest contacts of the parts that panels know bounce
// for some tens of milliseconds.
constexpr Duration kSettling = milliseconds(60);
// One try finds each end, and then each halves what is left: finer than any converter.
constexpr int kHalvings = 17;
constexpr int kTries = 2 + 2 * kHalvings;

// Looks for the position of one part.
class Search {
 public:
  Search(std::uint16_t control, std::uint8_t part, HandWay way, std::int64_t places,
         std::size_t field, std::int64_t wanted)
      : control_(control),
        part_(part),
        way_(way),
        places_(places),
        field_(field),
        wanted_(wanted) {}

  [[nodiscard]] HandAction action(std::int32_t ppm) const {
    return {.control = control_, .part = part_, .to_ppm = ppm};
  }
  // What to try in this round, counted from 0.
  [[nodiscard]] std::int32_t position(int round) const {
    if (way_ == HandWay::kPlaces)
      return place_ppm(std::min<std::int64_t>(round, places_ - 1), places_);
    if (round == 0) return 0;
    if (round == 1) return kFullTravel;
    return way_ == HandWay::kSlides ? middle() : 0;
  }
  // What the program read at position(round).
  void learn(int round, const Device& device) {
    const std::int64_t read = device.field_number(field_);
    if (way_ == HandWay::kSlides) return learn_slide(round, read);
    if (read == wanted_ && !found_) found_ = position(round);
  }
  [[nodiscard]] std::optional<std::int32_t> found() const { return found_; }

 private:
  [[nodiscard]] std::int32_t middle() const { return low_ + (high_ - low_) / 2; }

  // The number goes one way along the travel. First the place from which on it has reached the
  // wanted one, then the place from which on it is beyond; the middle of both is furthest from its
  // neighbours, so that the converter's noise does not reach them.
  void learn_slide(int round, std::int64_t read) {
    if (round == 0) {
      at_low_ = read;
      return;
    }
    if (round == 1) {
      falls_ = read < at_low_;
      const auto [least, most] = std::minmax(at_low_, read);
      reachable_ = wanted_ >= least && wanted_ <= most;
      if (wanted_ == at_low_) found_ = 0;
      if (wanted_ == read) found_ = kFullTravel;
      return;
    }
    if (!reachable_ || found_ == 0 || found_ == kFullTravel) return;
    const bool first_half = round < 2 + kHalvings;
    const bool reached = falls_ ? read <= wanted_ : read >= wanted_;
    const bool beyond = falls_ ? read < wanted_ : read > wanted_;
    (first_half ? reached : beyond) ? high_ = middle() : low_ = middle();
    if (round == 1 + kHalvings) {
      reached_at_ = high_;
      high_ = kFullTravel;
      low_ = reached_at_;
    }
    if (round + 1 == kTries) found_ = reached_at_ + (high_ - reached_at_) / 2;
  }

  std::uint16_t control_;
  std::uint8_t part_;
  HandWay way_;
  std::int64_t places_;
  std::size_t field_;
  std::int64_t wanted_;
  std::optional<std::int32_t> found_;
  std::int64_t at_low_ = 0;
  bool falls_ = false;
  bool reachable_ = false;
  std::int32_t low_ = 0;
  std::int32_t high_ = kFullTravel;
  std::int32_t reached_at_ = 0;
};

// The part of the control that a hand moves and this field shows.
std::optional<std::uint8_t> hand_part_of(const ControlDescription& control, std::size_t line_part) {
  const std::string_view name = line_parts(control)[line_part];
  const std::span<const HandPart> parts = hand_parts(control);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].name != name || parts[i].way == HandWay::kTurns) continue;
    return static_cast<std::uint8_t>(i);
  }
  return std::nullopt;
}

std::vector<Search> searches_for(const Device& device, std::span<const std::int64_t> wanted) {
  std::vector<Search> searches;
  const Panel& panel = device.panel();
  for (std::size_t field = 0; field < panel.to_game_sources.size(); ++field) {
    const FieldSource& source = panel.to_game_sources[field];
    const ControlDescription& control = panel.description.controls[source.part_of];
    const auto part = hand_part_of(control, source.part);
    if (!part || device.field_number(field) == wanted[field]) continue;
    searches.emplace_back(source.part_of, *part, hand_parts(control)[*part].way,
                          control.selector.places, field, wanted[field]);
  }
  return searches;
}

}  // namespace

Duration time_to_show(const Panel& panel) {
  const MannersDescription& manners = panel.description.manners;
  return std::min(kTryMax, (manners.loop + manners.work) * 3 + kSettling);
}

std::vector<HandAction> hands_that_show(const Device& device,
                                        std::span<const std::int64_t> wanted) {
  CHECK(wanted.size() == device.panel().to_game_fields.size(), "one number for each field");
  Device from = device;
  StepOutputs unheard;
  if (from.starting()) from.step(from.now() + kStartMax, {}, unheard);
  std::vector<Search> searches = searches_for(from, wanted);
  const Duration settling = time_to_show(device.panel());
  for (int round = 0; round < kTries && !searches.empty(); ++round) {
    Device copy = from;
    std::vector<Input> hands;
    for (const Search& search : searches)
      hands.push_back({from.now() + nanoseconds(1), search.action(search.position(round))});
    unheard.clear();
    copy.step(from.now() + settling, hands, unheard);
    for (Search& search : searches) search.learn(round, copy);
  }
  std::vector<HandAction> moves;
  for (const Search& search : searches)
    if (const auto ppm = search.found()) moves.push_back(search.action(*ppm));
  return moves;
}

}  // namespace understudy
