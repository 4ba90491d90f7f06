// Pictures that the painter made, kept where the renderer draws from.
#pragma once

#include <imgui.h>

#include "sim/paint/bitmap.h"

namespace understudy {

// Thread: the window's.
class Textures {
 public:
  virtual ~Textures() = default;
  // The texture is the caller's until drop(); straight (not premultiplied) alpha.
  virtual ImTextureID keep(const Bitmap& bitmap) = 0;
  virtual void drop(ImTextureID texture) = 0;
};

}  // namespace understudy
