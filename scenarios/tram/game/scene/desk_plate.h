// The parts of the desk that never change, painted once, and where its dials sit.
#pragma once

#include "scenarios/tram/game/draw/painter.h"
#include "scenarios/tram/game/rules/outputs.h"

namespace understudy::tram {

constexpr Spot kDial{98, 634};
constexpr double kDialRadius = 62;
constexpr double kDialTop_kmh = kGaugeTop_kmh;
// Degrees clockwise from straight up at no speed, and how far the needle swings.
constexpr double kDialFrom = -130;
constexpr double kDialSwing = 260;

constexpr Box kHandleSlot{238, 576, 14, 114};
constexpr double kStop_x = 372;
constexpr double kLamps_x = 822;
constexpr double kLampStep = 50;
constexpr double kLamps_y = 622;
constexpr double kSaloon_x = 1030;

Picture paint_plate(SDL_Renderer* renderer);
Picture paint_needle(SDL_Renderer* renderer);
Picture paint_grip(SDL_Renderer* renderer);
Picture paint_lens(SDL_Renderer* renderer);

// The angle of the needle for a speed.
double dial_angle(double kmh);
// The height on the screen of a wire number of the handle.
double handle_y(int wire_number);

}  // namespace understudy::tram
