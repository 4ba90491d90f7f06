// The loop of the window: events in, frames out, at the pace of pacing.h.
#include "sim/window/window.h"

#include <SDL.h>
#include <backends/imgui_impl_sdl.h>
#include <fmt/format.h>

#include <atomic>
#include <cstdlib>
#include <functional>
#include <memory>
#include <set>
#include <utility>
#include <vector>

#include "sim/window/desk.h"
#include "sim/window/fonts.h"
#include "sim/window/hand_events.h"
#include "sim/window/pacing.h"
#include "sim/window/picture.h"
#include "sim/window/places.h"
#include "sim/window/pointer.h"
#include "sim/window/preferences.h"
#include "sim/window/screen.h"
#include "sim/window/style.h"
#include "sim/window/view_change.h"

namespace understudy {
namespace {

constexpr int kSettlingFrames = 3;  // ImGui needs some to follow what was done

Duration now_by_sdl() {
  return milliseconds(static_cast<std::int64_t>(SDL_GetTicks64()));
}

bool is_set(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr && value[0] != '\0';
}

// Whether keys go from field to field.
void walk_by_keys(ImGuiConfigFlags& flags, bool on) {
  if (on)
    flags |= ImGuiConfigFlags_NavEnableKeyboard;
  else
    flags &= ~ImGuiConfigFlags_NavEnableKeyboard;
}

Error no_display(const std::string& reason) {
  return {ErrorCode::kLinkFailed,
          fmt::format("the window cannot be opened: {}; `understudy serve` plays the panel without "
                      "a window, and `--picture FILE` draws it",
                      reason)};
}

class Running {
 public:
  Running(const WindowOptions& options, Exchange& exchange)
      : options_(options),
        exchange_(exchange),
        path_(options.forget ? std::string() : preferences_path()),
        remembered_(load_preferences(path_)) {
    desk_state_.on_top = options.on_top;
    desk_state_.compact = options.compact;
  }
  ~Running();
  Running(const Running&) = delete;
  Running& operator=(const Running&) = delete;

  Result<Done> open();
  void run();

 private:
  void open_toolkit();
  bool take_event(const SDL_Event& event);
  void tell_toolkit(const SDL_Event& event);
  void end_taps();
  void look();
  void draw();
  void see_scale();
  void follow_desk();
  void enter_compact();
  void leave_compact();
  void send_wishes();
  void store();
  [[nodiscard]] std::string size_name(std::string_view side) const;
  static SDL_HitTestResult grip_of(SDL_Window* window, const SDL_Point* at, void* running);

  const WindowOptions& options_;
  Exchange& exchange_;
  std::string path_;
  Remembered remembered_;
  DeskState desk_state_;
  std::unique_ptr<Screen> screen_;
  std::unique_ptr<Places> places_;
  std::unique_ptr<Desk> desk_;
  Pointer pointer_;
  HandEvents hand_events_;
  std::set<SDL_Scancode> fresh_keys_;  // that went down since the last frame
  std::vector<SDL_Event> taps_;        // ends of theirs
  TypefaceSizes sizes_;
  Typefaces type_;
  std::shared_ptr<const SessionView> newest_;
  std::shared_ptr<const SessionView> drawn_;
  std::shared_ptr<std::atomic<bool>> woken_ = std::make_shared<std::atomic<bool>>(false);
  Uint32 wake_event_ = 0;
  Duration frame_at_{-1'000'000'000};
  Duration asked_at_{-1'000'000'000};
  int settling_ = kSettlingFrames;
  bool input_ = true;
  bool visible_ = true;
  bool leave_ = false;
  bool shown_on_top_ = false;
  bool shown_compact_ = false;
  SDL_Point framed_size_{1280, 720};  // of the window while it is not compact
};

// Beside a game the window has another size, and that is remembered by itself.
std::string Running::size_name(std::string_view side) const {
  return (options_.beside_game ? "beside." : "window.") + std::string(side);
}

Result<Done> Running::open() {
  const auto size = [this](int wanted, std::string_view name, int usual) {
    if (wanted > 0) return wanted;
    const NumberRange range = {.least = 240, .most = 8'000, .usual = static_cast<double>(usual)};
    return static_cast<int>(remembered_number(remembered_, name, range));
  };
  const int usual = options_.beside_game ? width_of_left_half() : 1'280;
  framed_size_ = {size(options_.width, size_name("width"), usual),
                  size(options_.height, size_name("height"), 720)};
  Result<std::unique_ptr<Screen>> screen = Screen::open({.title = "Understudy",
                                                         .width = framed_size_.x,
                                                         .height = framed_size_.y,
                                                         .left = options_.beside_game});
  if (!screen) return screen.error();
  screen_ = std::move(screen).value();
  open_toolkit();
  wake_event_ = SDL_RegisterEvents(1);
  const std::function<void()> wake = [woken = woken_, type = wake_event_] {
    if (woken->exchange(true)) return;
    SDL_Event event = {};
    event.type = type;
    SDL_PushEvent(&event);
  };
  desk_ = std::make_unique<Desk>(screen_->renderer(), remembered_, wake);
  exchange_.set_window_waker(wake);
  return Done{};
}

void Running::open_toolkit() {
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  io.ConfigInputTextCursorBlink = false;  // nothing of ours flashes
  io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
  ImGui_ImplSDL2_InitForSDLRenderer(screen_->window());
  if (is_set("UNDERSTUDY_WINDOW_PLACES")) {
    places_ = std::make_unique<Places>(std::getenv("UNDERSTUDY_WINDOW_PLACES"));
    io.UserData = places_.get();
  }
}

Running::~Running() {
  exchange_.set_window_waker({});
  if (!screen_) return;
  store();
  desk_.reset();
  ImGui_ImplSDL2_Shutdown();
  ImGui::DestroyContext();
}

void Running::store() {
  if (options_.forget) return;
  remember_number(remembered_, size_name("width"), framed_size_.x);
  remember_number(remembered_, size_name("height"), framed_size_.y);
  // A window that closes has nobody to tell that its sizes were not kept.
  const Result<Done> stored = store_preferences(path_, remembered_);
  static_cast<void>(stored);
}

// True for what the person or the desktop did.
bool Running::take_event(const SDL_Event& event) {
  if (event.type == wake_event_) {
    woken_->store(false);
    return false;
  }
  pointer_.take(event);
  tell_toolkit(event);
  hand_events_.take(event, desk_->hands(),
                    {.face = desk_->face_frame(),
                     .window = screen_->pixels(),
                     .typing = ImGui::GetIO().WantTextInput,
                     .face_keys = !desk_->editing(),
                     .menu = desk_->menu_is_open()});
  if (event.type == SDL_QUIT && desk_->may_close()) leave_ = true;
  if (event.type == SDL_DROPFILE) {
    desk_->drop_file(event.drop.file);
    SDL_free(event.drop.file);
  }
  if (event.type == SDL_WINDOWEVENT) {
    switch (event.window.event) {
      case SDL_WINDOWEVENT_MINIMIZED:
      case SDL_WINDOWEVENT_HIDDEN:
        visible_ = false;
        break;
      case SDL_WINDOWEVENT_RESTORED:
      case SDL_WINDOWEVENT_SHOWN:
      case SDL_WINDOWEVENT_EXPOSED:
        visible_ = true;
        break;
      case SDL_WINDOWEVENT_SIZE_CHANGED:
        if (!shown_compact_) framed_size_ = {event.window.data1, event.window.data2};
        break;
      default:
        break;
    }
  }
  return true;
}

// ImGui 1.86 knows keys only as they are at a frame: of a tap that is over before the next one the
// end is told after it.
void Running::tell_toolkit(const SDL_Event& event) {
  if (event.type == SDL_KEYUP && fresh_keys_.contains(event.key.keysym.scancode)) {
    taps_.push_back(event);
    return;
  }
  if (event.type == SDL_KEYDOWN) fresh_keys_.insert(event.key.keysym.scancode);
  ImGui_ImplSDL2_ProcessEvent(&event);
}

void Running::end_taps() {
  fresh_keys_.clear();
  if (!taps_.empty()) input_ = true;
  for (const SDL_Event& event : std::exchange(taps_, {})) ImGui_ImplSDL2_ProcessEvent(&event);
}

// Takes what the session has published.
void Running::look() {
  std::shared_ptr<const SessionView> view = exchange_.view();
  if (!view || view == newest_) return;
  newest_ = std::move(view);
  desk_->take(newest_, exchange_.take_feed());
}

void Running::see_scale() {
  float unit = static_cast<float>(options_.scale);
  if (unit <= 0) {
    float dots = 0;
    const int display = SDL_GetWindowDisplayIndex(screen_->window());
    if (SDL_GetDisplayDPI(display, &dots, nullptr, nullptr) != 0) dots = 0;
    unit = unit_of_display(screen_->ratio(), dots);
  }
  const TypefaceSizes wanted = {.unit = unit, .engraved_px = desk_->engraved_px()};
  if (type_.text != nullptr && wanted == sizes_) return;
  sizes_ = wanted;
  type_ = bake_typefaces(*ImGui::GetIO().Fonts, sizes_);
  ImGui::GetIO().FontDefault = type_.text;
  screen_->renderer().take_atlas(*ImGui::GetIO().Fonts);
  put_on_paper(ImGui::GetStyle(), unit);
}

void Running::draw() {
  see_scale();
  ImGuiIO& io = ImGui::GetIO();
  const float ratio = screen_->ratio();
  ImGui_ImplSDL2_NewFrame();
  io.DisplaySize = screen_->pixels();
  io.DisplayFramebufferScale = ImVec2(1, 1);
  pointer_.apply(io, ratio);
  if (places_) {
    int x = 0;
    int y = 0;
    SDL_GetWindowPosition(screen_->window(), &x, &y);
    places_->begin({static_cast<float>(x) * ratio, static_cast<float>(y) * ratio});
  }
  walk_by_keys(io.ConfigFlags, !desk_->face_has_keys());
  ImGui::NewFrame();
  desk_->draw({.size = io.DisplaySize, .unit = sizes_.unit, .type = type_}, desk_state_);
  ImGui::Render();
  screen_->show(*ImGui::GetDrawData());
  if (places_) places_->end();
  drawn_ = newest_;
  follow_desk();
}

void Running::send_wishes() {
  for (Wish& wish : desk_->take_wishes()) exchange_.wish(std::move(wish));
}

SDL_HitTestResult Running::grip_of(SDL_Window* window, const SDL_Point* at, void* running) {
  const auto& self = *static_cast<const Running*>(running);
  int width = 0;
  int height = 0;
  SDL_GetWindowSize(window, &width, &height);
  constexpr int kCorner = 14;
  if (at->x >= width - kCorner && at->y >= height - kCorner) {
    return SDL_HITTEST_RESIZE_BOTTOMRIGHT;
  }
  const float ratio = self.screen_->ratio();
  const ImVec2 pixel(static_cast<float>(at->x) * ratio, static_cast<float>(at->y) * ratio);
  return self.desk_->is_bare(pixel) ? SDL_HITTEST_DRAGGABLE : SDL_HITTEST_NORMAL;
}

void Running::enter_compact() {
  const NumberRange range = {.least = 160, .most = 4'000, .usual = 520};
  const double width = remembered_number(remembered_, "compact.width", range);
  SDL_SetWindowBordered(screen_->window(), SDL_FALSE);
  SDL_SetWindowHitTest(screen_->window(), grip_of, this);
  screen_->resize_in_view(static_cast<int>(width),
                          static_cast<int>(width / static_cast<double>(desk_->face_ratio())));
}

void Running::leave_compact() {
  int width = 0;
  SDL_GetWindowSize(screen_->window(), &width, nullptr);
  remember_number(remembered_, "compact.width", width);
  SDL_SetWindowHitTest(screen_->window(), nullptr, nullptr);
  SDL_SetWindowBordered(screen_->window(), SDL_TRUE);
  SDL_SetWindowSize(screen_->window(), framed_size_.x, framed_size_.y);
}

// What the desk was told to be, the window becomes.
void Running::follow_desk() {
  if (std::exchange(desk_state_.leave, false) && desk_->may_close()) leave_ = true;
  if (desk_state_.on_top != shown_on_top_) {
    shown_on_top_ = desk_state_.on_top;
    SDL_SetWindowAlwaysOnTop(screen_->window(), shown_on_top_ ? SDL_TRUE : SDL_FALSE);
  }
  if (desk_state_.compact != shown_compact_ && drawn_) {
    shown_compact_ = desk_state_.compact;
    shown_compact_ ? enter_compact() : leave_compact();
    settling_ = kSettlingFrames;
  }
  if (drawn_ && !drawn_->seats.empty()) {
    const std::string& name = drawn_->seats.front().device.panel().description.name;
    if (name != SDL_GetWindowTitle(screen_->window())) {
      SDL_SetWindowTitle(screen_->window(), name.c_str());
    }
  }
}

void Running::run() {
  exchange_.ask_for_view();
  while (!leave_ && !exchange_.session_over()) {
    SDL_Event event;
    while (SDL_PollEvent(&event) != 0) {
      if (take_event(event)) input_ = true;
    }
    look();
    if (desk_->turn(static_cast<double>(SDL_GetTicks64()) / 1e3)) input_ = true;
    send_wishes();
    Moment moment = {.input = input_ || settling_ > 0,
                     .animating = desk_->moving() || pointer_.pending(),
                     .visible = visible_};
    if (newest_ != drawn_) {
      moment.change = drawn_ ? change_between(*drawn_, *newest_) : ViewChange::kFace;
    }
    const Duration now = now_by_sdl();
    moment.since_frame = now - frame_at_;
    moment.since_asked = now - asked_at_;
    const Pace found = pace(moment);
    if (found.ask) {
      asked_at_ = now;
      exchange_.ask_for_view();
    }
    if (found.draw) {
      frame_at_ = now;
      settling_ = input_ ? kSettlingFrames : std::max(0, settling_ - 1);
      input_ = false;
      draw();
      end_taps();
      send_wishes();
    }
    if (leave_) break;
    SDL_WaitEventTimeout(nullptr, static_cast<int>((found.wait.ns + 999'999) / 1'000'000));
  }
  if (leave_) exchange_.wish(LeaveWish{});
}

}  // namespace

Result<HeldDisplay> open_display(const WindowOptions& options) {
  if (!options.picture.empty()) return HeldDisplay{};
  if (!is_set("DISPLAY") && !is_set("WAYLAND_DISPLAY") && !is_set("SDL_VIDEODRIVER")) {
    return no_display("there is no display here (neither DISPLAY nor WAYLAND_DISPLAY is set)");
  }
  SDL_SetHint(SDL_HINT_VIDEO_ALLOW_SCREENSAVER, "1");
  SDL_SetHint(SDL_HINT_NO_SIGNAL_HANDLERS, "1");  // signals are the session's
  if (SDL_InitSubSystem(SDL_INIT_VIDEO) != 0) return no_display(SDL_GetError());
  HeldDisplay held(nullptr, [](void*) { SDL_QuitSubSystem(SDL_INIT_VIDEO); });
  // SDL draws where nobody looks when the display does not answer.
  const std::string_view driver = SDL_GetCurrentVideoDriver();
  if (!is_set("SDL_VIDEODRIVER") && driver != "x11" && driver != "wayland") {
    return no_display(fmt::format(
        "the display {} does not answer",
        is_set("WAYLAND_DISPLAY") ? std::getenv("WAYLAND_DISPLAY") : std::getenv("DISPLAY")));
  }
  return held;
}

Result<Done> run_window(const WindowOptions& options, Exchange& exchange) {
  if (!options.picture.empty()) return write_picture(options, exchange);
  Running running(options, exchange);
  if (const Result<Done> opened = running.open(); !opened) return opened;
  running.run();
  return Done{};
}

}  // namespace understudy
