// How much a number trembles and wanders while nobody moves what it measures, told from the numbers
// alone: root mean square, peak to peak, effective bits and drift.
//
// What counts as rest: numbers are cut into pieces of at least 16 numbers and 250 ms. A piece is at
// rest where its mean agrees with the mean of the piece before and of the piece after, within half
// a step and three standard errors; the noise for these is taken from the differences of successive
// numbers, which a movement hardly touches (J. von Neumann, Ann. Math. Stat. 12, 1941). Consecutive
// pieces at rest make a stretch. Fourteen and more lines a second for the shortest pieces: slower
// ones take longer pieces.
//
// Effective bits: IEEE 1241, N - log2(total RMS noise / (Q / sqrt 12)), Q one wire number and N the
// log2 of how many the control may send; the total is never less than the quantising noise itself.
// Gaussian noise of 0.5 on 1024 numbers has 9.000.
#pragma once

#include <cstdint>
#include <optional>

#include "sim/base/time.h"

namespace understudy {

inline constexpr std::int64_t kRestPieceNumbers = 16;
inline constexpr Duration kRestPieceLength = milliseconds(250);
// A longer silence ends a stretch.
inline constexpr Duration kRestSilenceMax = seconds(2);
// Drift is told of at least so much rest.
inline constexpr Duration kDriftLeast = seconds(10);

// Of all stretches together, in wire numbers (LSB). Without rest, all are nothing.
struct RestFigures {
  std::int64_t numbers = 0;                  // how many were at rest
  Duration length = {};                      // of the stretches
  std::optional<double> rms;                 // about each piece's mean, quantising noise included
  std::optional<std::int64_t> peak_to_peak;  // the greatest of a stretch: most less least
  std::optional<double> effective_bits;
  std::optional<double> drift_per_minute;  // the common slope of all stretches, least squares
  std::optional<double> drift_error;       // its standard error, by the noise
};

// A regular value without allocation. Times never go back.
class RestNoise {
 public:
  void add(Instant t, std::int64_t number) {
    if (t - last_at_ > kRestSilenceMax && piece_.count > 0) interrupt();
    last_at_ = t;
    if (piece_.count == 0) begin_piece(t, number);
    const double x = static_cast<double>(number - origin_);
    const double step = x - last_;
    piece_.sum += x;
    piece_.squares += x * x;
    piece_.steps += piece_.count == 0 ? 0 : step * step;
    last_ = x;
    if (number < piece_.least) piece_.least = number;
    if (number > piece_.most) piece_.most = number;
    if (++piece_.count >= kRestPieceNumbers && t - piece_.begun >= kRestPieceLength) end_piece(t);
  }
  // The piece under way is no rest: something jumped, or was moved for certain.
  void spoil() { piece_.spoilt = true; }
  // Nothing before belongs to what follows: the port was opened anew, a gap.
  void interrupt();

  // `steps`: how many wire numbers there are, such as 1024. REQUIRES: steps > 0
  [[nodiscard]] RestFigures figures(std::int64_t steps) const;

 private:
  struct Piece {
    Instant begun;
    Instant ended;
    std::int64_t count = 0;
    std::int64_t least = 0;
    std::int64_t most = 0;
    double sum = 0;  // less origin_
    double squares = 0;
    double steps = 0;  // squares of successive differences
    bool spoilt = false;
    bool agrees = true;  // with the piece before, or there is none
    [[nodiscard]] double mean() const { return sum / static_cast<double>(count); }
    // Twice the noise's variance, by successive differences.
    [[nodiscard]] double variance() const { return steps / (2 * static_cast<double>(count - 1)); }
  };
  // Sums of the pieces of a stretch, less its first piece's mean and time (minutes).
  struct Stretch {
    std::int64_t pieces = 0;
    Instant begun;
    Instant ended;
    double first_mean = 0;
    std::int64_t least = 0;
    std::int64_t most = 0;
    double time = 0;
    double number = 0;
    double time_time = 0;    // of their squares
    double time_number = 0;  // of their products
  };
  void begin_piece(Instant t, std::int64_t number);
  void end_piece(Instant t);
  void take_rest(const Piece& piece);
  void end_stretch();
  static void close(const Stretch& stretch, RestNoise& into);

  Piece piece_;    // being filled
  Piece waiting_;  // whole; the next one decides whether it is at rest
  Stretch stretch_;
  std::int64_t origin_ = 0;  // sums are less this
  double last_ = 0;
  Instant last_at_;
  // Of closed stretches.
  std::int64_t numbers_ = 0;
  std::int64_t pieces_ = 0;
  double squares_ = 0;  // about the pieces' means
  Duration length_ = {};
  Duration drift_length_ = {};
  std::int64_t peak_to_peak_ = 0;
  double drift_product_ = 0;
  double drift_square_ = 0;
};

// IEEE 1241, as above. REQUIRES: steps > 0
double effective_bits(double rms, std::int64_t steps);

}  // namespace understudy
