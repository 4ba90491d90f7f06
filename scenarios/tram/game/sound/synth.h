// Every sound of the game, made from numbers: the motors by their speed, the bell, the doors, a
// brake that squeals, rain. No recording is played. Knows no sound card (speaker.h) and no game.
#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace understudy::tram {

// What is to be heard now. Everything but the bell swells and fades by itself.
struct SoundScene {
  bool on = false;
  double speed_mps = 0.0;
  double motor = 0.0;   // 0 to 1: share of the full effort
  double squeal = 0.0;  // 0 to 1: brake on slow wheels, or wheels that slip
  double rain = 0.0;    // 0 to 1
  bool doors_move = false;
  bool bell = false;
  double volume = 1.0;  // 0 to 1, within kSoundCeiling
};

// No sample ever lies beyond this, whatever sounds together: a quarter of full scale (-12 dBFS).
// How loud that is depends on amplifier and ears: begin with the volume turned down.
constexpr float kSoundCeiling = 0.25F;

// Owns its oscillators; a copy is a snapshot. Same scenes, same samples. Thread: one at a time.
class Synth {
 public:
  explicit Synth(int samples_per_s);

  // Fills the next samples, one channel.
  void fill(const SoundScene& scene, std::span<float> samples);
  // Nothing is left to be heard, and the scene is off.
  bool silent() const { return master_ < 1e-4 && wanted_off_; }

 private:
  static constexpr int kPartials = 5;
  struct Levels {
    double motor = 0.0;
    double hertz = 0.0;
    double squeal = 0.0;
    double rain = 0.0;
    double doors = 0.0;
  };

  double next(const SoundScene& scene);
  double motor_sound();
  double bell_sound(bool rung);
  double squeal_sound();
  double noise();
  double limited(double sample);

  double step_s_;
  Levels levels_;
  double master_ = 0.0;
  bool wanted_off_ = true;
  double motor_turn_ = 0.0;
  double squeal_turn_ = 0.0;
  double wobble_turn_ = 0.0;
  std::array<double, kPartials> bell_turns_{};
  double bell_level_ = 0.0;
  double bell_strike_ = 0.0;  // the level that the level runs up to
  double since_strike_s_ = 1.0;
  double hiss_ = 0.0;  // noise through a low-pass filter
  double patter_ = 0.0;
  double gain_ = 1.0;       // of the limiter
  std::uint64_t dice_ = 1;  // of the noise; every start hisses alike
};

}  // namespace understudy::tram
