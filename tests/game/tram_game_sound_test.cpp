// The synthesiser without a sound card: silence when off, a ceiling that nothing passes, no clicks,
// and a motor whose pitch follows the speed.
#include "scenarios/tram/game/sound/synth.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace understudy::tram {
namespace {

constexpr int kSamples_per_s = 44100;

std::vector<float> hear(Synth& synth, const SoundScene& scene, double seconds) {
  std::vector<float> samples(static_cast<std::size_t>(seconds * kSamples_per_s));
  synth.fill(scene, samples);
  return samples;
}

float loudest(const std::vector<float>& samples) {
  float most = 0.0F;
  for (const float sample : samples) most = std::max(most, std::abs(sample));
  return most;
}

SoundScene everything() {
  return {.on = true,
          .speed_mps = 14.0,
          .motor = 1.0,
          .squeal = 1.0,
          .rain = 1.0,
          .doors_move = true,
          .bell = true};
}

TEST(TramSynth, OffMeansSilence) {
  Synth synth(kSamples_per_s);
  SoundScene scene = everything();
  scene.on = false;
  EXPECT_EQ(loudest(hear(synth, scene, 0.5)), 0.0F);
  EXPECT_TRUE(synth.silent());
}

TEST(TramSynth, NothingIsLouderThanTheCeilingEvenAllAtOnce) {
  Synth synth(kSamples_per_s);
  const float most = loudest(hear(synth, everything(), 4.0));
  EXPECT_LE(most, kSoundCeiling);
  EXPECT_GT(most, 0.05F);
}

TEST(TramSynth, ABrokenSceneIsHeldByTheLimiterToo) {
  Synth synth(kSamples_per_s);
  SoundScene scene = everything();
  scene.motor = scene.squeal = scene.rain = 1000.0;
  EXPECT_LE(loudest(hear(synth, scene, 1.0)), kSoundCeiling);
}

TEST(TramSynth, SwitchedOffItFadesWithinASecondAndWithoutAClick) {
  Synth synth(kSamples_per_s);
  SoundScene scene{.on = true, .speed_mps = 8.0, .motor = 0.5};
  const std::vector<float> before = hear(synth, scene, 1.0);
  float steepest = 0.0F;
  for (std::size_t i = before.size() / 2; i < before.size(); ++i) {
    steepest = std::max(steepest, std::abs(before[i] - before[i - 1]));
  }
  scene.on = false;
  const std::vector<float> after = hear(synth, scene, 2.0);
  EXPECT_LE(std::abs(after.front() - before.back()), 1.5F * steepest);
  EXPECT_LE(loudest({after.end() - kSamples_per_s / 2, after.end()}), 1e-4F);
  EXPECT_TRUE(synth.silent());
}

// Counts upward crossings of nought over one second: that is the pitch in hertz. The harmonics fall
// with the square of their number, so they add no crossings.
int pitch(const std::vector<float>& samples) {
  int crossings = 0;
  for (std::size_t i = samples.size() - kSamples_per_s; i < samples.size(); ++i) {
    crossings += samples[i - 1] < 0.0F && samples[i] >= 0.0F ? 1 : 0;
  }
  return crossings;
}

TEST(TramSynth, TheMotorsPitchRisesInStepWithTheSpeed) {
  const auto hertz_at = [](double speed_mps) {
    Synth synth(kSamples_per_s);
    return pitch(hear(synth, {.on = true, .speed_mps = speed_mps, .motor = 0.5}, 2.0));
  };
  EXPECT_GT(hertz_at(2.0), 50);
  for (const double speed : {2.0, 6.0, 10.0}) {
    EXPECT_NEAR(hertz_at(speed + 4.0) - hertz_at(speed), 76, 3);  // 4 m/s at 19 hertz each
  }
}

TEST(TramSynth, TheBellRingsAndDiesAway) {
  Synth synth(kSamples_per_s);
  SoundScene scene{.on = true, .bell = true};
  hear(synth, {.on = true}, 1.0);
  const float rung = loudest(hear(synth, scene, 0.2));
  scene.bell = false;
  hear(synth, scene, 4.0);
  const float later = loudest(hear(synth, scene, 0.2));
  EXPECT_GT(rung, 0.05F);
  EXPECT_LT(later, 0.02F * rung);
}

TEST(TramSynth, SameScenesSameSamples) {
  Synth one(kSamples_per_s);
  Synth two(kSamples_per_s);
  EXPECT_EQ(hear(one, everything(), 0.3), hear(two, everything(), 0.3));
}

}  // namespace
}  // namespace understudy::tram
