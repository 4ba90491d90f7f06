// Oscillators, noise and the limiter; see synth.h. Frequencies and levels are by ear, no source.
#include "scenarios/tram/game/sound/synth.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace understudy::tram {

namespace {

constexpr double kTurn = 2.0 * std::numbers::pi;
constexpr double kSwells_s = 0.06;
constexpr double kMasterFades_s = 0.15;
constexpr double kBellEvery_s = 0.34;  // a bell that is held is struck again and again
constexpr double kBellRings_s = 0.55;  // until it has fallen to a third
constexpr double kStrike_s = 0.004;    // a hammer is quick, and yet no click
constexpr double kBell_hertz = 940.0;
constexpr std::array<double, 5> kBellPartials = {1.0, 1.51, 2.02, 2.76, 3.58};
constexpr std::array<double, 5> kBellShares = {0.42, 0.18, 0.20, 0.12, 0.08};
constexpr double kLimiterRecovers_s = 0.25;

double advance(double& turn, double hertz, double step_s) {
  turn += hertz * step_s;
  turn -= std::floor(turn);
  return std::sin(kTurn * turn);
}

}  // namespace

Synth::Synth(int samples_per_s) : step_s_(1.0 / samples_per_s) {}

// Uniform from -1 to 1, by a linear congruence (Knuth's MMIX constants).
double Synth::noise() {
  dice_ = dice_ * 6364136223846793005U + 1442695040888963407U;
  return static_cast<double>(static_cast<std::int64_t>(dice_)) * 0x1.0p-63;
}

double Synth::motor_sound() {
  motor_turn_ += levels_.hertz * step_s_;
  motor_turn_ -= std::floor(motor_turn_);
  double sum = 0.0;
  for (int harmonic = 1; harmonic <= 4; ++harmonic) {
    sum += std::sin(kTurn * harmonic * motor_turn_) / (harmonic * harmonic);
  }
  return levels_.motor * sum;
}

double Synth::bell_sound(bool rung) {
  since_strike_s_ += step_s_;
  if (rung && since_strike_s_ >= kBellEvery_s) {
    since_strike_s_ = 0.0;
    bell_strike_ = 1.0;
  }
  bell_strike_ *= 1.0 - step_s_ / kBellRings_s;
  bell_level_ += (bell_strike_ - bell_level_) * std::min(1.0, step_s_ / kStrike_s);
  if (bell_level_ < 1e-5) return 0.0;
  double sum = 0.0;
  for (std::size_t i = 0; i < bell_turns_.size(); ++i) {
    sum += kBellShares[i] * advance(bell_turns_[i], kBell_hertz * kBellPartials[i], step_s_);
  }
  return bell_level_ * sum;
}

double Synth::squeal_sound() {
  const double wobble = advance(wobble_turn_, 5.3, step_s_);
  return levels_.squeal * advance(squeal_turn_, 1870.0 + 45.0 * wobble, step_s_);
}

double Synth::limited(double sample) {
  const double loud = std::abs(sample) * gain_;
  if (loud > kSoundCeiling) gain_ *= kSoundCeiling / loud;
  const double out = sample * gain_;
  gain_ += (1.0 - gain_) * step_s_ / kLimiterRecovers_s;
  return std::clamp(out, -1.0 * kSoundCeiling, 1.0 * kSoundCeiling);
}

double Synth::next(const SoundScene& scene) {
  const double share = step_s_ / kSwells_s;
  const auto swell = [share](double& level, double wanted) { level += (wanted - level) * share; };
  const double rolling = std::min(1.0, scene.speed_mps / 8.0);
  swell(levels_.motor, 0.020 * rolling + 0.055 * scene.motor);
  swell(levels_.hertz, 46.0 + 19.0 * scene.speed_mps);
  swell(levels_.squeal, 0.022 * scene.squeal);
  swell(levels_.rain, 0.10 * scene.rain);
  swell(levels_.doors, scene.doors_move ? 0.16 : 0.0);
  master_ += ((scene.on ? scene.volume : 0.0) - master_) * step_s_ / kMasterFades_s;

  hiss_ += (noise() - hiss_) * 0.18;
  patter_ += (noise() - patter_) * 0.45;
  const double sum = motor_sound() + 0.16 * bell_sound(scene.bell) + squeal_sound() +
                     levels_.rain * patter_ + levels_.doors * hiss_;
  return limited(sum * master_);
}

void Synth::fill(const SoundScene& scene, std::span<float> samples) {
  wanted_off_ = !scene.on;
  for (float& sample : samples) sample = static_cast<float>(next(scene));
}

}  // namespace understudy::tram
