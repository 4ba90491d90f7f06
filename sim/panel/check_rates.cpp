// Bytes and lines per second against the wire, what one round of the loop costs, and how old an
// input is when the game has it.
#include <algorithm>

#include "sim/base/units.h"
#include "sim/model/kinds.h"
#include "sim/model/serial_speed.h"
#include "sim/panel/check_report.h"
#include "sim/panel/mistakes.h"

namespace understudy {
namespace {

constexpr std::int64_t kSecondNs = 1'000'000'000;
// USB 2.0 full speed: at most 19 bulk packets of 64 bytes in a frame of 1 ms (chapter 5).
constexpr std::int64_t kUsbBytesASecond = 19 * 64 * 1'000;
// A reading takes 13 ticks of the converter's clock and begins at a tick: 14 at most (ATmega328P
// sheet 8271H, 24.4).
constexpr std::int64_t kReadingTicksMax = 14;
// A game that writes a line in each frame of a usual screen.
constexpr std::int64_t kFramesASecond = 60;

Duration ceiling(std::int64_t amount, std::int64_t a_second) {
  return {static_cast<std::int64_t>((static_cast<__int128>(amount) * kSecondNs + a_second - 1) /
                                    a_second)};
}

std::int64_t bits_of_byte(const WireDescription& wire) {
  return 1 + wire.data_bits + (wire.parity == Parity::kNone ? 0 : 1) + wire.stop_bits;
}

std::int64_t bytes_a_second(const WireDescription& wire) {
  return wire.kind == WireKind::kNativeUsb ? kUsbBytesASecond : wire.baud / bits_of_byte(wire);
}

// All channels once, and the other work.
Duration reading_cost(const PanelDescription& panel) {
  const __int128 ns =
      static_cast<__int128>(kReadingTicksMax) * kSecondNs * 1'000 / panel.board.adc_clock_mhz;
  const Duration analogue{static_cast<std::int64_t>(ns)};
  Duration cost = panel.manners.work;
  for (const Channel& channel : channels_of(panel))
    cost = cost + (channel.analogue ? analogue : panel.board.digital_read);
  return cost;
}

// Bytes that each round prints at the most.
std::int64_t bytes_a_round(const Panel& panel) {
  std::int64_t bytes = 0;
  for (std::size_t i = 0; i < panel.to_game.size(); ++i) {
    const SendMode mode = panel.game_formats[i].send.mode;
    if (mode == SendMode::kEveryLoop || mode == SendMode::kOnChange)
      bytes += static_cast<std::int64_t>(panel.to_game.format(i).framed_bytes_max());
  }
  return bytes;
}

// The round is as long as printing takes, so the ring is always full.
bool prints_without_end(const Panel& panel, const Rates& rates) {
  return ceiling(bytes_a_round(panel), rates.wire_bytes_a_second) >= rates.loop;
}

// One round: as long as it is meant to be, or as reading and printing need. Printing waits for what
// does not fit into the ring, and in the long run for every byte.
Duration round_time(const Panel& panel, const Rates& rates) {
  const PanelDescription& description = panel.description;
  const std::int64_t bytes = bytes_a_round(panel);
  const std::int64_t beyond =
      std::max<std::int64_t>(0, bytes - (description.board.print_ring_bytes - 1));
  const Duration blocked = ceiling(beyond, rates.wire_bytes_a_second);
  const Duration printing = ceiling(bytes, rates.wire_bytes_a_second);
  const Duration least = microseconds(1);
  return std::max({description.manners.loop, rates.reading + blocked, printing, least});
}

LineRow to_game_row(const Panel& panel, std::size_t index, const Rates& rates) {
  const protocol::LineFormat& format = panel.to_game.format(index);
  const SendDescription& send = panel.game_formats[index].send;
  LineRow row;
  row.text = format.text();
  row.bytes_max = static_cast<std::int64_t>(format.framed_bytes_max());
  switch (send.mode) {
    case SendMode::kEveryLoop:
      row.interval = rates.loop;
      row.when = "every loop";
      break;
    case SendMode::kEvery: {
      // Sent at the first round after the time has passed.
      const std::int64_t rounds =
          std::max<std::int64_t>(1, (send.every.ns + rates.loop.ns - 1) / rates.loop.ns);
      row.interval = rates.loop * rounds;
      row.when = "every " + write_duration(send.every);
      break;
    }
    case SendMode::kOnChange:
      row.interval = rates.loop;
      row.when = "on a change of " + std::to_string(send.change);
      if (send.refresh.ns > 0) row.when += " or after " + write_duration(send.refresh);
      break;
    case SendMode::kAsked:
      row.when = "when asked";
      return row;
  }
  // Behind a full ring a line waits for all that is in it.
  std::int64_t bytes = row.bytes_max;
  if (prints_without_end(panel, rates)) bytes += panel.description.board.print_ring_bytes - 1;
  row.age_max = row.interval + rates.reading + ceiling(bytes, rates.wire_bytes_a_second) +
                panel.description.host.flush;
  return row;
}

void check_to_game(Rates& rates, const Panel& panel, std::vector<Remark>& remarks) {
  const char* about = "lines to the game";
  for (std::size_t i = 0; i < panel.to_game.size(); ++i) {
    const LineRow row = to_game_row(panel, i, rates);
    if (row.interval.ns > 0) {
      rates.to_game_bytes_a_second += row.bytes_max * kSecondNs / row.interval.ns;
      rates.age_max = std::max(rates.age_max, row.age_max);
    }
    const SendDescription& send = panel.game_formats[i].send;
    if (send.mode == SendMode::kEvery && row.interval != send.every) {
      remarks.push_back({Severity::kHint, about,
                         "every " + write_duration(send.every) + " in a loop of " +
                             rounded(rates.loop) + " is every " + rounded(row.interval),
                         ""});
    }
    rates.to_game.push_back(row);
  }
  const Duration meant = panel.description.manners.loop;
  if (meant.ns > 0 && rates.loop > meant) {
    remarks.push_back({Severity::kWarning, about,
                       "reading and printing take " + rounded(rates.loop) +
                           " each round, so a loop of " + write_duration(meant) + " cannot be kept",
                       "a higher baud, a shorter line, a slower loop, or sending on change"});
  } else if (rates.to_game_bytes_a_second > rates.wire_bytes_a_second) {
    remarks.push_back({Severity::kWarning, about, "they are more than the wire carries",
                       "a higher baud, or sending less often"});
  }
}

void check_board_reading(const Rates& rates, const Panel& panel, std::int64_t longest,
                         std::vector<Remark>& remarks) {
  const PanelDescription& description = panel.description;
  if (description.manners.gather == Gathering::kOneByteALoop) {
    const Duration line = rates.loop * longest;
    if (line > milliseconds(100)) {
      remarks.push_back({Severity::kWarning, "lines to the panel",
                         "at one byte each round a line of " + std::to_string(longest) +
                             " bytes takes " + write_duration(line) + " to be read",
                         "read all that has come in each round"});
    }
    return;
  }
  const std::int64_t a_second = std::min(kFramesASecond * longest, rates.wire_bytes_a_second);
  const std::int64_t in_a_round = a_second * rates.loop.ns / kSecondNs;
  const std::int64_t room = description.board.receive_ring_bytes - 1;
  if (in_a_round > room) {
    remarks.push_back({Severity::kWarning, "lines to the panel",
                       "a game that sends 60 lines a second brings " + std::to_string(in_a_round) +
                           " bytes in one round of the loop, and the board has room for " +
                           std::to_string(room) + ": the rest is lost",
                       "a shorter loop, or a game that sends on change"});
  }
}

void check_to_panel(Rates& rates, const Panel& panel, std::vector<Remark>& remarks) {
  std::int64_t longest = 0;
  for (const protocol::LineFormat& format : panel.to_panel.formats()) {
    LineRow row;
    row.text = format.text();
    row.when = "when the game sends it";
    row.bytes_max = static_cast<std::int64_t>(format.framed_bytes_max());
    longest = std::max(longest, row.bytes_max);
    rates.to_panel.push_back(row);
  }
  if (longest == 0) return;
  rates.to_panel_lines_a_second = rates.wire_bytes_a_second / longest;
  if (rates.to_panel_lines_a_second < kFramesASecond) {
    remarks.push_back({Severity::kWarning, "lines to the panel",
                       "the wire carries " + std::to_string(rates.to_panel_lines_a_second) +
                           " a second, fewer than a game with 60 frames a second writes",
                       "send on change, or take a higher baud"});
  }
  check_board_reading(rates, panel, longest, remarks);
}

// How far a receiver may be off: the operating range of the asynchronous receiver (ATmega328P sheet
// 8271H, 20.8.3). Recommended limits leave half of it to the other side.
struct Tolerance {
  std::int64_t slow_ppm = 0;
  std::int64_t fast_ppm = 0;
  std::int64_t advised_ppm = 0;
};

Tolerance tolerance_of(std::int64_t bits, bool double_speed) {
  const std::int64_t samples = double_speed ? 8 : 16;
  const std::int64_t first = double_speed ? 4 : 8;
  const std::int64_t middle = double_speed ? 5 : 9;
  constexpr std::int64_t kMillion = 1'000'000;
  Tolerance tolerance;
  tolerance.slow_ppm =
      kMillion - kMillion * (bits + 1) * samples / (samples - 1 + bits * samples + first);
  tolerance.fast_ppm = kMillion * (bits + 2) * samples / ((bits + 1) * samples + middle) - kMillion;
  tolerance.advised_ppm = double_speed ? 15'000 : 20'000;
  return tolerance;
}

std::string percent(std::int64_t ppm) {
  const std::int64_t size = (ppm < 0 ? -ppm : ppm) / 100;
  const std::string hundredths = std::to_string(100 + size % 100).substr(1);
  return std::to_string(size / 100) + "." + hundredths + " %";
}

// The chip's divider makes the nearest baud it can.
std::int64_t divider_error_ppm(const BoardDescription& board, const WireDescription& wire) {
  const std::int64_t samples = board_samples_per_bit(board, wire);
  const std::int64_t clock_hz = board.cpu_clock_mhz / 1'000;
  const std::int64_t step = samples * wire.baud;
  const std::int64_t divider =
      std::clamp<std::int64_t>((clock_hz + step / 2) / step, 1, kDividerMax + 1);
  const __int128 made = static_cast<__int128>(clock_hz) * 1'000'000;
  return static_cast<std::int64_t>(made / (divider * step)) - 1'000'000;
}

// How far the wire's baud may be off on this board, and is.
struct BaudError {
  std::int64_t ppm = 0;
  Tolerance tolerance;

  BaudError(const BoardDescription& board, const WireDescription& wire)
      : ppm(divider_error_ppm(board, wire)) {
    const std::int64_t bits = wire.data_bits + (wire.parity == Parity::kNone ? 0 : 1);
    tolerance = tolerance_of(bits, board_samples_per_bit(board, wire) == 8);
  }
  [[nodiscard]] std::int64_t size() const { return ppm < 0 ? -ppm : ppm; }
  [[nodiscard]] bool beyond_advice() const { return size() > tolerance.advised_ppm; }
  // A fast board sees the computer as slow, and the other way round.
  [[nodiscard]] bool beyond_use() const {
    return size() > (ppm > 0 ? tolerance.slow_ppm : tolerance.fast_ppm);
  }
};

// Usual bauds that this chip's clock divides well; which are usual is common practice, no source.
std::string better_bauds(const PanelDescription& panel) {
  std::vector<std::string> bauds;
  for (const int baud :
       {9'600, 19'200, 38'400, 57'600, 115'200, 230'400, 250'000, 500'000, 1'000'000}) {
    WireDescription wire = panel.wire;
    wire.baud = baud;
    if (!BaudError(panel.board, wire).beyond_advice()) bauds.push_back(std::to_string(baud));
  }
  if (bauds.empty()) return "none of the usual bauds is nearer on this chip's clock";
  return either(bauds) + " baud" + (bauds.size() == 1 ? " is" : " are") + " near enough";
}

void check_baud(Rates& rates, const PanelDescription& panel, std::vector<Remark>& remarks) {
  if (panel.wire.kind != WireKind::kUart) return;
  const BaudError error(panel.board, panel.wire);
  rates.baud_error_ppm = error.ppm;
  const std::string what = std::to_string(panel.wire.baud) + " baud is " + percent(error.ppm) +
                           (error.ppm < 0 ? " slow" : " fast") + " on this chip's clock, ";
  if (error.beyond_use()) {
    remarks.push_back({Severity::kWarning, "wire",
                       what + "more than a receiver takes: bytes are "
                              "lost and turned to others",
                       better_bauds(panel)});
  } else if (error.beyond_advice()) {
    remarks.push_back(
        {Severity::kNote, "wire",
         what +
             "which works while the computer's side is "
             "near exact (advised: at most " +
             percent(error.tolerance.advised_ppm) + ")",
         "nothing to do while it works; if lines come spoilt: " + better_bauds(panel)});
  }
}

}  // namespace

std::string rounded(Duration d) {
  constexpr std::int64_t kHundredthNs = 10'000;
  if (d < milliseconds(1)) return write_duration(d);
  return write_duration({(d.ns + kHundredthNs / 2) / kHundredthNs * kHundredthNs});
}

Rates check_rates(const Panel& panel, std::vector<Remark>& remarks) {
  Rates rates;
  rates.wire_bytes_a_second = bytes_a_second(panel.description.wire);
  rates.reading = reading_cost(panel.description);
  rates.loop = round_time(panel, rates);
  check_to_game(rates, panel, remarks);
  check_to_panel(rates, panel, remarks);
  check_baud(rates, panel.description, remarks);
  return rates;
}

}  // namespace understudy
