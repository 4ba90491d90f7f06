// Grain comes from a hash of the place, so that the sheet is the same on every run.
#include "sim/window/paper.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "sim/window/style.h"

namespace understudy {
namespace {

constexpr int kTileColumns = 256;
constexpr int kRulesOfTile = 10;
constexpr float kPitchUnits = 26;

std::uint32_t mixed(std::uint32_t x, std::uint32_t y) {
  std::uint32_t bits = x * 0x9E3779B1U ^ y * 0x85EBCA77U;
  bits ^= bits >> 15;
  bits *= 0x2C1B3C6DU;
  bits ^= bits >> 12;
  bits *= 0x297A2D39U;
  return bits ^ bits >> 15;
}

// Between -1 and 1; neighbours along a row resemble each other, as fibres lie.
float grain(int x, int y, int rows) {
  float sum = 0;
  for (int i = -2; i <= 2; ++i) {
    const auto column = static_cast<std::uint32_t>((x + i + kTileColumns) % kTileColumns);
    sum += static_cast<float>(mixed(column, static_cast<std::uint32_t>(y % rows)) & 0xFFFFU);
  }
  return sum / (5 * 32'767.5F) - 1.0F;
}

std::uint8_t byte_of(float value) {
  return static_cast<std::uint8_t>(std::clamp(value + 0.5F, 0.0F, 255.0F));
}

float part(ImU32 colour, int shift) {
  return static_cast<float>(colour >> shift & 0xFFU);
}

}  // namespace

Bitmap painted_paper(int pitch) {
  const int rows = pitch * kRulesOfTile;
  Bitmap tile(kTileColumns, rows);
  const int thickness = std::max(1, pitch / 26);
  for (int y = 0; y < rows; ++y) {
    const bool rule = y % pitch >= pitch - thickness;
    for (int x = 0; x < kTileColumns; ++x) {
      const float rough = grain(x, y, rows);
      // The pale blue takes on paper unevenly.
      const float ink = rule ? 0.62F + 0.25F * rough : 0.0F;
      std::uint8_t* pixel = &tile.rgba[static_cast<std::size_t>(4 * (y * kTileColumns + x))];
      const int shifts[3] = {IM_COL32_R_SHIFT, IM_COL32_G_SHIFT, IM_COL32_B_SHIFT};
      for (int i = 0; i < 3; ++i) {
        const float bare = part(ink::kPaper, shifts[i]) + 2.4F * rough;
        pixel[i] = byte_of(bare + (part(ink::kRule, shifts[i]) - bare) * ink);
      }
      pixel[3] = 255;
    }
  }
  return tile;
}

void Paper::draw(ImDrawList& list, const Box& box, float unit) {
  if (tile_ == nullptr || tile_unit_ != unit) {
    textures_.drop(tile_);
    const Bitmap tile =
        painted_paper(std::max(4, static_cast<int>(std::lround(kPitchUnits * unit))));
    tile_ = textures_.keep(tile);
    tile_unit_ = unit;
    tile_size_ = ImVec2(static_cast<float>(tile.width), static_cast<float>(tile.height));
  }
  if (tile_ == nullptr) return;
  list.PushClipRect(box.at(), {box.right, box.bottom}, true);
  for (float y = box.top; y < box.bottom; y += tile_size_.y) {
    for (float x = box.left; x < box.right; x += tile_size_.x) {
      list.AddImage(tile_, {x, y}, {x + tile_size_.x, y + tile_size_.y});
    }
  }
  list.PopClipRect();
}

void draw_card(ImDrawList& list, const Box& box, float unit) {
  const float reach = 5 * unit;
  const ImU32 dark = IM_COL32(70, 56, 30, 64);
  const ImU32 none = IM_COL32(70, 56, 30, 0);
  list.AddRectFilledMultiColor({box.right, box.top + reach}, {box.right + reach, box.bottom}, dark,
                               none, none, dark);
  list.AddRectFilledMultiColor({box.left + reach, box.bottom}, {box.right, box.bottom + reach},
                               dark, dark, none, none);
  list.AddRectFilledMultiColor({box.right, box.bottom}, {box.right + reach, box.bottom + reach},
                               dark, none, none, none);
  list.AddRectFilled(box.at(), {box.right, box.bottom}, ink::kCard);
  list.AddRect(box.at(), {box.right, box.bottom}, ink::kEdge);
}

}  // namespace understudy
