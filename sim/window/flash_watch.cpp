// Which lamps change, and cautions.
#include "sim/window/flash_watch.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "sim/base/check.h"
#include "sim/board/pwm.h"
#include "sim/model/kinds.h"
#include "sim/window/light.h"

namespace understudy {
namespace {

// WCAG 2.2, "saturated red": R / (R + G + B) of linear light.
constexpr double kSaturatedRed = 0.8;

bool is_watched(const OutputDescription& output) {
  return output.kind == OutputKind::kLamp || output.kind == OutputKind::kRgb;
}

void forget_before(std::vector<LightStep>& steps, Instant since) {
  std::size_t gone = 0;
  while (gone + 1 < steps.size() && steps[gone + 1].at <= since) ++gone;
  steps.erase(steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(gone));
}

}  // namespace

std::string words_of(const FlashCaution& caution, const PanelDescription& panel) {
  std::string names;
  for (std::size_t i = 0; i < caution.outputs.size(); ++i) {
    if (i > 0) names += i + 1 == caution.outputs.size() ? " and " : ", ";
    std::string name = panel.outputs[caution.outputs[i]].name;
    std::replace(name.begin(), name.end(), '_', ' ');
    names += name;
  }
  const bool one = caution.outputs.size() == 1;
  return fmt::format("{} {}{} {} times in one second; more than {} can be dangerous to look at{}",
                     names, one ? "flashes" : "flash", one ? "" : " by turns", caution.flashes,
                     kFlashesAllowed, caution.saturated_red ? ", most of all in red" : "");
}

double steady_average(const std::vector<LightStep>& steps, Instant now, Duration window) {
  CHECK(window.ns > 0, "an average is over some time");
  if (steps.empty()) return 0;
  double sum = 0;
  Instant until = now;
  const Instant since = now - window;
  for (auto step = steps.rbegin(); step != steps.rend() && until > since; ++step) {
    const bool first = step + 1 == steps.rend();
    const Instant from = first ? since : later(step->at, since);
    sum += step->share * static_cast<double>((until - from).ns);
    until = from;
  }
  return sum / static_cast<double>(window.ns);
}

FlashWatch::FlashWatch(const PanelDescription& panel) : board_(panel.board) {
  for (std::size_t i = 0; i < panel.outputs.size(); ++i) {
    if (!is_watched(panel.outputs[i])) continue;
    Watched watched;
    watched.output = static_cast<std::uint16_t>(i);
    watched.description = panel.outputs[i];
    watched.numbers.fill(watched.description.sends.low);
    watched.counter.take({}, luminance_of(watched));
    watched_.push_back(std::move(watched));
  }
  together_.take({}, 0);
}

double FlashWatch::luminance_of(const Watched& watched) const {
  if (watched.description.kind == OutputKind::kLamp)
    return lamp_duty(watched.numbers[0], watched.description, board_);
  return understudy::luminance_of(rgb_light(watched.numbers, watched.description, board_));
}

void FlashWatch::take(const OutputChange& change) {
  const auto watched = std::find_if(watched_.begin(), watched_.end(),
                                    [&](const Watched& w) { return w.output == change.output; });
  if (watched == watched_.end() || change.part >= watched->numbers.size()) return;
  if (pending_since_ && change.due >= *pending_since_ + kOneChange) settle();
  if (!pending_since_) pending_since_ = change.due;
  watched->numbers[change.part] = change.number;
  watched->changed = true;
  std::vector<LightStep>& steps = watched->steps[change.part];
  if (steps.empty()) steps.push_back({});
  forget_before(steps, change.due - kFlashWindow);
  steps.push_back({change.due, lamp_duty(change.number, watched->description, board_)});
}

void FlashWatch::pass(Instant now) {
  if (pending_since_ && now >= *pending_since_ + kOneChange) settle();
  std::erase_if(cautions_, [&](const FlashCaution& c) { return now > c.last + kCautionStays; });
}

void FlashWatch::settle() {
  const Instant t = *pending_since_;
  pending_since_.reset();
  for (Watched& watched : watched_) {
    if (!std::exchange(watched.changed, false)) continue;
    watched.counter.take(t, luminance_of(watched));
    watched.last_changed = t;
    const bool rgb = watched.description.kind == OutputKind::kRgb;
    const RgbLight light = rgb ? rgb_light(watched.numbers, watched.description, board_)
                               : hue_light(watched.description.colour);
    const double all = light.red + light.green + light.blue;
    if (all > 0 && light.red / all >= kSaturatedRed) watched.last_red = t;
  }
  judge(t);
}

void FlashWatch::judge(Instant t) {
  const auto lately = [&](const std::optional<Instant>& at) {
    return at && *at > t - kFlashWindow;
  };
  double sum = 0;
  bool alone = false;
  bool red = false;
  std::vector<std::uint16_t> changing;
  for (const Watched& watched : watched_) {
    sum += luminance_of(watched);
    if (lately(watched.last_changed)) changing.push_back(watched.output);
    red = red || lately(watched.last_red);
    const int flashes = watched.counter.flashes(t);
    if (flashes <= kFlashesAllowed) continue;
    alone = true;
    caution({watched.output}, flashes, t, lately(watched.last_red));
  }
  together_.take(t, sum / static_cast<double>(watched_.size()));
  const int flashes = together_.flashes(t);
  if (!alone && flashes > kFlashesAllowed) caution(std::move(changing), flashes, t, red);
}

void FlashWatch::caution(std::vector<std::uint16_t> outputs, int flashes, Instant t, bool red) {
  const bool several = outputs.size() > 1;
  const auto known = std::find_if(cautions_.begin(), cautions_.end(), [&](const FlashCaution& c) {
    return several ? c.outputs.size() > 1 : c.outputs == outputs;
  });
  if (known == cautions_.end()) {
    cautions_.push_back({std::move(outputs), flashes, t, red});
    return;
  }
  known->flashes = std::max(known->flashes, flashes);
  known->last = t;
  known->saturated_red = known->saturated_red || red;
  for (const std::uint16_t output : outputs) {
    if (std::find(known->outputs.begin(), known->outputs.end(), output) == known->outputs.end())
      known->outputs.push_back(output);
  }
}

PartShares FlashWatch::average(std::size_t output, Instant now) const {
  PartShares shares = {};
  for (const Watched& watched : watched_) {
    if (watched.output != output) continue;
    for (std::size_t part = 0; part < shares.size(); ++part) {
      const bool has = part == 0 || watched.description.kind == OutputKind::kRgb;
      const auto& steps = watched.steps[part];
      if (!has) continue;
      shares[part] = steps.empty() ? lamp_duty(watched.numbers[part], watched.description, board_)
                                   : steady_average(steps, now, kFlashWindow);
    }
  }
  return shares;
}

}  // namespace understudy
