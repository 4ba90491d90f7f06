// Lines told apart, and time: gaps, seconds, the wire.
#include "sim/measure/direction_statistics.h"

#include <algorithm>
#include <cstring>
#include <utility>

#include "sim/base/text.h"

namespace understudy {
namespace {

constexpr Duration kSecond = seconds(1);
constexpr std::size_t kShownBytesMax = 160;
// A longer way in the sequence is a restart, or damage, and says nothing of what was lost.
constexpr std::int64_t kMissingMax = 10'000;
constexpr std::size_t kRawLineBytesMax = 4'096;

protocol::Framing raw_framing() {
  return {.starts = "", .ends = "\n", .accepts = {"\r\n"}, .longest = kRawLineBytesMax};
}

int bits_of(const WireDescription& wire) {
  return 1 + wire.data_bits + (wire.parity == Parity::kNone ? 0 : 1) + wire.stop_bits;
}

std::vector<std::string> known_lines(const Panel& panel, Direction direction) {
  std::vector<std::string> known;
  if (direction == Direction::kToGame) {
    if (!panel.description.manners.hello.empty()) known.push_back(panel.description.manners.hello);
    return known;
  }
  for (const GameFormat& format : panel.game_formats)
    if (format.send.mode == SendMode::kAsked) known.push_back(format.send.asked);
  return known;
}

const protocol::Matcher& no_formats() {
  static const protocol::Matcher none;
  return none;
}

}  // namespace

DirectionStatistics::DirectionStatistics(const DirectionOptions& options) : options_(options) {
  counts_.gap_bound = options_.gap_bound;
  take_formats();
}

const protocol::Matcher& DirectionStatistics::formats() const {
  if (!options_.panel) return no_formats();
  return options_.direction == Direction::kToGame ? options_.panel->to_game
                                                  : options_.panel->to_panel;
}

void DirectionStatistics::take_formats() {
  splitter_ = protocol::Splitter(raw_framing());
  known_.clear();
  numbers_.clear();
  last_text_.clear();
  last_format_ = protocol::kUnknownLine;
  if (options_.panel) {
    const Panel& panel = *options_.panel;
    const bool to_game = options_.direction == Direction::kToGame;
    splitter_ = protocol::Splitter(to_game ? panel.to_game_framing : panel.to_panel_framing);
    known_ = known_lines(panel, options_.direction);
    numbers_.resize(to_game ? panel.to_game_fields.size() : panel.to_panel_fields.size());
    counts_.told = true;
    if (panel.description.wire.kind == WireKind::kUart)
      set_speed(panel.description.wire.baud, bits_of(panel.description.wire));
  }
  before_ = numbers_;
  format_seen_.assign(formats().size(), false);
  for (const protocol::LineFormat& format : formats().formats()) {
    any_sequence_ = any_sequence_ || format.has_sequence();
    all_sequence_ = all_sequence_ && format.has_sequence();
  }
}

void DirectionStatistics::set_speed(std::int64_t baud, int bits_per_byte) {
  counts_.baud = baud;
  counts_.bits_per_byte = bits_per_byte;
}

void DirectionStatistics::change_panel(std::shared_ptr<const Panel> panel) {
  options_.panel = std::move(panel);
  take_formats();
  port_opened();
}

void DirectionStatistics::port_opened() {
  if (splitter_.part_bytes() > 0) {
    ++counts_.torn;
    ++counts_.lines;
  }
  splitter_.forget_part();
  last_text_.clear();
  last_format_ = protocol::kUnknownLine;
  first_since_opening_ = true;
  std::fill(format_seen_.begin(), format_seen_.end(), false);
  last_line_at_.reset();
  rate_since_.reset();
  last_sequence_.reset();
}

void DirectionStatistics::turn_second(Instant t) {
  bytes_in_busiest_ = std::max(bytes_in_busiest_, bytes_in_second_);
  bytes_in_second_ = 0;
  second_since_ = second_since_ + kSecond * ((t - second_since_).ns / kSecond.ns);
}

void DirectionStatistics::take_bytes(Instant t, std::string_view bytes) {
  if (bytes.empty()) return;
  if (!counts_.first_at) counts_.first_at = second_since_ = t;
  counts_.last_at = t;
  const auto count = static_cast<std::int64_t>(bytes.size());
  counts_.bytes += count;
  if (t - second_since_ >= kSecond) turn_second(t);
  bytes_in_second_ += count;
}

// Of every line, whatever is in it.
void DirectionStatistics::take_time(Instant t) {
  ++counts_.lines;
  if (last_line_at_) {
    const Duration gap = t - *last_line_at_;
    gaps_.add(gap.ns);
    if (gap > counts_.gap_bound) ++counts_.gaps_over_bound;
    if (gap > gap_longest_) {
      gap_longest_ = gap;
      gap_longest_at_ = *last_line_at_;
    }
  }
  last_line_at_ = t;
  if (!rate_since_) {
    rate_since_ = t;
    lines_in_second_ = 0;
  }
  if (t - *rate_since_ >= kSecond) {
    const std::int64_t whole = (t - *rate_since_).ns / kSecond.ns;
    rates_.add(lines_in_second_);
    rates_.add(0, whole - 1);
    lines_in_second_ = 0;
    rate_since_ = *rate_since_ + kSecond * whole;
  }
  ++lines_in_second_;
}

bool DirectionStatistics::take_line(Instant t, const protocol::SplitLine& line) {
  take_time(t);
  const bool first = std::exchange(first_since_opening_, false);
  if (line.kind != protocol::LineKind::kWhole) {
    ++(line.kind == protocol::LineKind::kTooLong ? counts_.too_long : counts_.stray);
    return false;
  }
  if (!options_.panel) return take_raw(line.text);
  // Most often a line is the one before: what it says is known then.
  if (last_format_ != protocol::kUnknownLine && line.text == last_text_)
    return take_read(line.text, last_format_, true);
  const auto said = std::find(known_.begin(), known_.end(), line.text);
  if (said != known_.end()) {
    ++counts_.said;
    return false;
  }
  const std::int32_t format = formats().match(line.text, numbers_, &built_ins_).format;
  if (format != protocol::kUnknownLine) return take_read(line.text, format, false);
  if (first)
    ++counts_.torn;
  else
    take_wrong(line.text);
  return false;
}

// `same_text`: as the newest line that was read.
bool DirectionStatistics::take_read(std::string_view text, std::int32_t format, bool same_text) {
  ++counts_.read;
  const auto place = static_cast<std::size_t>(format);
  const protocol::LineFormat& read = formats().format(place);
  if (!same_text) {
    last_text_.assign(text);
    last_format_ = format;
  }
  repeats_ = format_seen_[place];
  if (!same_text) {
    for (const std::uint16_t field : read.fields()) {
      repeats_ = repeats_ && numbers_[field] == before_[field];
      before_[field] = numbers_[field];
    }
  }
  format_seen_[place] = true;
  format_ = format;
  if (repeats_) {
    ++counts_.redundant;
    counts_.redundant_bytes +=
        static_cast<std::int64_t>(text.size() + read.framed_bytes_max() - read.line_bytes_max());
  }
  if (read.has_sequence()) count_sequence();
  return true;
}

bool DirectionStatistics::take_raw(std::string_view text) {
  if (text == last_text_) {
    ++counts_.redundant;
    counts_.redundant_bytes += static_cast<std::int64_t>(text.size()) + 1;
  } else {
    last_text_.assign(text);
  }
  return false;
}

// The program counts every line that it prints, of whichever format.
void DirectionStatistics::count_sequence() {
  if (last_sequence_) {
    const auto way =
        static_cast<std::int64_t>(built_ins_.sequence) - static_cast<std::int64_t>(*last_sequence_);
    if (way == 0) ++duplicates_;
    if (way > 1 && way <= kMissingMax) missing_ += way - 1;
  }
  last_sequence_ = built_ins_.sequence;
}

void DirectionStatistics::take_wrong(std::string_view text) {
  using protocol::LineFaultKind;
  const protocol::Match match = formats().explain(text);
  if (match.format == protocol::kUnknownLine || formats().size() == 0)
    ++counts_.unknown;
  else if (match.fault.kind == LineFaultKind::kWrongCheck)
    ++counts_.check_errors;
  else if (match.fault.hint == protocol::LineHint::kRunTogether)
    ++counts_.torn;
  else if (match.fault.column <= 1)
    ++counts_.unknown;
  else if (match.fault.kind == LineFaultKind::kEndsEarly)
    ++counts_.torn;
  else
    ++counts_.malformed;
  if (!counts_.first_wrong.empty()) return;
  counts_.first_wrong = printable(text.substr(0, kShownBytesMax));
  if (formats().size() > 0) counts_.first_wrong_why = formats().sentence(match, text);
}

DirectionFigures DirectionStatistics::figures() const {
  DirectionFigures figures = counts_;
  if (any_sequence_) {
    figures.duplicates = duplicates_;
    if (all_sequence_) figures.missing = missing_;
  }
  figures.rate_median = rates_.median();
  figures.rate_least = rates_.least();
  figures.rate_most = rates_.most();
  figures.exact = rates_.exact() && gaps_.exact();
  if (gaps_.count() > 0) {
    figures.gap_median = Duration{*gaps_.median()};
    figures.gap_99 = Duration{*gaps_.at(0.99)};
    figures.gap_longest = gap_longest_;
    figures.gap_longest_at = gap_longest_at_;
  }
  if (!figures.baud || *figures.baud <= 0 || !figures.first_at) return figures;
  const double byte_seconds =
      static_cast<double>(figures.bits_per_byte) / static_cast<double>(*figures.baud);
  const Duration length = *figures.last_at - *figures.first_at;
  if (length.ns > 0)
    figures.wire_share =
        static_cast<double>(figures.bytes) * byte_seconds / (static_cast<double>(length.ns) / 1e9);
  if (length >= kSecond)
    figures.wire_share_busiest =
        static_cast<double>(std::max(bytes_in_busiest_, bytes_in_second_)) * byte_seconds;
  return figures;
}

}  // namespace understudy
