// A seat whose bytes come from a real box, or from a recording played as bytes: its virtual box
// runs beside, so that a hand may hold a control in the box's place and the whole box can be
// replaced in mid-game. Knows no observer and no other seat.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "sim/device/device.h"
#include "sim/model/inputs.h"
#include "sim/model/outputs.h"
#include "sim/session/rewriter.h"

namespace understudy {

// What differs from a device's seat while the source is another:
//
//   BoxBytes          come out as chunks at their own time, after the rewriter
//   the device        gets all else that comes in, and its own chunks go nowhere; changes of its
//                     outputs and notes come out as ever
//   the game's bytes  come out as StepOutputs::to_box too, where the source is a box
//   ControlHeld       the fields of that control carry what the virtual box's program read for them
//   SourceChanged     at its very time: what was kept back comes out, and all controls are let go
//
// Here the device never waits for the game to take bytes, neither before a change nor after it:
// what the game has taken is not told to it, for it may have been the box's.
//
// A regular value. Split law: as Device::step.
class TappedSeat {
 public:
  TappedSeat(std::shared_ptr<const Panel> panel, SeatSource source)
      : source_(source), rewriter_(std::move(panel)) {}

  // Steps `device` to `until`, as Device::step does.
  void step(Device& device, Instant until, std::span<const Input> inputs, StepOutputs& outputs);

  [[nodiscard]] SeatSource source() const { return source_; }
  [[nodiscard]] bool passes_unaltered() const {
    return source_ != SeatSource::kDevice && rewriter_.passes_unaltered();
  }
  [[nodiscard]] bool holds(std::size_t control, std::size_t part) const {
    return rewriter_.holds(control, part);
  }

 private:
  void take(const Input& input, Device& device, StepOutputs& outputs);
  void bring(Device& device, Instant until, StepOutputs& outputs);
  void change(Instant t, SeatSource source, Device& device, StepOutputs& outputs);
  void put_chunk(Instant t, StepOutputs& outputs) const;

  SeatSource source_;
  Rewriter rewriter_;
  // Scratch of one step.
  std::vector<Input> for_device_;
  StepOutputs of_device_;
  std::string passed_;
};

}  // namespace understudy
