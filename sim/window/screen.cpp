// Two kinds of screen behind one face.
#include "sim/window/screen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "sim/window/memory_renderer.h"
#include "sim/window/style.h"

namespace understudy {
namespace {

class DrawnByProcessor final : public Screen {
 public:
  DrawnByProcessor(SDL_Window* window, SDL_Renderer* target)
      : Screen(window), target_(target), renderer_(std::make_unique<SdlRenderer>(target)) {}
  ~DrawnByProcessor() override {
    renderer_.reset();
    SDL_DestroyRenderer(target_);
  }
  Renderer& renderer() override { return *renderer_; }
  [[nodiscard]] ImVec2 pixels() const override {
    int width = 0;
    int height = 0;
    SDL_GetRendererOutputSize(target_, &width, &height);
    return {static_cast<float>(width), static_cast<float>(height)};
  }
  void show(const ImDrawData& data) override {
    renderer_->draw(data, ink::kPaper);
    SDL_RenderPresent(target_);
  }

 private:
  SDL_Renderer* target_;
  std::unique_ptr<SdlRenderer> renderer_;
};

class DrawnInMemory final : public Screen {
 public:
  explicit DrawnInMemory(SDL_Window* window) : Screen(window), renderer_(1, 1) {}
  Renderer& renderer() override { return renderer_; }
  [[nodiscard]] ImVec2 pixels() const override {
    int width = 0;
    int height = 0;
    SDL_GetWindowSizeInPixels(window(), &width, &height);
    return {static_cast<float>(width), static_cast<float>(height)};
  }
  void show(const ImDrawData& data) override {
    SDL_Surface* surface = SDL_GetWindowSurface(window());
    if (surface == nullptr) return;
    const DrawTarget& target = renderer_.target();
    if (target.width != surface->w || target.height != surface->h) {
      renderer_.resize(surface->w, surface->h);
    }
    renderer_.draw(data, ink::kPaper);
    SDL_ConvertPixels(surface->w, surface->h, SDL_PIXELFORMAT_RGB888, target.pixels,
                      target.stride * 4, surface->format->format, surface->pixels, surface->pitch);
    SDL_UpdateWindowSurface(window());
  }

 private:
  MemoryRenderer renderer_;
};

// Whether what calls itself accelerated is a program on this computer's processor.
bool is_imitated(SDL_Renderer* target) {
  SDL_RendererInfo info;
  if (SDL_GetRendererInfo(target, &info) != 0) return true;
  if ((info.flags & SDL_RENDERER_ACCELERATED) == 0) return true;
  if (!std::string_view(info.name).starts_with("opengl")) return false;
  using GetString = const unsigned char* (*)(unsigned);
  constexpr unsigned kNameOfRenderer = 0x1F01;  // GL_RENDERER, OpenGL 4.6 core profile
  const auto get = reinterpret_cast<GetString>(SDL_GL_GetProcAddress("glGetString"));
  const unsigned char* told = get == nullptr ? nullptr : get(kNameOfRenderer);
  if (told == nullptr) return true;
  const std::string_view name(reinterpret_cast<const char*>(told));
  for (const std::string_view imitation : {"llvmpipe", "softpipe", "swrast", "SwiftShader"}) {
    if (name.find(imitation) != std::string_view::npos) return true;
  }
  return false;
}

// Of the first display, without bars and docks.
SDL_Rect usable_room() {
  SDL_Rect room = {0, 0, 1280, 720};
  SDL_GetDisplayUsableBounds(0, &room);
  return room;
}

SDL_Window* make_window(const ScreenOptions& options) {
  Uint32 flags = SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI;
  if (options.on_top) flags |= SDL_WINDOW_ALWAYS_ON_TOP;
  const SDL_Rect room = usable_room();
  const int x = options.left ? room.x : SDL_WINDOWPOS_CENTERED;
  SDL_Window* window = SDL_CreateWindow(options.title.c_str(), x, SDL_WINDOWPOS_CENTERED,
                                        options.width, options.height, flags);
  if (window != nullptr) SDL_SetWindowMinimumSize(window, 240, 120);
  return window;
}

Error no_window() {
  return {ErrorCode::kLinkFailed,
          fmt::format("no window could be opened: {}; `understudy serve` does the same without one",
                      SDL_GetError())};
}

}  // namespace

int width_of_left_half() {
  return std::clamp(usable_room().w / 2, 800, 1280);
}

Result<std::unique_ptr<Screen>> Screen::open(const ScreenOptions& options) {
  // The window's own surface is then plain memory, not a texture of an imitated processor.
  SDL_SetHint(SDL_HINT_FRAMEBUFFER_ACCELERATION, "0");
  SDL_Window* window = make_window(options);
  if (window == nullptr) return no_window();
  SDL_Renderer* target = SDL_CreateRenderer(window, -1, SDL_RENDERER_ACCELERATED);
  if (target != nullptr && !is_imitated(target)) {
    return std::unique_ptr<Screen>(std::make_unique<DrawnByProcessor>(window, target));
  }
  if (target != nullptr) {
    SDL_DestroyRenderer(target);
    SDL_DestroyWindow(window);
    window = make_window(options);
    if (window == nullptr) return no_window();
  }
  return std::unique_ptr<Screen>(std::make_unique<DrawnInMemory>(window));
}

void Screen::resize_in_view(int width, int height) {
  const SDL_Rect room = usable_room();
  SDL_SetWindowSize(window_, width, height);
  int x = 0;
  int y = 0;
  SDL_GetWindowPosition(window_, &x, &y);
  SDL_SetWindowPosition(window_, std::clamp(x, room.x, std::max(room.x, room.x + room.w - width)),
                        std::clamp(y, room.y, std::max(room.y, room.y + room.h - height)));
}

Screen::~Screen() {
  SDL_DestroyWindow(window_);
}

float Screen::ratio() const {
  int width = 0;
  int height = 0;
  SDL_GetWindowSize(window_, &width, &height);
  return width > 0 ? pixels().x / static_cast<float>(width) : 1.0F;
}

float unit_of_display(float ratio, float dots_per_inch) {
  const float by_dots = std::round(dots_per_inch / 96.0F * 4.0F) / 4.0F;
  return std::clamp(std::max(std::round(ratio * 4.0F) / 4.0F, by_dots), 1.0F, 4.0F);
}

}  // namespace understudy
