// Looks at every watched file twenty times a second; that costs a few microseconds each and works
// on every file system, which notices of changes do not.
#include "sim/window/panel_reader.h"

#include <SDL_timer.h>

#include <chrono>
#include <utility>

#include "sim/panel/parse.h"
#include "sim/window/save_file.h"

namespace understudy {
namespace {

constexpr auto kBetweenLooks = std::chrono::milliseconds(50);

Duration now_by_sdl() {
  return milliseconds(static_cast<std::int64_t>(SDL_GetTicks64()));
}

}  // namespace

PanelReading read_panel_file(const std::string& path) {
  PanelReading reading{.path = path};
  Result<std::string> text = read_whole(path);
  if (!text.ok()) {
    reading.panel = text.error();
    return reading;
  }
  reading.text = std::move(text).value();
  reading.panel = parse_panel_beside(reading.text, path, files_beside(path));
  return reading;
}

PanelReader::PanelReader(std::function<void()> wake)
    : wake_(std::move(wake)), thread_([this] { run(); }) {}

PanelReader::~PanelReader() {
  {
    const std::lock_guard lock(mutex_);
    stop_ = true;
  }
  changed_.notify_all();
  thread_.join();
}

void PanelReader::watch(const std::vector<std::string>& paths) {
  const std::lock_guard lock(mutex_);
  std::map<std::string, FileWatch> kept;
  for (const std::string& path : paths) kept[path] = watched_[path];
  watched_ = std::move(kept);
  changed_.notify_all();
}

std::uint64_t PanelReader::read_once(std::string path) {
  const std::lock_guard lock(mutex_);
  to_read_.push_back({.path = std::move(path), .asked = ++asked_count_});
  changed_.notify_all();
  return asked_count_;
}

std::vector<PanelReading> PanelReader::take() {
  const std::lock_guard lock(mutex_);
  return std::exchange(readings_, {});
}

// One look at everything; true where a reading was added.
bool PanelReader::look_once() {
  std::unique_lock lock(mutex_);
  std::vector<PanelReading> wanted = std::exchange(to_read_, {});
  const Duration now = now_by_sdl();
  for (auto& [path, watch] : watched_) {
    const FileStamp stamp = stamp_of(path);
    const WatchVerdict verdict = watch.look(stamp, now);
    if (verdict == WatchVerdict::kNothing) continue;
    const bool gone = verdict == WatchVerdict::kGone;
    if (!gone) watch.was_read(stamp);
    wanted.push_back({.path = path, .gone = gone});
  }
  lock.unlock();
  for (PanelReading& reading : wanted) {
    if (reading.gone) continue;
    PanelReading read = read_panel_file(reading.path);
    read.asked = reading.asked;
    reading = std::move(read);
  }
  if (wanted.empty()) return false;
  lock.lock();
  for (PanelReading& reading : wanted) readings_.push_back(std::move(reading));
  return true;
}

void PanelReader::run() {
  for (;;) {
    if (look_once() && wake_) wake_();
    std::unique_lock lock(mutex_);
    if (stop_) return;
    if (!to_read_.empty()) continue;
    // With nothing to watch there is nothing to wake for.
    if (watched_.empty())
      changed_.wait(lock);
    else
      changed_.wait_for(lock, kBetweenLooks);
    if (stop_) return;
  }
}

}  // namespace understudy
