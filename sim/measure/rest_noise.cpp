// Pieces, which of them are at rest, and what the resting ones add up to.
#include "sim/measure/rest_noise.h"

#include <algorithm>
#include <cmath>

#include "sim/base/check.h"

namespace understudy {
namespace {

constexpr double kNsPerMinute = 60e9;
constexpr double kHalfStep = 0.5;
constexpr double kStandardErrors = 3;

}  // namespace

double effective_bits(double rms, std::int64_t steps) {
  CHECK(steps > 0, "a control sends at least one number");
  const double quantising = 1 / std::sqrt(12.0);
  const double bits = std::log2(static_cast<double>(steps));
  return bits - std::log2(std::max(rms, quantising) / quantising);
}

void RestNoise::begin_piece(Instant t, std::int64_t number) {
  if (waiting_.count == 0) origin_ = number;
  piece_ = {};
  piece_.begun = t;
  piece_.least = piece_.most = number;
}

void RestNoise::end_piece(Instant t) {
  piece_.ended = t;
  if (waiting_.count > 0) {
    const double variance = (piece_.variance() + waiting_.variance()) / 2;
    const double numbers = static_cast<double>(std::min(piece_.count, waiting_.count));
    const double bound = kHalfStep + kStandardErrors * std::sqrt(2 * variance / numbers);
    piece_.agrees = std::abs(piece_.mean() - waiting_.mean()) <= bound;
    if (piece_.agrees && waiting_.agrees && !waiting_.spoilt)
      take_rest(waiting_);
    else
      end_stretch();
  }
  waiting_ = piece_;
  piece_ = {};
}

void RestNoise::take_rest(const Piece& piece) {
  const auto count = static_cast<double>(piece.count);
  squares_ += std::max(0.0, piece.squares - piece.sum * piece.sum / count);
  numbers_ += piece.count;
  ++pieces_;
  if (stretch_.pieces == 0) {
    stretch_ = {.begun = piece.begun, .least = piece.least, .most = piece.most};
    stretch_.first_mean = piece.mean();
  }
  ++stretch_.pieces;
  stretch_.ended = piece.ended;
  stretch_.least = std::min(stretch_.least, piece.least);
  stretch_.most = std::max(stretch_.most, piece.most);
  const Duration middle = (piece.begun - stretch_.begun) + (piece.ended - piece.begun) / 2;
  const double t = static_cast<double>(middle.ns) / kNsPerMinute;
  const double x = piece.mean() - stretch_.first_mean;
  stretch_.time += t;
  stretch_.number += x;
  stretch_.time_time += t * t;
  stretch_.time_number += t * x;
}

void RestNoise::close(const Stretch& stretch, RestNoise& into) {
  if (stretch.pieces == 0) return;
  into.length_ = into.length_ + (stretch.ended - stretch.begun);
  into.peak_to_peak_ = std::max(into.peak_to_peak_, stretch.most - stretch.least);
  if (stretch.pieces < 2) return;
  const auto pieces = static_cast<double>(stretch.pieces);
  into.drift_length_ = into.drift_length_ + (stretch.ended - stretch.begun);
  into.drift_product_ += stretch.time_number - stretch.time * stretch.number / pieces;
  into.drift_square_ += stretch.time_time - stretch.time * stretch.time / pieces;
}

void RestNoise::end_stretch() {
  close(stretch_, *this);
  stretch_ = {};
}

void RestNoise::interrupt() {
  if (waiting_.count > 0 && waiting_.agrees && !waiting_.spoilt && stretch_.pieces > 0)
    take_rest(waiting_);
  end_stretch();
  waiting_ = {};
  piece_ = {};
}

RestFigures RestNoise::figures(std::int64_t steps) const {
  RestNoise closed = *this;
  closed.interrupt();
  RestFigures figures;
  figures.numbers = closed.numbers_;
  figures.length = closed.length_;
  if (closed.pieces_ == 0) return figures;
  figures.rms = std::sqrt(closed.squares_ / static_cast<double>(closed.numbers_ - closed.pieces_));
  figures.peak_to_peak = closed.peak_to_peak_;
  figures.effective_bits = effective_bits(*figures.rms, steps);
  if (closed.drift_length_ >= kDriftLeast && closed.drift_square_ > 0) {
    figures.drift_per_minute = closed.drift_product_ / closed.drift_square_;
    // Each piece's mean is off by the noise over the root of how many numbers it has.
    const double in_piece =
        static_cast<double>(closed.numbers_) / static_cast<double>(closed.pieces_);
    figures.drift_error = *figures.rms / std::sqrt(in_piece * closed.drift_square_);
  }
  return figures;
}

}  // namespace understudy
