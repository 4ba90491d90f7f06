// The outputs of a running device as they draw on its supply: what each shows, where needles are,
// and whether the supply holds. What an output draws and what a supply makes of it is sim/board's
// work.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "sim/board/load.h"
#include "sim/board/needle.h"
#include "sim/board/supply.h"
#include "sim/model/panel.h"

namespace understudy {

// A regular value. The panel handed to each call must be the same one. Times never go back.
class PoweredOutputs {
 public:
  PoweredOutputs() = default;
  // All dark, at power-on.
  explicit PoweredOutputs(const Panel& panel);
  // Those of `panel` when its board has just been written anew in the place of another: what has
  // the same name and kind shows what it showed and its needle is where it was, until restart() is
  // called. REQUIRES: restart() is the next call
  PoweredOutputs(const Panel& panel, const PoweredOutputs& before, const Panel& panel_before);

  // The wire number of a field of the lines to the panel.
  [[nodiscard]] std::int64_t number(std::size_t field) const { return shown_[field]; }
  // What a field shows before the board was told anything.
  [[nodiscard]] static std::int64_t dark_number(const Panel& panel, std::size_t field);

  // The board's program sets a field to another number.
  void set(Instant t, std::size_t field, std::int64_t number, const Panel& panel);
  // The board starts anew: all goes dark, and needles stay where they are until its program runs,
  // at `runs_from`, and sends them to their least.
  void restart(Instant t, Instant runs_from, const Panel& panel);
  // The program runs from then on only. REQUIRES: t is later than it was to be, and that not past
  void postpone(Instant runs_from) {
    if (needles_wake_ != kNever) needles_wake_ = runs_from;
  }

  // When something happens by itself: a needle comes to rest, or the supply gives way.
  [[nodiscard]] Instant next_due() const {
    return earlier(earlier(needle_rests_, needles_wake_), supply_.next_due());
  }
  // When the supply gives way unless the load falls before; kNever while it holds.
  [[nodiscard]] Instant gives_way_at() const { return supply_.next_due(); }
  // What is due at t = next_due(). True: the supply has given way, and the board starts anew.
  bool pass(Instant t, const Panel& panel);

  // What all of it draws, the board included, in microamperes; and the voltage that this leaves.
  [[nodiscard]] std::int64_t load_ua() const { return supply_.load_ua(); }
  [[nodiscard]] std::int64_t voltage_uv() const { return supply_.voltage_uv(); }
  [[nodiscard]] std::int64_t output_ua(std::size_t output) const {
    return load_.of_output_ua(output);
  }
  // Where the needle of a gauge is, in thousandths of a degree from the least; 0 of other outputs.
  [[nodiscard]] std::int64_t needle_mdeg(Instant t, std::size_t output) const;

  template <class Digest>
  void add_to(Digest& digest) const {
    for (const std::int64_t number : shown_) digest.add(number);
    for (const NeedleOfOutput& gauge : needles_) gauge.needle.add_to(digest);
    supply_.add_to(digest);
    digest.add(needles_wake_.ns);
  }

 private:
  struct NeedleOfOutput {
    std::uint16_t output = 0;
    Needle needle;
  };
  NeedleOfOutput* needle_of(std::size_t output);
  void weigh(Instant t, std::size_t output, const Panel& panel);
  void see_needles(Instant t);
  [[nodiscard]] std::int64_t whole_load_ua(const Panel& panel) const;

  std::vector<std::int64_t> shown_;  // one for each field of the lines to the panel
  std::vector<NeedleOfOutput> needles_;
  std::vector<std::uint16_t> first_field_;  // of each output
  Load load_;
  Supply supply_;
  Instant needle_rests_ = kNever;
  Instant needles_wake_ = kNever;
};

}  // namespace understudy
