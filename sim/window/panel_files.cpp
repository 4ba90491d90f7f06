// What is known of each seat's file, kept up from readings and views.
#include "sim/window/panel_files.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "sim/window/panel_files_state.h"

namespace understudy {
namespace {

constexpr std::string_view kRecentName = "recent.";

std::vector<std::string> remembered_recent(const Remembered& remembered) {
  std::vector<std::string> recent;
  for (std::size_t i = 0; i < kRecentMax; ++i) {
    const auto found = remembered.find(std::string(kRecentName) + std::to_string(i));
    if (found != remembered.end() && !found->second.empty()) recent.push_back(found->second);
  }
  return recent;
}

void remember_recent(Remembered& remembered, const std::vector<std::string>& recent) {
  for (std::size_t i = 0; i < recent.size(); ++i)
    remembered[std::string(kRecentName) + std::to_string(i)] = recent[i];
}

// Whole paths, so that they mean the same in the next run.
std::string whole_path(const std::string& path) {
  const std::unique_ptr<char, void (*)(void*)> real(::realpath(path.c_str(), nullptr), std::free);
  return real ? std::string(real.get()) : path;
}

}  // namespace

PanelFiles::PanelFiles(std::function<void()> wake)
    : state_(std::make_unique<State>(std::move(wake))) {}

PanelFiles::~PanelFiles() = default;

const FileReport& PanelFiles::report(std::size_t seat) const {
  CHECK(seat < state_->seats.size(), "the file of a seat that there is not was asked for");
  return state_->seats[seat].report;
}

const std::string& PanelFiles::refused() const {
  return state_->refused;
}

const std::vector<std::string>& PanelFiles::recent() const {
  return state_->recent;
}

void PanelFiles::open(std::size_t seat, std::string path) {
  if (path.starts_with("~/")) {
    const char* home = std::getenv("HOME");
    if (home != nullptr) path = home + path.substr(1);
  }
  state_->refused.clear();
  state_->refused_mistakes.clear();
  state_->opening = {.seat = seat, .asked = state_->reader.read_once(std::move(path))};
}

void PanelFiles::State::follow_seats(const SessionView& view) {
  bool changed = seats.size() != view.seats.size();
  seats.resize(view.seats.size());
  for (std::size_t i = 0; i < seats.size(); ++i) {
    Seat& seat = seats[i];
    // Where another file was asked for, the view follows a little later.
    if (seat.path_of_view == view.seats[i].path) continue;
    seat.path_of_view = view.seats[i].path;
    if (seat.report.path == seat.path_of_view) continue;
    seat.report = {.path = seat.path_of_view, .text = view.seats[i].device.panel().text};
    changed = true;
  }
  if (!changed) return;
  for (const Seat& seat : seats) note_recent(seat.report.path);
  watch_again();
}

void PanelFiles::State::watch_again() {
  std::vector<std::string> paths;
  for (const Seat& seat : seats)
    if (!seat.report.path.empty()) paths.push_back(seat.report.path);
  reader.watch(paths);
}

void PanelFiles::State::note_recent(const std::string& path) {
  if (path.empty()) return;
  const std::string whole = whole_path(path);
  if (!recent.empty() && recent.front() == whole) return;
  std::erase(recent, whole);
  recent.insert(recent.begin(), whole);
  if (recent.size() > kRecentMax) recent.resize(kRecentMax);
  recent_changed = true;
}

// A file that was to be opened: taken where it is right, else told why not.
void PanelFiles::State::take_opened(PanelReading reading, std::vector<Wish>& wishes) {
  if (reading.asked != opening.asked) return;  // another was asked for meanwhile
  const std::size_t seat = opening.seat;
  opening = {};
  if (!reading.panel.ok()) {
    refused = reading.text.empty() ? reading.panel.error().text
                                   : reading.path + " is no panel that can be played";
    if (!reading.text.empty())
      refused_mistakes = placed_mistakes(reading.panel.error().text, reading.path, reading.text);
    return;
  }
  if (seat >= seats.size()) return;
  FileReport& report = seats[seat].report;
  report = {.path = reading.path, .text = std::move(reading.text), .readings = report.readings + 1};
  wishes.push_back(ReloadWish{.seat = static_cast<std::uint16_t>(seat),
                              .path = reading.path,
                              .panel = std::move(reading.panel).value()});
  note_recent(report.path);
  watch_again();
}

// A watched file that was read again.
void PanelFiles::State::take_watched(std::size_t seat, const PanelReading& reading,
                                     std::vector<Wish>& wishes) {
  FileReport& report = seats[seat].report;
  const bool was_right = report.state == FileState::kPlayed;
  if (reading.gone || (!reading.panel.ok() && reading.text.empty())) {
    report.state = FileState::kGone;
    report.mended = false;
    report.reason = reading.gone ? "there is no such file now" : reading.panel.error().text;
    return;
  }
  const bool same_text = reading.text == report.text && report.state != FileState::kGone;
  if (same_text && was_right) return;  // touched, and nothing more
  report.mistakes.clear();
  report.reason.clear();
  ++report.readings;
  const bool same_as_before = reading.text == report.text;
  report.text = reading.text;
  if (!reading.panel.ok()) {
    report.state = FileState::kWrong;
    report.mended = false;
    report.mistakes = placed_mistakes(reading.panel.error().text, reading.path, reading.text);
    return;
  }
  report.mended = !was_right;
  report.state = FileState::kPlayed;
  if (same_as_before) return;  // the file came back as it was
  wishes.push_back(ReloadWish{.seat = static_cast<std::uint16_t>(seat),
                              .path = reading.path,
                              .panel = reading.panel.value()});
}

bool PanelFiles::take(const SessionView& view, Remembered& remembered, std::vector<Wish>& wishes) {
  State& state = *state_;
  if (!state.begun) {
    state.recent = remembered_recent(remembered);
    state.begun = true;
  }
  state.follow_seats(view);
  std::vector<PanelReading> readings = state.reader.take();
  for (PanelReading& reading : readings) {
    if (reading.asked != 0) {
      state.take_opened(std::move(reading), wishes);
      continue;
    }
    for (std::size_t seat = 0; seat < state.seats.size(); ++seat)
      if (state.seats[seat].report.path == reading.path) state.take_watched(seat, reading, wishes);
  }
  if (std::exchange(state.recent_changed, false)) remember_recent(remembered, state.recent);
  return !readings.empty();
}

}  // namespace understudy
