// Ages and connections; the lines are traffic.cpp's.
#include "sim/observe/observer.h"

#include <algorithm>
#include <utility>

#include "sim/model/panel_change.h"

namespace understudy {

namespace {

std::vector<std::string> hellos_of(const Panel& panel) {
  if (panel.description.manners.hello.empty()) return {};
  return {panel.description.manners.hello};
}

// What the game asks is no odd line.
std::vector<std::string> questions_of(const Panel& panel) {
  std::vector<std::string> questions;
  for (const GameFormat& format : panel.game_formats)
    if (format.send.mode == SendMode::kAsked) questions.push_back(format.send.asked);
  return questions;
}

}  // namespace

Observer::Observer(std::shared_ptr<const Panel> panel)
    : panel_(std::move(panel)),
      to_game_(panel_->to_game_framing, panel_->to_game_fields.size(), hellos_of(*panel_)),
      to_panel_(panel_->to_panel_framing, panel_->to_panel_fields.size(), questions_of(*panel_)) {}

void Observer::to_game(Instant t, std::string_view bytes, const LineSink& sink) {
  to_game_.add(t, bytes, panel_->to_game, sink);
  if (takes_at_once_ || !connected_) return;  // nobody is there to leave it unread
  handed_over_ += static_cast<std::int64_t>(bytes.size());
  if (!unread_.push({t, handed_over_})) unread_.back().end = handed_over_;  // keeps the older time
}

void Observer::to_panel(Instant t, std::string_view bytes, const LineSink& sink) {
  to_panel_.add(t, bytes, panel_->to_panel, sink);
}

void Observer::event(const Input& input) {
  if (const auto* opened = std::get_if<LinkOpened>(&input.what)) {
    takes_at_once_ = opened->takes_at_once;
    connected_ = true;
    connected_since_ = input.at;
    ++opened_count_;
    to_game_.begin_anew();
    to_panel_.begin_anew();
  } else if (std::holds_alternative<LinkClosed>(input.what)) {
    connected_ = false;
    handed_over_ = taken_ = 0;
    unread_.clear();
  } else if (const auto* taken = std::get_if<Taken>(&input.what)) {
    taken_ = std::min(handed_over_, taken_ + taken->bytes);
    forget_taken();
  } else if (const auto* reloaded = std::get_if<PanelReloaded>(&input.what)) {
    reload(reloaded->panel);
  }
}

// Counters, rates and ages go on. Where only looks (or what waits for the port) are others, lines
// are what they were.
void Observer::reload(std::shared_ptr<const Panel> panel) {
  const bool other_lines = change_between(panel_->description, panel->description).board;
  panel_ = std::move(panel);
  if (!other_lines) return;
  to_game_.change_formats(panel_->to_game_framing, panel_->to_game_fields.size(),
                          hellos_of(*panel_));
  to_panel_.change_formats(panel_->to_panel_framing, panel_->to_panel_fields.size(),
                           questions_of(*panel_));
}

void Observer::forget_taken() {
  while (!unread_.empty() && unread_.front().end <= taken_) unread_.pop();
}

Duration Observer::input_age(Instant now) const {
  return unread_.empty() ? Duration{} : now - unread_.front().at;
}

}  // namespace understudy
