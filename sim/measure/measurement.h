// A recording measured: reads it once, from its first line to its last, in bounded memory.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/measure/seat_statistics.h"
#include "sim/record/byte_source.h"

namespace understudy {

inline constexpr std::size_t kProblemsTold = 10;  // one by one; all are counted
inline constexpr std::size_t kMarksKept = 200;
inline constexpr std::size_t kSeatsMeasuredMax = 1'000;

struct MeasureOptions {
  // Reads the lines of all seats instead of the panels that the recording holds; null: those.
  std::shared_ptr<const Panel> panel;
  Duration gap_bound = kGapBound;
  std::size_t trace_spans_max = 0;  // see SeatStatisticsOptions
  // Told about once in a megabyte how many bytes of the file were read. Thread: another one, but
  // never before measure_recording() began nor after it returned.
  std::function<void(std::int64_t bytes)> progress;
};

struct MeasuredSeat {
  std::string name;
  SeatStatistics statistics;
};

struct MeasuredMark {
  Instant at;
  std::string text;  // its first 200 bytes
};

struct Measurement {
  std::string file;
  std::string start;    // as the recording says; for people
  std::string program;  // the same
  std::int64_t events = 0;
  std::int64_t bad_lines = 0;
  std::vector<std::string> problems;  // of the first bad lines, and of panels that cannot be read
  std::int64_t passed_over = 0;       // events of a newer format
  bool torn = false;                  // it breaks off in the middle of a line
  bool complete = false;              // it says at its end that it is
  std::string ended;                  // what it says there; empty: it was cut off
  Instant first_at;
  Instant last_at;
  Duration slipped = {};  // by which the recording machine fell behind, in all
  std::vector<MeasuredMark> marks;
  std::vector<MeasuredSeat> seats;

  [[nodiscard]] Duration length() const { return last_at - first_at; }
  // Everything in it could be read (that it was cut off is no fault of it).
  [[nodiscard]] bool sound() const { return problems.empty() && bad_lines == 0; }
};

// Errors (kUnusable): cannot be read, is no recording, has more than kSeatsMeasuredMax seats. What
// is wrong inside stands in `problems`.
Result<Measurement> measure_recording(const std::string& path, const MeasureOptions& options);

// The same of bytes from anywhere; `name` stands for the path.
Result<Measurement> measure_source(std::unique_ptr<ByteSource> source, const std::string& name,
                                   const MeasureOptions& options);

}  // namespace understudy
