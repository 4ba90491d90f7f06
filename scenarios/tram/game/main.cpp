// The program tram-game: picks the panel, then plays in a window or without one until it is told to
// end. Lamps go off when the panel input is destroyed, on every way out.
#include <csignal>
#include <cstdio>
#include <utility>

#include "scenarios/tram/game/game.h"
#include "scenarios/tram/game/options.h"
#include "scenarios/tram/game/pace.h"
#include "scenarios/tram/game/sound/speaker.h"
#include "scenarios/tram/game/window.h"
#include "scenarios/tram/game/words.h"

namespace understudy::tram {
namespace {

volatile std::sig_atomic_t told_to_end = 0;

void note_signal(int) {
  told_to_end = 1;
}

bool time_is_up(const Options& options, const Pace& pace) {
  return options.for_s > 0.0 && pace.since_start_s() >= options.for_s;
}

std::unique_ptr<PanelInput> choose_panel(const Options& options) {
  if (options.address.empty()) return no_panel();
  return options.naive ? naive_panel(options.address) : careful_panel(options.address);
}

// Sound is never a reason to end.
void begin_sound(Speaker& speaker, const Options& options) {
  if (!options.sound) return;
  speaker.switch_on(true);
  if (!speaker.on()) std::fprintf(stderr, "no sound: %s\n", speaker.trouble().c_str());
}

int play_headless(Game& game, const Options& options) {
  Speaker speaker;
  begin_sound(speaker, options);
  Pace pace;
  for (Uint64 frame = 1; told_to_end == 0 && !time_is_up(options, pace); ++frame) {
    game.frame(pace.frame_s());
    speaker.hear(game);
    if (frame % 60 == 0) {
      std::printf("%s\n", status_line(game).c_str());
      std::fflush(stdout);
    }
    pace.wait_for_frame(frame);
  }
  return 0;
}

int play_in_window(Game& game, const Options& options) {
  Window window;
  if (!window.open(options.right)) {
    std::fprintf(stderr, "cannot open a window: %s; --headless plays without one\n",
                 window.trouble().c_str());
    return 1;
  }
  Speaker speaker;
  begin_sound(speaker, options);
  Pace pace;
  for (Uint64 frame = 1; told_to_end == 0 && !time_is_up(options, pace); ++frame) {
    if (!window.take_events(game, speaker)) break;
    const double seconds = pace.frame_s();
    game.frame(seconds);
    speaker.hear(game);
    window.draw(game, seconds, speaker.on());
    pace.wait_for_frame(frame);
  }
  return 0;
}

}  // namespace
}  // namespace understudy::tram

int main(int count, char** arguments) {
  using namespace understudy::tram;
  int status = 0;
  const auto options = read_options(count, arguments, status);
  if (!options) return status;
  std::signal(SIGTERM, note_signal);
  std::signal(SIGINT, note_signal);
  std::signal(SIGPIPE, SIG_IGN);  // whoever reads our lines may leave; the evening goes on
  Game game(choose_panel(*options), options->evening);
  return options->headless ? play_headless(game, *options) : play_in_window(game, *options);
}
