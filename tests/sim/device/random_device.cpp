// What can be drawn: every kind of part, wire, manner, sending and host, and games of every temper.
#include "tests/sim/device/random_device.h"

#include <rapidcheck.h>

#include <algorithm>
#include <string>

#include "sim/model/kinds.h"
#include "sim/panel/defaults.h"
#include "sim/panel/panel_file.h"
#include "sim/panel/presets.h"

namespace understudy {
namespace {

bool draw_yes() {
  return draw_between(0, 1) == 1;
}

Sends draw_range() {
  Sends sends;
  sends.given = true;
  switch (draw_between(0, 4)) {
    case 0:
      sends.low = 0, sends.high = 1'023;
      break;
    case 1:
      sends.low = 255, sends.high = 0;
      break;
    case 2:
      sends.low = -100, sends.high = 100, sends.decimals = 2;
      break;
    case 3:
      sends.low = 1, sends.high = 0;
      break;
    default:
      sends.words = {"off", "on"};
      sends.low = 0, sends.high = 1;
      break;
  }
  return sends;
}

void draw_selector_stick_encoder(ControlDescription& control) {
  control.selector = {.places = static_cast<int>(draw_between(2, 5)),
                      .makes_first = draw_yes(),
                      .keeps_in_gap = draw_yes()};
  control.stick.centre_x_ppm = draw_of<std::int64_t>({500'000, 470'000});
  control.stick.presses = draw_yes();
  control.encoder.pulses = static_cast<int>(draw_of<std::int64_t>({12, 24}));
  control.encoder.interrupts = draw_yes();
  control.encoder.counts_quarters = draw_yes();
}

void draw_sensor(SensorPart& sensor) {
  sensor.course = draw_of<SensorCourse>(
      {SensorCourse::kConstant, SensorCourse::kSine, SensorCourse::kWalk, SensorCourse::kValues});
  sensor.period = milliseconds(draw_of<std::int64_t>({70, 900}));
  sensor.every = milliseconds(draw_of<std::int64_t>({7, 100}));
  sensor.step_ppm = draw_of<std::int64_t>({1'000, 400'000});
  sensor.values_ppm = {0, 300'000, 1'000'000};
}

// Some buttons hang on a matrix; each has a cell of its own.
void draw_matrix(PanelDescription& panel) {
  panel.matrix = {.row_pins = {"D2", "D3"}, .column_pins = {"D4", "D5"}, .diodes = draw_yes()};
  int next = 0;
  for (ControlDescription& control : panel.controls)
    if ((control.kind == ControlKind::kButton || control.kind == ControlKind::kSwitch) &&
        next < 4 && draw_yes()) {
      control.cell = {.row = next / 2, .column = next % 2};
      ++next;
    }
}

ControlDescription draw_control(std::size_t index) {
  ControlDescription control = fresh_control();
  control.name = "c" + std::to_string(index);
  control.kind = draw_of<ControlKind>(
      {ControlKind::kPot, ControlKind::kButton, ControlKind::kSwitch, ControlKind::kSelector,
       ControlKind::kStick, ControlKind::kEncoder, ControlKind::kSensor});
  control.rest_ppm = draw_of<std::int64_t>({0, 400'000, 1'000'000});
  const bool counts = control.kind == ControlKind::kEncoder;
  if (draw_yes()) control.sends = draw_range();
  // Words of two states suit what has two; a count is a plain number.
  const bool two = control.kind == ControlKind::kButton || control.kind == ControlKind::kSwitch;
  if (!control.sends.words.empty() && !two) control.sends = {.low = 0, .high = 9, .given = true};
  if (counts) control.sends.decimals = 0;
  draw_selector_stick_encoder(control);
  draw_sensor(control.sensor);
  control.pot.load_mohm = draw_of<std::int64_t>({0, 10'000'000});
  control.pot.taper = draw_of<Taper>({Taper::kLinear, Taper::kLog, Taper::kAntilog});
  control.pot.end_low_ppm = draw_of<std::int64_t>({0, 10'000});
  control.pot.end_high_ppm = draw_of<std::int64_t>({0, 50'000});
  control.pot.noise_uv = draw_of<std::int64_t>({kFollows, 0, 20'000});
  control.pot.resistance_mohm = draw_of<std::int64_t>({10'000'000, 4'000'000'000});
  control.contact.wired = draw_of<Wiring>({Wiring::kPullUp, Wiring::kPullDown});
  control.contact.contact_mohm = draw_of<std::int64_t>({100, 30'000'000});
  if (draw_yes())
    control.contact.bounce_mean_ns = 0;
  else
    control.contact.bounce_max_ns = draw_of<std::int64_t>({6'200'000, 100'000'000});
  return control;
}

OutputDescription draw_output(std::size_t index) {
  OutputDescription output = fresh_output();
  output.name = "o" + std::to_string(index);
  output.kind = draw_of<OutputKind>({OutputKind::kLamp, OutputKind::kLamp, OutputKind::kRgb,
                                     OutputKind::kGauge, OutputKind::kBuzzer, OutputKind::kDigits});
  output.gauge.slew_mdeg_per_s = draw_of<std::int64_t>({500'000, 20'000});
  output.resistor_mohm = draw_of<std::int64_t>({220'000, 10'000});
  if (draw_yes()) return output;
  output.sends = draw_range();
  output.sends.decimals = 0;
  return output;
}

SendDescription draw_send() {
  SendDescription send;
  send.mode = draw_of<SendMode>(
      {SendMode::kEveryLoop, SendMode::kEvery, SendMode::kOnChange, SendMode::kAsked});
  send.every = milliseconds(draw_of<std::int64_t>({1, 50, 200}));
  send.change = draw_of<std::int64_t>({1, 20});
  if (draw_yes()) send.refresh = milliseconds(300);
  send.asked = "?";
  return send;
}

template <class Part>
std::vector<std::string> names_in_lines(const std::vector<Part>& parts) {
  std::vector<std::string> names;
  for (const Part& part : parts)
    for (const std::string_view of_it : line_parts(part))
      names.push_back(part_name(part.name, of_it));
  return names;
}

// Lines that begin with a letter of their own, so that none is like another.
std::vector<LineDescription> draw_lines(const std::vector<std::string>& names, bool to_game) {
  std::vector<LineDescription> lines;
  const std::int64_t count = names.empty() ? 0 : draw_between(0, 2);
  for (std::int64_t i = 0; i < count; ++i) {
    LineDescription line;
    line.text = std::string(1, static_cast<char>('P' + i));
    if (to_game) line.send = draw_send();
    if (to_game && draw_between(0, 3) == 0) {
      line.text += "{#id}={#value};{#sequence:3}";
      line.each = names;
    } else {
      for (const std::string& name : names)
        if (draw_between(0, 3) != 0) line.text += "{" + name + "},";
      if (to_game) line.text += "{#uptime_ms:6}";
    }
    lines.push_back(line);
  }
  return lines;
}

void draw_manners(MannersDescription& manners) {
  manners.loop = draw_of<Duration>({{}, milliseconds(1), milliseconds(20), milliseconds(100)});
  manners.work = draw_of<Duration>({{}, microseconds(730)});
  manners.gather =
      draw_of<Gathering>({Gathering::kUntil, Gathering::kAsItComes, Gathering::kOneByteALoop});
  manners.gather_at_most = draw_of<Duration>({{}, milliseconds(5), seconds(1)});
  manners.parse = draw_of<Parsing>({Parsing::kIntegersInARow, Parsing::kWholeLine,
                                    Parsing::kOneLetter, Parsing::kBetweenMarkers});
  manners.hello = draw_of<std::string>({"", "desk 1", std::string(200, 'h')});
  if (draw_between(0, 2) != 0) return;
  manners.heap = {.free_bytes = draw_of<std::int64_t>({3, 40, 1'200}),
                  .lost_bytes = draw_of<std::int64_t>({0, 1, 7}),
                  .lines = draw_of<std::int64_t>({1, 5, 100})};
}

void draw_board(BoardDescription& board) {
  if (draw_yes()) return;
  board.boot = draw_of<Duration>({{}, milliseconds(3), milliseconds(1'500)});
  board.boot_spread = draw_of<Duration>({{}, milliseconds(2)});
  if (board.boot < board.boot_spread) board.boot_spread = {};
  board.boot_text =
      draw_of<std::string>({"", "", "\r\nreset 2, mode 3\r\n", std::string(256, 't')});
  board.boot_text_baud = draw_of<std::int64_t>({50, 9'600, 74'880, 115'200, 4'000'000});
  board.boot_disturbed = draw_of<Duration>({{}, {}, milliseconds(40), seconds(9)});
  // Lamps of 10 ohm bring down a supply of 100 mA, and the board with it.
  board.supply_limit_ua = draw_of<std::int64_t>({100'000, 500'000});
  board.brown_out_uv = draw_of<std::int64_t>({0, 2'700'000});
  board.brown_out_after = milliseconds(draw_of<std::int64_t>({1, 10}));
  board.print_ring_bytes = static_cast<int>(draw_of<std::int64_t>({2, 16, 64, 1'024}));
  board.receive_ring_bytes = static_cast<int>(draw_of<std::int64_t>({2, 16, 64, 1'024}));
  board.double_speed = draw_yes();
}

void draw_wire(PanelDescription& panel) {
  if (draw_yes()) return;
  WireDescription& wire = panel.wire;
  wire.kind = draw_of<WireKind>({WireKind::kUart, WireKind::kNativeUsb});
  wire.baud = draw_of<std::int64_t>({300, 9'600, 57'600, 115'200, 1'000'000});
  wire.board_clock_error_ppm = draw_of<std::int64_t>({0, 0, -3'123, 20'000});
  wire.host_clock_error_ppm = draw_of<std::int64_t>({0, 77});
  HostDescription& host = panel.host;
  host.flush = microseconds(draw_of<std::int64_t>({100, 1'000, 4'000, 16'000, 255'000}));
  host.chunk_bytes_max = static_cast<int>(draw_of<std::int64_t>({1, 13, 62, 64}));
  host.buffer_bytes = static_cast<int>(draw_of<std::int64_t>({64, 300, 4'096}));
  host.write_buffer_bytes = static_cast<int>(draw_of<std::int64_t>({64, 2'048}));
  host.full = draw_of<WhenFull>({WhenFull::kDropsNewest, WhenFull::kHoldsTheBoard});
  host.dtr = draw_of<DtrMeans>({DtrMeans::kRestarts, DtrMeans::kOpensGate, DtrMeans::kNothing});
}

std::string draw_bytes(const Panel& panel) {
  switch (draw_between(0, 6)) {
    case 0:
      return "?" + panel.to_panel_framing.ends;
    case 1:
      return std::string(static_cast<std::size_t>(draw_between(0, 300)), '7');
    case 2:
      return std::string(1, static_cast<char>(draw_between(0, 255)));
    case 3:
      return "1,2,3,300," + std::string(draw_yes() ? "\n" : "");
    case 4:
      return std::string(3'000, '\n');
    default: {
      std::string line = draw_of<std::string>({"", "P", "Q"});
      for (std::size_t i = 0; i < panel.description.outputs.size(); ++i)
        line += std::to_string(draw_between(0, 300)) + ",";
      return panel.to_panel_framing.starts + line + panel.to_panel_framing.ends;
    }
  }
}

HandAction draw_hand(std::int64_t control, std::size_t parts) {
  return {.control = static_cast<std::uint16_t>(control),
          .part = static_cast<std::uint8_t>(draw_between(0, static_cast<std::int64_t>(parts) - 1)),
          .to_ppm = static_cast<std::int32_t>(
              draw_of<std::int64_t>({0, 300'000, 1'000'000, 41'666, -125'000})),
          .duration = draw_of<Duration>({{}, milliseconds(7), milliseconds(400)}),
          .curve = draw_of<Curve>({Curve::kAtOnce, Curve::kLinear, Curve::kMinimumJerk})};
}

decltype(Input::what) draw_what(const Panel& panel) {
  const auto controls = static_cast<std::int64_t>(panel.description.controls.size());
  const std::int64_t baud = panel.description.wire.baud;
  switch (draw_between(0, 9)) {
    case 0:
      return LinkOpened{.dtr = draw_between(0, 3) != 0, .takes_at_once = draw_yes()};
    case 1:
      if (draw_yes()) return LinkClosed{};
      return LinkOpened{};
    case 2:
      return LineSettings{
          .baud = draw_of<std::int64_t>({baud, 0, baud, 50, 9'600, 4'000'000, 2'000'000'000, -1}),
          .stop_bits = 1};
    case 3:
      return ModemLines{.dtr = draw_yes(), .rts = draw_yes()};
    case 4:
      return Taken{.bytes = draw_of<std::int64_t>({0, 1, 64, 100, 100'000})};
    case 5:
      if (draw_yes()) return Slipped{.by = seconds(1)};
      [[fallthrough]];
    case 6:
    case 7:
      if (controls > 0) {
        const std::int64_t control = draw_between(0, controls - 1);
        const auto parts =
            hand_parts(panel.description.controls[static_cast<std::size_t>(control)]);
        if (!parts.empty()) return draw_hand(control, parts.size());
      }
      [[fallthrough]];
    default:
      return BytesFromGame{draw_bytes(panel)};
  }
}

}  // namespace

std::int64_t draw_between(std::int64_t low, std::int64_t high) {
  // At full size: a range is not narrowed at the beginning of a run.
  return *rc::gen::resize(rc::kNominalSize, rc::gen::inRange<std::int64_t>(low, high + 1));
}

std::shared_ptr<const Panel> draw_panel() {
  PanelDescription panel = fresh_panel();
  panel.name = "random";
  apply_preset(draw_of<std::string>({"bootloader-8bit", "bridge-16ms", "native-usb-32bit",
                                     "native-usb-8bit", "large-8bit"}),
               panel);
  for (std::int64_t i = draw_between(0, 5); i > 0; --i)
    panel.controls.push_back(draw_control(panel.controls.size()));
  for (std::int64_t i = draw_between(0, 3); i > 0; --i)
    panel.outputs.push_back(draw_output(panel.outputs.size()));
  draw_matrix(panel);
  const std::vector<std::string> controls = names_in_lines(panel.controls);
  const std::vector<std::string> outputs = names_in_lines(panel.outputs);
  draw_manners(panel.manners);
  draw_board(panel.board);
  draw_wire(panel);
  panel.lines_to_game = draw_lines(controls, true);
  panel.lines_to_panel = draw_lines(outputs, false);
  if (panel.manners.parse == Parsing::kBetweenMarkers) {
    panel.to_panel.starts = "<";
    panel.to_panel.ends = ">";
  }
  auto compiled = compile_panel(std::move(panel));
  RC_PRE(compiled.ok());
  return compiled.value();
}

std::shared_ptr<const Panel> draw_changed(const Panel& panel) {
  PanelDescription changed = panel.description;
  switch (draw_between(0, 6)) {
    case 0:
      for (ControlDescription& control : changed.controls) control.place.x_um += 1'000;
      changed.name += "!";
      break;
    case 1:
      draw_wire(changed);
      break;
    case 2:
      changed.host.buffer_bytes = static_cast<int>(draw_of<std::int64_t>({64, 300, 4'096}));
      changed.host.flush = microseconds(draw_of<std::int64_t>({100, 16'000}));
      break;
    case 3:
      draw_manners(changed.manners);
      break;
    case 4:  // one control (output) less: the others move up
      if (!changed.controls.empty() && changed.lines_to_game.empty())
        changed.controls.erase(changed.controls.begin());
      if (!changed.outputs.empty() && changed.lines_to_panel.empty())
        changed.outputs.erase(changed.outputs.begin());
      break;
    case 5:  // what is called so is made anew, perhaps of another kind
      if (!changed.controls.empty() && changed.lines_to_game.empty())
        changed.controls.back() = draw_control(changed.controls.size() - 1);
      break;
    default:
      return draw_panel();
  }
  auto compiled = compile_panel(std::move(changed));
  RC_PRE(compiled.ok());
  return compiled.value();
}

std::vector<Input> draw_inputs(const std::shared_ptr<const Panel>& first, Instant end,
                               bool reloads) {
  std::shared_ptr<const Panel> panel = first;
  std::vector<Input> inputs;
  Instant t;
  for (std::int64_t left = draw_between(0, 40); left > 0; --left) {
    t = t + draw_of<Duration>({{},
                               microseconds(1),
                               microseconds(draw_between(1, 3'000)),
                               milliseconds(draw_between(1, 90)),
                               milliseconds(draw_between(1, 1'200))});
    t = later(t, Instant{1});
    // Never at the time of an input before it, which may be a hand on a control that is gone then.
    const bool reload = reloads && draw_between(0, 9) == 0;
    if (reload) t = t + nanoseconds(1);
    if (t > end) break;
    if (!reload) {
      inputs.push_back({t, draw_what(*panel)});
      continue;
    }
    panel = draw_changed(*panel);
    inputs.push_back({t, PanelReloaded{panel}});
  }
  std::stable_sort(inputs.begin(), inputs.end(), [](const Input& a, const Input& b) {
    return a.at != b.at ? a.at < b.at : class_of(a) < class_of(b);
  });
  return inputs;
}

RandomLife draw_life() {
  RandomLife life;
  life.panel = draw_panel();
  life.options = {.seed = static_cast<std::uint64_t>(draw_between(1, 5)),
                  .name = "seat",
                  .whole_lines = draw_between(0, 3) == 0};
  life.end = Instant{milliseconds(draw_between(5, 4'000)).ns};
  life.inputs = draw_inputs(life.panel, life.end, draw_yes());
  return life;
}

std::vector<Instant> draw_splits(const std::vector<Input>& inputs, Instant end) {
  std::vector<Instant> splits;
  for (std::int64_t left = draw_between(1, 30); left > 0; --left) {
    Instant t{draw_between(1, end.ns)};
    if (!inputs.empty() && draw_yes()) {
      const auto i = draw_between(0, static_cast<std::int64_t>(inputs.size()) - 1);
      t = inputs[static_cast<std::size_t>(i)].at + nanoseconds(draw_between(-1, 1));
    }
    if (t > Instant{} && t < end) splits.push_back(t);
  }
  std::sort(splits.begin(), splits.end());
  return splits;
}

}  // namespace understudy
