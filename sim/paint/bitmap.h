// A picture in memory, as painted by this folder and drawn by the window.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace understudy {

// Rows from the top; a pixel is red, green, blue, alpha in that order of bytes, sRGB, with straight
// alpha.
struct Bitmap {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgba;  // 4 * width * height

  Bitmap() = default;
  Bitmap(int columns, int rows)
      : width(columns),
        height(rows),
        rgba(std::size_t{4} * static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows)) {}
};

}  // namespace understudy
