// Draws ImGui's lists into memory: for pictures, for tests, and for windows on machines where SDL
// would draw in memory too. Triangles are sampled at the middles of pixels and textures between
// their pixels, so that what turns and swings does so smoothly, which SDL's own software way,
// made for whole pixels, does not.
#pragma once

#include <cstdint>
#include <memory>
#include <set>
#include <vector>

#include "sim/paint/bitmap.h"
#include "sim/window/renderer.h"

namespace understudy {

// A picture as the sampler wants it: colours multiplied by their alpha, 0xAARRGGBB.
struct Sampled {
  int width = 0;
  int height = 0;
  bool opaque = false;
  std::vector<std::uint32_t> pixels;
};

// Where is drawn: rows of 0xFFRRGGBB, as SDL's surfaces without alpha have them.
struct DrawTarget {
  std::uint32_t* pixels = nullptr;
  int width = 0;
  int height = 0;
  int stride = 0;  // pixels from one row to the next
};

class MemoryRenderer final : public Renderer {
 public:
  MemoryRenderer(int width, int height) { resize(width, height); }
  // What was drawn is gone.
  void resize(int width, int height);

  ImTextureID keep(const Bitmap& bitmap) override;
  void drop(ImTextureID texture) override;
  void draw(const ImDrawData& data, ImU32 ground) override;

  [[nodiscard]] const DrawTarget& target() const { return target_; }
  [[nodiscard]] Bitmap picture() const;

 private:
  std::vector<std::uint32_t> pixels_;
  DrawTarget target_;
  std::set<std::unique_ptr<Sampled>, std::less<>> kept_;
};

}  // namespace understudy
