// Draws ImGui's lists of triangles, and keeps the pictures that they are drawn from. What is in
// the lists is the work of the other files; windows and pacing that of window.cpp.
//
// Everything is in pixels of the target: io.DisplaySize is the target's size and
// io.DisplayFramebufferScale stays 1, at any density of the display.
#pragma once

#include <SDL.h>
#include <imgui.h>

#include <set>

#include "sim/window/textures.h"

namespace understudy {

// Thread: the window's.
class Renderer : public Textures {
 public:
  // Uploads the atlas as it is built now, instead of the one before.
  void take_atlas(ImFontAtlas& atlas);
  // Draws over the whole target; what no triangle covers is `ground`.
  virtual void draw(const ImDrawData& data, ImU32 ground) = 0;

 private:
  ImTextureID atlas_ = nullptr;
};

// Over SDL's geometry calls: whatever SDL has on this machine.
class SdlRenderer final : public Renderer {
 public:
  // `target` stays the caller's and outlives this.
  explicit SdlRenderer(SDL_Renderer* target) : target_(target) {}
  ~SdlRenderer() override;
  SdlRenderer(const SdlRenderer&) = delete;
  SdlRenderer& operator=(const SdlRenderer&) = delete;

  ImTextureID keep(const Bitmap& bitmap) override;
  void drop(ImTextureID texture) override;
  void draw(const ImDrawData& data, ImU32 ground) override;

 private:
  void draw_command(const ImDrawList& list, const ImDrawCmd& command);

  SDL_Renderer* target_;
  std::set<SDL_Texture*> kept_;
};

}  // namespace understudy
