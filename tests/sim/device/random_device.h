// Random panels and random lives of a device, for the laws that must hold for all of them.
#pragma once

#include <memory>
#include <vector>

#include "sim/device/device.h"

namespace understudy {

// One panel, its options, and everything that happens to it until `end`, in order; in some lives
// the panel is read anew now and then.
struct RandomLife {
  std::shared_ptr<const Panel> panel;
  DeviceOptions options;
  std::vector<Input> inputs;
  Instant end;
};

// Draws from RapidCheck; call it within a property. Discards what does not compile.
RandomLife draw_life();
std::shared_ptr<const Panel> draw_panel();
// What happens to it, reloads included where they are wished for.
std::vector<Input> draw_inputs(const std::shared_ptr<const Panel>& panel, Instant end,
                               bool reloads = false);
// Another panel, or one in which only looks, wire, host, manners, controls or outputs are others.
std::shared_ptr<const Panel> draw_changed(const Panel& panel);
// Times in (0, end), ascending, among them those of inputs and others close by.
std::vector<Instant> draw_splits(const std::vector<Input>& inputs, Instant end);

// A whole number between both ends, and one of a list.
std::int64_t draw_between(std::int64_t low, std::int64_t high);
template <class T>
T draw_of(std::vector<T> choices) {
  return choices[static_cast<std::size_t>(
      draw_between(0, static_cast<std::int64_t>(choices.size()) - 1))];
}

}  // namespace understudy
