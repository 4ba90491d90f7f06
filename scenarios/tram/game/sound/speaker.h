// The sound card: plays what the synth makes of the game. Off until it is switched on, and then no
// louder than the synth's ceiling.
#pragma once

#include <SDL.h>

#include <string>

#include "scenarios/tram/game/game.h"
#include "scenarios/tram/game/sound/synth.h"

namespace understudy::tram {

SoundScene sound_of(const Game& game);

class Speaker {
 public:
  Speaker() = default;
  ~Speaker();
  Speaker(const Speaker&) = delete;
  Speaker& operator=(const Speaker&) = delete;

  // Opens the sound card when it is first switched on; where there is none, stays off and
  // trouble() says why.
  void switch_on(bool on);
  bool on() const { return on_; }
  const std::string& trouble() const { return trouble_; }

  // Call once a frame.
  void hear(const Game& game);

 private:
  static void play(void* speaker, Uint8* bytes, int byte_count);

  SDL_AudioDeviceID device_ = 0;
  bool on_ = false;
  std::string trouble_;
  // shared with SDL's own thread, under SDL's lock of the device:
  SoundScene scene_;
  Synth synth_{kSamples_per_s};
  static constexpr int kSamples_per_s = 44100;
};

}  // namespace understudy::tram
