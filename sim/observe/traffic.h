// One direction of a seat's traffic as an onlooker sees it: bytes cut into lines, lines told apart,
// counted and, where they are wrong, explained.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/matcher.h"
#include "protocol/splitter.h"
#include "sim/base/time.h"
#include "sim/observe/rate_window.h"

namespace understudy {

struct LineCounts {
  std::int64_t bytes = 0;
  std::int64_t known = 0;    // lines that a format reads, hello and questions
  std::int64_t unknown = 0;  // whole lines that none reads: banners, debug talk, damage
  std::int64_t broken = 0;   // too long, or outside of markers
};

enum class LineSort : std::uint8_t {
  kRead,     // by a format
  kSaid,     // known beside the formats: the hello, a question
  kUnknown,  // whole, and no format reads it
  kTooLong,
  kStray,  // outside of markers
};
// A line as it went by. Valid during the call.
struct SeenLine {
  Instant began;  // when its first byte came
  Instant ended;
  LineSort sort = LineSort::kRead;
  std::string_view text;                         // without markers
  std::int32_t format = protocol::kUnknownLine;  // that reads it
  std::span<const std::int64_t> numbers;         // the newest, after it
};
using LineSink = std::function<void(const SeenLine&)>;

// A regular value; the formats handed to each call must be the same ones, until change_formats().
class Traffic {
 public:
  Traffic() = default;
  // `known`: lines that are known beside the formats, such as the hello or a question.
  Traffic(const protocol::Framing& framing, std::size_t field_count,
          std::vector<std::string> known);

  // `sink`: is shown each line that these bytes complete.
  void add(Instant t, std::string_view bytes, const protocol::Matcher& formats,
           const LineSink& sink = {});
  // Lines have other formats from now on: what was counted stays, a part of a line that has come is
  // forgotten, and numbers are 0 until a line brings some. Like the constructor.
  void change_formats(const protocol::Framing& framing, std::size_t field_count,
                      std::vector<std::string> known);
  // The port was opened anew: a part of a line from before is forgotten.
  void begin_anew();

  [[nodiscard]] const LineCounts& counts() const { return counts_; }
  // Whole lines of any kind per second, over the last two seconds.
  [[nodiscard]] double lines_per_second(Instant now) const { return lines_.per_second(now); }
  [[nodiscard]] double bytes_per_second(Instant now) const { return bytes_.per_second(now); }
  // Wire numbers of the newest known lines, in the order of the catalogue.
  [[nodiscard]] const std::vector<std::int64_t>& numbers() const { return numbers_; }
  [[nodiscard]] Instant last_known_at() const { return last_known_at_; }
  [[nodiscard]] Instant last_byte_at() const { return last_byte_at_; }
  // Bytes that came without an end of line so far, how they begin, and since when.
  [[nodiscard]] std::uint64_t unfinished_bytes() const { return splitter_.part_bytes(); }
  [[nodiscard]] std::string_view unfinished_head() const;
  [[nodiscard]] Instant unfinished_since() const { return unfinished_since_; }
  // The newest line that no format reads (its first 160 bytes), and what is wrong with it; none
  // since the port was opened: empty.
  [[nodiscard]] const std::string& last_unknown() const { return last_unknown_; }
  [[nodiscard]] std::string explain_last_unknown(const protocol::Matcher& formats) const {
    return explain(last_unknown_, formats);
  }
  // The same of any whole line that no format reads.
  [[nodiscard]] std::string explain(std::string_view line, const protocol::Matcher& formats) const;

 private:
  SeenLine take(Instant t, const protocol::SplitLine& line, const protocol::Matcher& formats);
  protocol::Splitter splitter_;
  std::vector<std::string> known_;
  LineCounts counts_;
  RateWindow lines_;
  RateWindow bytes_;
  std::vector<std::int64_t> numbers_;
  Instant last_known_at_{-1};
  Instant last_byte_at_{-1};
  Instant unfinished_since_{-1};
  std::string last_unknown_;
};

}  // namespace understudy
