// The way by SDL_RenderGeometryRaw; what renderers share.
#include "sim/window/renderer.h"

#include <algorithm>
#include <cstring>

namespace understudy {
namespace {

bool is_opaque(const Bitmap& bitmap) {
  for (std::size_t i = 3; i < bitmap.rgba.size(); i += 4) {
    if (bitmap.rgba[i] != 255) return false;
  }
  return true;
}

SDL_Rect clip_of(const ImDrawCmd& command, const ImDrawData& data) {
  const ImVec2 end(data.DisplaySize.x, data.DisplaySize.y);
  const float left = std::clamp(command.ClipRect.x - data.DisplayPos.x, 0.0F, end.x);
  const float top = std::clamp(command.ClipRect.y - data.DisplayPos.y, 0.0F, end.y);
  const float right = std::clamp(command.ClipRect.z - data.DisplayPos.x, 0.0F, end.x);
  const float bottom = std::clamp(command.ClipRect.w - data.DisplayPos.y, 0.0F, end.y);
  return {static_cast<int>(left), static_cast<int>(top),
          static_cast<int>(right) - static_cast<int>(left),
          static_cast<int>(bottom) - static_cast<int>(top)};
}

}  // namespace

void Renderer::take_atlas(ImFontAtlas& atlas) {
  if (atlas_ != nullptr) drop(atlas_);
  unsigned char* pixels = nullptr;
  Bitmap bitmap;
  atlas.GetTexDataAsRGBA32(&pixels, &bitmap.width, &bitmap.height);
  const std::size_t size = std::size_t{4} * static_cast<std::size_t>(bitmap.width) *
                           static_cast<std::size_t>(bitmap.height);
  bitmap.rgba.assign(pixels, pixels + size);
  atlas_ = keep(bitmap);
  atlas.SetTexID(atlas_);
  atlas.ClearTexData();
}

SdlRenderer::~SdlRenderer() {
  for (SDL_Texture* texture : kept_) SDL_DestroyTexture(texture);
}

ImTextureID SdlRenderer::keep(const Bitmap& bitmap) {
  if (bitmap.width <= 0 || bitmap.height <= 0) return nullptr;
  SDL_Texture* texture = SDL_CreateTexture(target_, SDL_PIXELFORMAT_ABGR8888,
                                           SDL_TEXTUREACCESS_STATIC, bitmap.width, bitmap.height);
  if (texture == nullptr) return nullptr;
  SDL_UpdateTexture(texture, nullptr, bitmap.rgba.data(), bitmap.width * 4);
  SDL_SetTextureBlendMode(texture, is_opaque(bitmap) ? SDL_BLENDMODE_NONE : SDL_BLENDMODE_BLEND);
  SDL_SetTextureScaleMode(texture, SDL_ScaleModeLinear);
  kept_.insert(texture);
  return texture;
}

void SdlRenderer::drop(ImTextureID texture) {
  auto* known = static_cast<SDL_Texture*>(texture);
  if (kept_.erase(known) != 0) SDL_DestroyTexture(known);
}

void SdlRenderer::draw(const ImDrawData& data, ImU32 ground) {
  const auto part = [ground](int shift) { return static_cast<Uint8>(ground >> shift); };
  SDL_RenderSetClipRect(target_, nullptr);
  SDL_SetRenderDrawColor(target_, part(IM_COL32_R_SHIFT), part(IM_COL32_G_SHIFT),
                         part(IM_COL32_B_SHIFT), 255);
  SDL_RenderClear(target_);
  SDL_SetRenderDrawBlendMode(target_, SDL_BLENDMODE_BLEND);
  for (int n = 0; n < data.CmdListsCount; ++n) {
    const ImDrawList& list = *data.CmdLists[n];
    for (const ImDrawCmd& command : list.CmdBuffer) {
      if (command.UserCallback != nullptr) continue;
      const SDL_Rect clip = clip_of(command, data);
      if (clip.w <= 0 || clip.h <= 0) continue;
      SDL_RenderSetClipRect(target_, &clip);
      draw_command(list, command);
    }
  }
  SDL_RenderSetClipRect(target_, nullptr);
}

void SdlRenderer::draw_command(const ImDrawList& list, const ImDrawCmd& command) {
  if (command.ElemCount == 0) return;
  const ImDrawVert* first = list.VtxBuffer.Data + command.VtxOffset;
  const ImDrawIdx* indices = list.IdxBuffer.Data + command.IdxOffset;
  SDL_RenderGeometryRaw(target_, static_cast<SDL_Texture*>(command.GetTexID()), &first->pos.x,
                        sizeof(ImDrawVert), reinterpret_cast<const SDL_Color*>(&first->col),
                        sizeof(ImDrawVert), &first->uv.x, sizeof(ImDrawVert),
                        list.VtxBuffer.Size - static_cast<int>(command.VtxOffset), indices,
                        static_cast<int>(command.ElemCount), sizeof(ImDrawIdx));
}

}  // namespace understudy
