// A game's process and what was asked of it meanwhile.
#include "sim/app/game_run.h"

namespace understudy {
namespace {

// What is in two pipes when a game ends is less; children that go on writing could fill them for
// ever.
constexpr int kPortionsMax = 512;

}  // namespace

std::string GameRun::command() const {
  std::string text;
  for (const std::string& word : options_.words) text += (text.empty() ? "" : " ") + word;
  return text;
}

Result<Done> GameRun::start() {
  again_ = false;
  asked_ = false;
  end_.reset();
  start_error_.clear();
  auto game = GameProcess::start(pacer_, options_);
  if (!game.ok()) {
    start_error_ = game.error().text;
    return game.error();
  }
  process_ = std::move(game).value();
  return Done{};
}

void GameRun::ask_to_end(bool then_again) {
  again_ = then_again;
  if (!process_) return;
  asked_ = asked_ || !end_;
  process_->ask_to_end();
}

std::string GameRun::ended_words() const {
  if (!end_) return start_error_;
  return asked_ ? "was stopped" : written(*end_);
}

bool GameRun::look(const std::function<void(const GameLine&)>& tell) {
  if (!process_) return false;
  const bool ended_before = end_.has_value();
  end_ = process_->end();
  tell_lines(tell);
  return end_ && !ended_before;
}

// The lines come in bounded portions; when the game is gone, all that are left.
void GameRun::tell_lines(const std::function<void(const GameLine&)>& tell) {
  const int portions = end_ ? kPortionsMax : 1;
  for (int i = 0; i < portions; ++i) {
    const std::vector<GameLine> lines = process_->take_lines();
    if (lines.empty()) return;
    for (const GameLine& line : lines) tell(line);
  }
}

Result<Done> GameRun::go_on() {
  if (process_ && end_) {
    process_->ask_to_end();  // its children
    if (process_->all_gone()) process_.reset();
  }
  if (!again_ || process_) return Done{};
  return start();
}

void GameRun::stop(const std::function<void(const GameLine&)>& tell) {
  again_ = false;
  if (!process_ || end_) return;
  end_ = process_->stop();
  tell_lines(tell);
}

}  // namespace understudy
