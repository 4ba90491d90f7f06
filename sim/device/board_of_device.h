// The device as its board's program sees it, for the length of one step.
#pragma once

#include "sim/device/device.h"

namespace understudy {

class Device::Board final : public BoardAccess {
 public:
  Board(Device& device, StepOutputs& outputs) : device_(device), outputs_(outputs) {}

  ReadingTimes reading_times(std::size_t channel, Instant start) override;
  std::int64_t sample(std::size_t channel, Instant at) override {
    return device_.sample(channel, at);
  }
  bool byte_waits(Instant t) override {
    device_.draw_received(t, outputs_);
    return !device_.received_.empty();
  }
  char take_byte() override { return device_.received_.pop(); }
  Instant next_byte_at() override { return device_.to_board_.first_arrival(); }
  Printed print(Instant t, std::string_view bytes) override {
    return device_.print(t, bytes, outputs_);
  }
  void set_output(std::size_t field, std::int64_t number, Instant t) override;
  void read_timed_out(Instant t, Duration waited) override {
    outputs_.notes.push_back({t, NoteKind::kReadTimedOut, waited.ns});
  }
  void program_stopped(Instant t, std::uint64_t lines) override {
    outputs_.notes.push_back({t, NoteKind::kProgramStopped, static_cast<std::int64_t>(lines)});
  }

 private:
  Device& device_;
  StepOutputs& outputs_;
};

}  // namespace understudy
