// What a PWM pin makes of a number, and what an eye makes of the light: duty, frequency, perceived
// lightness. For display and measurement; nothing here feeds back into bytes. What an LED draws is
// worked out where panels are checked.
// Sources: ATmega88A DS40002007A p.144 (fast: duty (OCR+1)/256), ATmega168PA p.147 (phase correct:
// OCR/255); CIE 15 lightness L*.
#pragma once

#include <cstdint>

#include "sim/model/panel_description.h"

namespace understudy {

// Timer clock over 256 (fast) or 510 (phase correct), in hertz. prescaler 1, 8, 64, 256, 1024.
double pwm_frequency_hz(double cpu_hz, int prescaler, bool phase_correct);

// Share of the time that the pin is high for an 8-bit compare value, as the timer itself gives it.
double pwm_duty(int compare, bool phase_correct);

// What a lamp's number makes of the pin. The usual board program switches the pin itself at both
// ends of the range, so 0 is dark and the top is full, whatever the timer would give.
double lamp_duty(std::int64_t number, const OutputDescription& lamp, const BoardDescription& board);

// CIE 1976 L* (0..100) of a luminance relative to white (0..1).
double lightness(double relative_luminance);

}  // namespace understudy
