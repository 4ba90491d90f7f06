// The device and what a moment of the game sounds like; see speaker.h.
#include "scenarios/tram/game/sound/speaker.h"

#include <algorithm>
#include <span>

namespace understudy::tram {

namespace {

constexpr int kSamplesAtATime = 1024;
constexpr double kAttractVolume = 0.4;  // staff hear it all day
constexpr double kSquealsBelow_mps = 4.0;

}  // namespace

SoundScene sound_of(const Game& game) {
  const Shift& shift = game.shift();
  const Motion& motion = shift.motion();
  const bool slow_brake = shift.demand().brake > 0.3 && motion.speed_mps > 0.3 &&
                          motion.speed_mps < kSquealsBelow_mps && shift.rail() == Rail::dry;
  const DoorState doors = shift.doors().state();
  return {.on = true,
          .speed_mps = std::max(motion.speed_mps, motion.wheel_mps),
          .motor = motion.wheel_mps > 0.0 ? shift.demand().power : 0.0,
          .squeal = motion.slipping ? 1.0
                    : slow_brake    ? 0.7 * shift.demand().brake
                                    : 0.0,
          .rain = shift.weather().rain,
          .doors_move = doors == DoorState::opening || doors == DoorState::closing,
          .bell = shift.bell(),
          .volume = game.attract() ? kAttractVolume : 1.0};
}

Speaker::~Speaker() {
  if (device_ != 0) SDL_CloseAudioDevice(device_);
}

void Speaker::play(void* speaker, Uint8* bytes, int byte_count) {
  Speaker& self = *static_cast<Speaker*>(speaker);
  const auto count = static_cast<std::size_t>(byte_count) / sizeof(float);
  self.synth_.fill(self.scene_, {reinterpret_cast<float*>(bytes), count});
}

void Speaker::switch_on(bool on) {
  if (on && device_ == 0) {
    SDL_AudioSpec wanted{};
    wanted.freq = kSamples_per_s;
    wanted.format = AUDIO_F32SYS;
    wanted.channels = 1;
    wanted.samples = kSamplesAtATime;
    wanted.callback = &Speaker::play;
    wanted.userdata = this;
    if (SDL_InitSubSystem(SDL_INIT_AUDIO) == 0) {
      device_ = SDL_OpenAudioDevice(nullptr, 0, &wanted, nullptr, 0);
    }
    if (device_ == 0) {
      trouble_ = SDL_GetError();
      return;
    }
  }
  on_ = on;
  if (on_) SDL_PauseAudioDevice(device_, 0);
}

void Speaker::hear(const Game& game) {
  if (device_ == 0) return;
  SDL_LockAudioDevice(device_);
  scene_ = sound_of(game);
  scene_.on = on_;
  const bool faded = synth_.silent();
  SDL_UnlockAudioDevice(device_);
  if (!on_ && faded) SDL_PauseAudioDevice(device_, 1);
}

}  // namespace understudy::tram
