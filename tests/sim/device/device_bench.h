// A device on the test bench: a panel file's text, hands, a game's port, and what came of it. The
// words in which the tests of the device, and others, speak.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "sim/device/device.h"

namespace understudy {

// The compiled panel; a text that is wrong ends the test program with its mistakes.
std::shared_ptr<const Panel> panel_of(std::string_view text);
std::shared_ptr<const Panel> tram_panel();

constexpr Instant at(Duration since_power_on) {
  return Instant{} + since_power_on;
}
constexpr Instant at_ms(std::int64_t ms) {
  return at(milliseconds(ms));
}

class DeviceBench {
 public:
  explicit DeviceBench(std::shared_ptr<const Panel> panel, DeviceOptions options = {});
  explicit DeviceBench(std::string_view panel_text, DeviceOptions options = {});

  // What happens 1 us from now, beside whatever else was said since the last run.
  void open(bool dtr = true, bool takes_at_once = true);
  void close() { add(LinkClosed{}); }
  void set_baud(std::int64_t baud) { add(LineSettings{.baud = baud, .stop_bits = 1}); }
  void set_dtr(bool dtr) { add(ModemLines{.dtr = dtr, .rts = false}); }
  void take(std::int64_t bytes) { add(Taken{.bytes = bytes}); }
  void send(std::string_view bytes) { add(BytesFromGame{.bytes = std::string(bytes)}); }
  // `control` may be a part: "stick.x".
  void move(std::string_view control, std::int32_t to_ppm, Duration duration = {},
            Curve curve = Curve::kAtOnce);
  void press(std::string_view button) { move(button, kFullTravel); }
  void let_go(std::string_view button) { move(button, 0); }

  // Goes on; outputs of earlier runs are kept until forget().
  void run(Duration length);
  void run_until(Instant t) { run(t - device_.now()); }
  void forget() { outputs_.clear(); }

  [[nodiscard]] Instant now() const { return device_.now(); }
  [[nodiscard]] const Device& device() const { return device_; }
  [[nodiscard]] const StepOutputs& outputs() const { return outputs_; }
  // All bytes handed to the game since forget().
  [[nodiscard]] const std::string& received() const { return outputs_.bytes; }
  // Cut at line feeds; what comes after the last is left out.
  [[nodiscard]] std::vector<std::string> lines() const;
  // The number an output, or a part of one such as "light.r", shows.
  [[nodiscard]] std::int64_t shown(std::string_view output) const;
  // How many of `kind` were noted since forget(), and the sum of their counts.
  [[nodiscard]] std::int64_t noted(NoteKind kind) const;
  [[nodiscard]] std::size_t notes(NoteKind kind) const;

 private:
  template <class What>
  void add(What what) {
    inputs_.push_back({device_.now() + microseconds(1), std::move(what)});
  }
  std::shared_ptr<const Panel> panel_;
  Device device_;
  std::vector<Input> inputs_;
  StepOutputs outputs_;
};

// When byte i of all that was handed over was handed over.
Instant handed_over_at(const StepOutputs& outputs, std::size_t i);

}  // namespace understudy
