// A board's program as written: constant, shared by all copies of a device. What it does with it
// while running is firmware.h.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/model/panel.h"

namespace understudy {

// What the program does with one raw reading.
enum class ReadingUse : std::uint8_t {
  kNumber,     // it becomes the wire number of one field
  kPlacePin,   // one pin of a selector
  kTurnPin,    // one pin of an encoder
  kTurnCount,  // the count of an encoder whose every edge interrupts
};

// How one channel's raw reading becomes a wire number.
struct ReadingPlan {
  ReadingUse use = ReadingUse::kNumber;
  std::uint16_t field = 0;  // of the lines to the game: the first one of its control
  std::uint16_t control = 0;
  std::uint8_t pin = 0;         // which pin of its control
  bool last_pin = true;         // and no further one comes
  std::int64_t closed_raw = 0;  // what a pin reads whose contact is closed
  bool analogue = false;
  std::int64_t raw_top = 1;
  std::array<std::int64_t, 2> numbers = {0, 1};  // of a contact's pin reading 0 and 1
  bool identity = false;  // analogue, and the wire number is the reading itself
};

// Made from a panel; the panel must outlive it.
class Program {
 public:
  Program() = default;
  explicit Program(const Panel& panel);

  [[nodiscard]] const Panel& panel() const { return *panel_; }
  // As the panel has them, but with all times as the board's own clock makes them: a board that is
  // 1 % slow takes 20.2 ms for a loop of 20 ms.
  [[nodiscard]] const MannersDescription& manners() const { return manners_; }
  [[nodiscard]] const SendDescription& send(std::size_t format) const { return sends_[format]; }
  // One for each of channels_of(), in their order.
  [[nodiscard]] const std::vector<ReadingPlan>& readings() const { return readings_; }
  // The control whose `step` a field of the lines to the game is, or kNoControl.
  [[nodiscard]] int step_of(std::size_t field) const { return step_of_[field]; }
  [[nodiscard]] bool has_steps() const { return has_steps_; }
  // The fields of outputs in the order in which the program reads numbers for them.
  [[nodiscard]] const std::vector<std::uint16_t>& output_order() const { return output_order_; }
  // The bytes any of which ends a gathered line (the last ones of its endings; none where each byte
  // is a line), and the one that starts it (0: none).
  [[nodiscard]] std::string_view line_ends() const { return line_ends_; }
  [[nodiscard]] char line_start() const { return line_start_; }
  // A gathered line without what longer markers, or a read that stops elsewhere, left of them.
  [[nodiscard]] std::string_view bare(std::string_view line) const;
  [[nodiscard]] bool is_asked() const { return is_asked_; }
  // Formats sent on change remember what they last sent, each by itself: where in one long row the
  // numbers of a format begin, and how many there are of all.
  [[nodiscard]] std::size_t remembered_from(std::size_t format) const {
    return remembered_from_[format];
  }
  [[nodiscard]] std::size_t remembered_count() const { return remembered_count_; }

  // REQUIRES: plan is one of readings() whose use is kNumber
  [[nodiscard]] std::int64_t wire_number(const ReadingPlan& plan, std::int64_t raw) const {
    if (plan.identity) return raw;
    return plan.analogue ? scaled_number(plan, raw) : plan.numbers[raw == 0 ? 0 : 1];
  }

 private:
  [[nodiscard]] std::int64_t scaled_number(const ReadingPlan& plan, std::int64_t raw) const;
  void plan_readings();
  const Panel* panel_ = nullptr;
  MannersDescription manners_;
  std::vector<SendDescription> sends_;
  std::vector<ReadingPlan> readings_;
  std::vector<int> step_of_;
  std::vector<std::uint16_t> output_order_;
  std::vector<std::size_t> remembered_from_;
  std::size_t remembered_count_ = 0;
  std::string line_ends_;
  char line_start_ = 0;
  bool is_asked_ = false;
  bool has_steps_ = false;
};

}  // namespace understudy
