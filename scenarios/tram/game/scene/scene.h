// The picture: a calm street at night in any weather with the tram in side view, and the desk's
// dials below.
#pragma once

#include <SDL.h>

#include "scenarios/tram/game/scene/air.h"
#include "scenarios/tram/game/scene/attendant_card.h"
#include "scenarios/tram/game/scene/backdrop.h"
#include "scenarios/tram/game/scene/desk_picture.h"
#include "scenarios/tram/game/scene/invitation.h"
#include "scenarios/tram/game/scene/overlay.h"
#include "scenarios/tram/game/scene/report.h"
#include "scenarios/tram/game/scene/street.h"
#include "scenarios/tram/game/scene/trackside.h"
#include "scenarios/tram/game/scene/tram_body.h"
#include "scenarios/tram/game/scene/view.h"
#include "scenarios/tram/game/scene/wet.h"

namespace understudy::tram {

// Owns every texture; must go before its renderer. Thread: the one that made the renderer.
class Scene {
 public:
  explicit Scene(SDL_Renderer* renderer);

  // Draws one frame, without presenting it. `seconds`: since the frame before.
  void draw(const Game& game, double seconds, bool sound_on);

 private:
  SDL_Renderer* renderer_;
  Text text_;
  Shine shine_;
  Backdrop backdrop_;
  Street street_;
  Trackside trackside_;
  TramBody tram_;
  Wet wet_;
  Air air_;
  DeskPicture desk_;
  Overlay overlay_;
  Report report_;
  Invitation invitation_;
  AttendantCard attendant_card_;
  Picture above_rail_;  // the street as drawn this frame, for the mirror
  double now_s_ = 0.0;
};

}  // namespace understudy::tram
