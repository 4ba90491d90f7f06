// The lists' commands, one after the other; triangles are drawn by triangles.cpp.
#include "sim/window/memory_renderer.h"

#include <algorithm>
#include <cmath>

#include "sim/window/triangles.h"

namespace understudy {
namespace {

std::uint32_t multiplied(const std::uint8_t* rgba) {
  const std::uint32_t alpha = rgba[3];
  const auto part = [alpha](std::uint32_t value) { return (value * alpha + 127) / 255; };
  return alpha << 24 | part(rgba[0]) << 16 | part(rgba[1]) << 8 | part(rgba[2]);
}

ClipBox clip_of(const ImDrawCmd& command, const ImDrawData& data, const DrawTarget& target) {
  const auto within = [](float value, int most) {
    return static_cast<int>(std::clamp(value, 0.0F, static_cast<float>(most)));
  };
  return {within(command.ClipRect.x - data.DisplayPos.x, target.width),
          within(command.ClipRect.y - data.DisplayPos.y, target.height),
          within(command.ClipRect.z - data.DisplayPos.x, target.width),
          within(command.ClipRect.w - data.DisplayPos.y, target.height)};
}

}  // namespace

void MemoryRenderer::resize(int width, int height) {
  pixels_.assign(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0);
  target_ = {pixels_.data(), width, height, width};
}

ImTextureID MemoryRenderer::keep(const Bitmap& bitmap) {
  if (bitmap.width <= 0 || bitmap.height <= 0) return nullptr;
  auto sampled = std::make_unique<Sampled>();
  sampled->width = bitmap.width;
  sampled->height = bitmap.height;
  sampled->opaque = true;
  sampled->pixels.resize(bitmap.rgba.size() / 4);
  for (std::size_t i = 0; i < sampled->pixels.size(); ++i) {
    sampled->pixels[i] = multiplied(&bitmap.rgba[4 * i]);
    sampled->opaque = sampled->opaque && bitmap.rgba[4 * i + 3] == 255;
  }
  Sampled* texture = sampled.get();
  kept_.insert(std::move(sampled));
  return texture;
}

void MemoryRenderer::drop(ImTextureID texture) {
  const auto found = std::find_if(kept_.begin(), kept_.end(),
                                  [texture](const auto& one) { return one.get() == texture; });
  if (found != kept_.end()) kept_.erase(found);
}

void MemoryRenderer::draw(const ImDrawData& data, ImU32 ground) {
  const auto part = [ground](int shift) { return ground >> shift & 0xFFU; };
  const std::uint32_t colour = 0xFF000000U | part(IM_COL32_R_SHIFT) << 16 |
                               part(IM_COL32_G_SHIFT) << 8 | part(IM_COL32_B_SHIFT);
  std::fill(pixels_.begin(), pixels_.end(), colour);
  for (int n = 0; n < data.CmdListsCount; ++n) {
    const ImDrawList& list = *data.CmdLists[n];
    for (const ImDrawCmd& command : list.CmdBuffer) {
      if (command.UserCallback != nullptr || command.GetTexID() == nullptr) continue;
      const ClipBox clip = clip_of(command, data, target_);
      if (clip.left >= clip.right || clip.top >= clip.bottom) continue;
      draw_triangles(target_, clip, *static_cast<const Sampled*>(command.GetTexID()),
                     list.VtxBuffer.Data + command.VtxOffset,
                     list.IdxBuffer.Data + command.IdxOffset, command.ElemCount);
    }
  }
}

Bitmap MemoryRenderer::picture() const {
  Bitmap bitmap(target_.width, target_.height);
  for (std::size_t i = 0; i < pixels_.size(); ++i) {
    bitmap.rgba[4 * i] = static_cast<std::uint8_t>(pixels_[i] >> 16);
    bitmap.rgba[4 * i + 1] = static_cast<std::uint8_t>(pixels_[i] >> 8);
    bitmap.rgba[4 * i + 2] = static_cast<std::uint8_t>(pixels_[i]);
    bitmap.rgba[4 * i + 3] = 255;
  }
  return bitmap;
}

}  // namespace understudy
