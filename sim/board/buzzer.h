// What a buzzer makes of a number: whether it sounds, at what pitch, and how loud beside its
// loudest. For display, and for whether it draws current; no sound is made here.
// Model: a resonator driven by a square wave; each odd harmonic k weighs 1/k, and passes as
// 1 / sqrt(1 + Q^2 (f/f0 - f0/f)^2) does (band-pass of second order). Q = 10: common practice for
// discs in a case, no source.
#pragma once

#include <cstdint>

#include "sim/model/output_description.h"

namespace understudy {

inline constexpr int kBuzzerQ = 10;

struct Sound {
  std::int64_t frequency_mhz = 0;  // thousandths of a hertz; 0: silent
  std::int64_t level_ppm = 0;      // of the pressure at its resonance
  friend bool operator==(const Sound&, const Sound&) = default;
};

// With an oscillator of its own it sounds at its resonance for every number but the low end of its
// range; a pitched one at as many hertz as the number says, silent from 0 down.
Sound sound_of(std::int64_t number, const OutputDescription& buzzer);

// How loud a square wave of this frequency is, in ppm of one at the resonance.
std::int64_t level_at_ppm(std::int64_t frequency_mhz, std::int64_t resonance_hz);

}  // namespace understudy
