// One direction of a seat's traffic, as its bytes come: lines a second, gaps, what of it cannot be
// read and why, repetition, and its share of the wire. Knows the formats of a panel or none; then
// all that raw lines can tell is there.
//
// What is wrong with a line that no format reads: `torn` where it ends too early, runs into the
// next one, or is the first after the port was opened; `check errors` where its check does not fit;
// `unknown` where nothing of it looks like one of the formats (banners, debug talk); `malformed`
// all others. A part of a line that a closing port cuts off is torn too.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/matcher.h"
#include "protocol/splitter.h"
#include "sim/base/time.h"
#include "sim/measure/quantiles.h"
#include "sim/model/panel.h"

namespace understudy {

inline constexpr Duration kGapBound = milliseconds(100);

struct DirectionFigures {
  std::int64_t bytes = 0;
  std::int64_t lines = 0;  // whole ones, of any kind, and those that are counted below
  // These three say nothing without formats; `told` is false then.
  bool told = false;
  std::int64_t read = 0;  // by a format
  std::int64_t said = 0;  // known beside the formats: the hello, a question
  std::int64_t unknown = 0;
  std::int64_t malformed = 0;
  std::int64_t check_errors = 0;
  std::int64_t torn = 0;
  std::int64_t too_long = 0;
  std::int64_t stray = 0;   // runs of bytes outside of markers
  std::string first_wrong;  // the first line that was not read, cut to 160 bytes, and why
  std::string first_wrong_why;
  // By {#sequence} where lines carry it: a number that came twice, and, where all lines carry it,
  // numbers that never came (but around a wrap).
  std::optional<std::int64_t> duplicates;
  std::optional<std::int64_t> missing;
  // Lines that say what the line of their format before said (without formats: the same bytes).
  std::int64_t redundant = 0;
  std::int64_t redundant_bytes = 0;

  std::optional<Instant> first_at;  // of the first and last byte
  std::optional<Instant> last_at;
  // Lines in each whole second since the first line (since the port was opened).
  std::optional<std::int64_t> rate_median;
  std::optional<std::int64_t> rate_least;
  std::optional<std::int64_t> rate_most;
  // Between the ends of successive lines, while the port stayed open.
  std::optional<Duration> gap_median;
  std::optional<Duration> gap_99;
  std::optional<Duration> gap_longest;
  std::optional<Instant> gap_longest_at;  // when it began
  Duration gap_bound = {};
  std::int64_t gaps_over_bound = 0;
  bool exact = true;  // median and 99th; else kQuantileErrorMost applies

  std::optional<std::int64_t> baud;
  int bits_per_byte = 10;  // with start, parity and stop bits
  // Of the wire's time from the first byte to the last, and in its busiest second, 0 to 1 (bytes
  // that come in one go may make it more than 1).
  std::optional<double> wire_share;
  std::optional<double> wire_share_busiest;
};

enum class Direction : std::uint8_t { kToGame, kToPanel };

struct DirectionOptions {
  Direction direction = Direction::kToGame;
  std::shared_ptr<const Panel> panel;  // null: no formats; lines end with \n or \r\n
  Duration gap_bound = kGapBound;
};

// A line that was read, or not. Valid during the call.
struct MeasuredLine {
  Instant at;  // when its last byte came
  std::string_view text;
  std::int32_t format = protocol::kUnknownLine;
  std::span<const std::int64_t> numbers;  // the newest of all fields, after it
  bool repeats = false;                   // it says what the line of its format before said
};

// Value semantics; the panel is shared. Bounded memory. Times handed in never go back.
class DirectionStatistics {
 public:
  explicit DirectionStatistics(const DirectionOptions& options);

  // `sink`, called with a MeasuredLine for each line that a format reads, in order.
  template <class Sink>
  void add(Instant t, std::string_view bytes, Sink&& sink) {
    take_bytes(t, bytes);
    splitter_.push(bytes, [&](const protocol::SplitLine& line) {
      if (take_line(t, line)) sink(MeasuredLine{t, line.text, format_, numbers_, repeats_});
    });
  }
  void add(Instant t, std::string_view bytes) {
    add(t, bytes, [](const MeasuredLine&) {});
  }
  // The port was opened anew: what has come of a line is torn, gaps and rates begin anew.
  void port_opened();
  // Lines are of another panel from now on; what was counted stays.
  void change_panel(std::shared_ptr<const Panel> panel);
  // What the wire runs at where no panel says it.
  void set_speed(std::int64_t baud, int bits_per_byte);

  [[nodiscard]] DirectionFigures figures() const;
  [[nodiscard]] std::int64_t lines() const { return counts_.lines; }
  [[nodiscard]] const std::shared_ptr<const Panel>& panel() const { return options_.panel; }

 private:
  void take_formats();
  void take_bytes(Instant t, std::string_view bytes);
  void turn_second(Instant t);
  bool take_line(Instant t, const protocol::SplitLine& line);
  void take_time(Instant t);
  bool take_read(std::string_view text, std::int32_t format, bool same_text);
  bool take_raw(std::string_view text);
  void take_wrong(std::string_view text);
  void count_sequence();
  [[nodiscard]] const protocol::Matcher& formats() const;

  DirectionOptions options_;
  protocol::Splitter splitter_;
  std::vector<std::string> known_;  // beside the formats
  std::vector<std::int64_t> numbers_;
  std::vector<std::int64_t> before_;  // the numbers before the newest line
  std::vector<bool> format_seen_;
  bool any_sequence_ = false;
  bool all_sequence_ = true;
  protocol::BuiltIns built_ins_;  // of the newest line
  std::optional<std::uint64_t> last_sequence_;
  std::string last_text_;
  std::int32_t last_format_ = protocol::kUnknownLine;
  std::int32_t format_ = protocol::kUnknownLine;
  bool repeats_ = false;
  bool first_since_opening_ = true;

  DirectionFigures counts_;
  std::int64_t duplicates_ = 0;
  std::int64_t missing_ = 0;

  // Time.
  std::optional<Instant> last_line_at_;
  std::optional<Instant> rate_since_;  // the second being counted began
  std::int64_t lines_in_second_ = 0;
  Quantiles rates_;
  Quantiles gaps_;
  Duration gap_longest_ = {};
  Instant gap_longest_at_;
  Instant second_since_;  // bytes: the second being counted began
  std::int64_t bytes_in_second_ = 0;
  std::int64_t bytes_in_busiest_ = 0;
};

}  // namespace understudy
