// The virtual box: controls, board, manners, wire and host side in one virtual clock. Owns the
// stages and carries plain values from one to the next; the stages never see each other.
//
//   to the game:   hand -> control -> board -> manners -> wire -> host side -> chunks
//   to the panel:  bytes -> wire -> receive ring -> manners -> outputs
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "sim/base/fingerprint.h"
#include "sim/base/random.h"
#include "sim/board/loader.h"
#include "sim/board/receive_ring.h"
#include "sim/device/blueprint.h"
#include "sim/device/moved_part.h"
#include "sim/device/powered_outputs.h"
#include "sim/manners/firmware.h"
#include "sim/model/inputs.h"
#include "sim/model/outputs.h"
#include "sim/wire/host_side.h"

namespace understudy {

// Bytes from the game on their way to the board, those that arrived unread included.
using FlightToBoard = TimedBytes<kWriteBufferBytesMax, 64>;

// Counts since power-on, for whoever looks.
struct DeviceCounts {
  HostCounts host;
  ReceiveCounts receive;
  std::int64_t write_dropped = 0;
  std::int64_t frame_errors_to_game = 0;
  std::int64_t frame_errors_to_panel = 0;
  std::int64_t gate_dropped = 0;  // printed while DTR kept the gate shut
  std::uint64_t lines_printed = 0;
};

// What a running sensor remembers.
struct SensorOfDevice {
  SensorState state;
  Stream noise;
};

// A regular value of at most 32 KiB: a copy is a snapshot that goes on alike. Deterministic: the
// same panel, seed and inputs give the same outputs with the same times, however it is stepped.
class Device {
 public:
  // Powered on at time 0, nobody connected. `panel` is shared and stays constant.
  Device(std::shared_ptr<const Panel> panel, const DeviceOptions& options);

  // Advances to `until` and appends all that became due in (now, until] to `outputs`; the first
  // step has what happens at power-on too. Split law: step(a), step(b) gives together what step(b)
  // gives. A hand's action, and the changes of outputs that come out, count controls and outputs of
  // the panel in force at their time: after a reload, and at its very instant, of the new one.
  // REQUIRES: until >= now(); inputs in order of time and class, each at in (now, until]; hands
  // move what is there (hand_on() in sim/model/panel_change.h moves a queue over a reload).
  void step(Instant until, std::span<const Input> inputs, StepOutputs& outputs);

  [[nodiscard]] Instant now() const { return now_; }
  // No chunk is handed over and no output changes before this time unless something comes in; what
  // goes on inside meanwhile nobody sees. kNever: only an input can move it.
  [[nodiscard]] Instant next_due() const;
  // Digest of all state and all streams.
  [[nodiscard]] std::uint64_t fingerprint() const;

  // For whoever looks; nothing here changes what comes.
  [[nodiscard]] const Panel& panel() const { return *blueprint_->panel; }
  // Where the hand holds a part of a control (hand_parts() in sim/model/kinds.h), in millionths of
  // its travel, or of a turn. REQUIRES: the control has that part; a sensor has none.
  [[nodiscard]] std::int32_t position_ppm(std::size_t control, std::size_t part = 0) const {
    return part_of(control, part).position_ppm(now_);
  }
  // Where the hand is taking it, or where it lies.
  [[nodiscard]] std::int32_t goal_ppm(std::size_t control, std::size_t part = 0) const {
    return part_of(control, part).gesture().goal_ppm();
  }
  // A panel that was read since and whose wire and host keys wait for the next opening of the port;
  // all else of it is in panel() already. Null: nothing waits.
  [[nodiscard]] const std::shared_ptr<const Panel>& waiting() const { return waiting_; }
  // The wire number the program last read for a field of the lines to the game.
  [[nodiscard]] std::int64_t field_number(std::size_t field) const {
    return firmware_.number(field);
  }
  // The wire number that an output, or a part of one, shows: by field of the lines to the panel.
  [[nodiscard]] std::int64_t output_number(std::size_t field) const {
    return outputs_.number(field);
  }
  // What the outputs draw, where needles are, what the supply gives.
  [[nodiscard]] const PoweredOutputs& powered() const { return outputs_; }

  [[nodiscard]] DeviceCounts counts() const;
  // Bytes handed over that the game has not taken.
  [[nodiscard]] std::int64_t waiting_bytes() const { return host_.waiting(); }
  // How many bytes from the game find room on their way to the board now.
  [[nodiscard]] std::size_t write_room() const;
  // The board has been powered or reset, and its program does not run yet.
  [[nodiscard]] bool starting() const { return now_ < firmware_.listens_from(); }
  // Bytes that the game sent while the board was starting and that keep it in its loader.
  [[nodiscard]] std::int64_t bytes_in_loader() const {
    const bool held = !loader_.has_left() && loader_.heard() > 0;
    return held ? loader_.heard() + static_cast<std::int64_t>(to_board_.size()) : 0;
  }
  // The program has used up its memory and stands still until a restart.
  [[nodiscard]] bool stopped() const { return firmware_.stopped(); }
  [[nodiscard]] bool is_open() const { return host_.is_open(); }
  [[nodiscard]] bool dtr() const { return dtr_; }
  // What the game asked for; 0 where it set nothing.
  [[nodiscard]] std::int64_t game_baud() const { return game_baud_; }
  // False where the two ends differ by more than the computer's receiver stands.
  [[nodiscard]] bool baud_readable() const { return !garbled_to_game_; }

 private:
  class Board;  // what the program sees of this device during a step

  [[nodiscard]] Instant next_from_program() const;
  void run(Instant horizon, StepOutputs& outputs);
  void make_controls(const DeviceOptions& options);
  void darken(Instant t, Instant runs_from, StepOutputs& outputs);
  void pass_power(StepOutputs& outputs);
  void apply(const Input& input, StepOutputs& outputs);
  void reload(Instant t, const std::shared_ptr<const Panel>& read, StepOutputs& outputs);
  void write_board_anew(Instant t, std::shared_ptr<const Panel> panel, StepOutputs& outputs);
  void keep_hands(const Blueprint& before, Instant t);
  void open(Instant t, const LinkOpened& opened, StepOutputs& outputs);
  bool take_what_waits(Instant t);
  void add_waiting_to(Fingerprint& digest) const;
  void move_by_hand(Instant t, const HandAction& hand);
  // True: that restarted the board.
  bool raise_dtr(Instant t, bool dtr, StepOutputs& outputs);
  void set_line(std::int64_t baud);
  // The true speed of the computer's end; the panel's own where the game set none.
  [[nodiscard]] Ratio host_speed() const;
  std::size_t take_joined(std::span<const Input> inputs, StepOutputs& outputs);
  void take_from_game(Instant t, std::string_view bytes, StepOutputs& outputs);
  void send_to_board(Instant start, std::string_view bytes, StepOutputs& outputs);
  void draw_received(Instant t, StepOutputs& outputs);
  void restart(Instant t, StepOutputs& outputs);
  void start_board(Instant t, Duration boot);
  [[nodiscard]] Instant loader_due() const;
  void pass_loader(StepOutputs& outputs);
  void hear_in_loader(Instant t, StepOutputs& outputs);
  void send_boot_text(StepOutputs& outputs);
  Printed print(Instant t, std::string_view bytes, StepOutputs& outputs);
  [[nodiscard]] std::size_t room_to_print(std::size_t wanted) const;
  std::size_t send_to_host(Instant t, std::string_view bytes, StepOutputs& outputs);
  void send_garbled(Instant t, std::string_view bytes, Ratio baud, Ratio byte_time,
                    StepOutputs& outputs);
  std::int64_t sample(std::size_t channel, Instant at);
  std::int64_t convert(const ChannelPlan& plan, std::int64_t pin_uv, Stream& noise);
  bool closed(const ChannelPlan& plan, Instant at);
  bool read_pin(const ChannelPlan& plan, bool closed);
  void show(std::size_t field, std::int64_t number, Instant t, StepOutputs& outputs);
  [[nodiscard]] const MovedPart& part_of(std::size_t control, std::size_t part) const {
    return parts_[blueprint_->readings.first_part[control] + part];
  }

  // borrowed, constant:
  std::shared_ptr<const Blueprint> blueprint_;
  std::shared_ptr<const Panel> waiting_;  // for the next opening of the port; or null
  // saved:
  Instant now_;
  std::vector<MovedPart> parts_;  // of all controls
  std::vector<SensorOfDevice> sensors_;
  PoweredOutputs outputs_;
  Firmware firmware_;
  Loader loader_;
  HostSide host_;
  FlightToBoard to_board_;
  ReceiveRing received_;
  Stream boot_;
  std::int64_t held_uv_ = 0;  // in the converter's capacitor
  std::int64_t game_baud_ = 0;
  std::int64_t write_dropped_ = 0;
  std::int64_t frame_errors_to_game_ = 0;
  std::int64_t frame_errors_to_panel_ = 0;
  std::int64_t gate_dropped_ = 0;
  bool dtr_ = false;
  bool first_conversion_ = true;
  bool garbled_to_game_ = false;
  bool garbled_to_panel_ = false;
};

}  // namespace understudy
