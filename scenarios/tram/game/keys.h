// Which key does what: one table for the window that reads keys and the scene that names them.
#pragma once

#include <SDL.h>

#include <array>
#include <string_view>

#include "scenarios/tram/game/input/keyboard.h"

namespace understudy::tram {

struct KeyOfAction {
  Action action;
  SDL_Scancode place;
  std::string_view what;
};

constexpr std::array<KeyOfAction, kActionCount> kKeys = {{
    {Action::more_power, SDL_SCANCODE_W, "power"},
    {Action::less_power, SDL_SCANCODE_S, "brake"},
    {Action::coast, SDL_SCANCODE_SPACE, "coast"},
    {Action::bell, SDL_SCANCODE_B, "bell"},
    {Action::doors, SDL_SCANCODE_D, "doors"},
    {Action::sander, SDL_SCANCODE_N, "sand"},
    {Action::more_heat, SDL_SCANCODE_T, "warmer"},
    {Action::less_heat, SDL_SCANCODE_G, "cooler"},
}};

constexpr SDL_Scancode kKeyToBeginAgain = SDL_SCANCODE_R;
constexpr SDL_Scancode kKeyOfSound = SDL_SCANCODE_M;
constexpr SDL_Scancode kKeyToEnd = SDL_SCANCODE_ESCAPE;

}  // namespace understudy::tram
