// Waits until the session is as old as was asked for, then draws what a window would show.
#include "sim/window/picture.h"

#include <condition_variable>
#include <memory>
#include <mutex>

#include "sim/window/desk.h"
#include "sim/window/offscreen.h"

namespace understudy {
namespace {

constexpr int kFrames = 4;  // ImGui settles sizes, and typefaces follow the face

// The first view that is old enough, or the last one of a session that ended before.
std::shared_ptr<const SessionView> awaited_view(const WindowOptions& options, Exchange& exchange) {
  std::mutex mutex;
  std::condition_variable changed;
  bool woken = false;
  exchange.set_window_waker([&] {
    const std::lock_guard lock(mutex);
    woken = true;
    changed.notify_one();
  });
  std::shared_ptr<const SessionView> view;
  while (true) {
    view = exchange.view();
    const bool old_enough = view && view->now.ns >= options.picture_after.ns;
    if (old_enough || exchange.session_over()) break;
    exchange.ask_for_view();
    std::unique_lock lock(mutex);
    changed.wait_for(lock, std::chrono::milliseconds(50), [&] { return woken; });
    woken = false;
  }
  exchange.set_window_waker({});
  return view;
}

}  // namespace

Result<Done> write_picture(const WindowOptions& options, Exchange& exchange) {
  std::shared_ptr<const SessionView> view = awaited_view(options, exchange);
  if (!view) {
    return Error{ErrorCode::kUnusable,
                 "no picture was drawn: the session ended before there was anything to see"};
  }
  const float unit = options.scale > 0 ? static_cast<float>(options.scale) : 1.0F;
  Offscreen sheet({.width = options.width > 0 ? options.width : 1'280,
                   .height = options.height > 0 ? options.height : 720,
                   .unit = unit});
  Remembered remembered;
  Desk desk(sheet.textures(), remembered);
  DeskState state = {.compact = options.compact};
  desk.take(view, exchange.take_feed());
  Bitmap seen;
  for (int i = 0; i < kFrames; ++i) {
    sheet.fit_legends(desk.engraved_px());
    seen = sheet.draw([&] {
      desk.draw({.size = ImGui::GetIO().DisplaySize, .unit = unit, .type = sheet.type()}, state);
    });
  }
  exchange.wish(LeaveWish{});
  return write_png(seen, options.picture);
}

}  // namespace understudy
