// What surfaces are like: heights that give them form, and how they throw daylight back. Daylight
// comes from the upper left, always.
#pragma once

#include <cstdint>
#include <functional>

#include "sim/paint/light.h"
#include "sim/paint/shapes.h"

namespace understudy {

// Millimetres above the ground of a shape; `inside` is how far the point lies from its edge.
using Height = std::function<float(const Point& at, float inside)>;
// A factor, 1 for no change.
using Tone = std::function<float(const Point& at)>;

struct Material {
  Light colour;
  float opacity = 1;
  float shine = 0;  // how much of the light it throws back as a mirror does, 0 to 1
  float roughness = 0.5F;
  bool metal = false;  // what it mirrors has its own colour
  Height height = {};  // empty: flat
  Tone tone = {};      // of the colour
  Tone alpha = {};     // of the opacity
};

// ---- heights ----
// A slope `width` wide along the edge, straight or rounded, and flat further in.
Height bevel(float width, float rise);
Height rounded_edge(float width, float rise);
// The reverse: falls from the edge inwards, as a dish or a press in sheet.
Height dished(float width, float depth);
// Part of a ball over a circle.
Height dome(const Point& middle, float radius, float rise);
// Ribs across x or y, one every `pitch`, on top of another height.
Height ribbed(Height under, float pitch, float rise, bool across_y);
// A fine irregular grain on top of another height.
Height grained(Height under, float size, float rise, std::uint32_t seed);

// ---- tones ----
// Metal turned on a lathe: bright fans to the upper left and lower right.
Tone turned_metal(const Point& middle, float strength);
// Fine scratches along x (or y).
Tone brushed(float strength, bool along_y, std::uint32_t seed);
// Clouds about so large.
Tone clouded(float size, float strength, std::uint32_t seed);

// A surface's slope seen by the daylight: what a flat one throws back is its own colour.
struct Slope {
  float x = 0;  // rise for each millimetre to the right
  float y = 0;
};
Light lit(const Light& colour, const Material& material, const Slope& slope);
// Towards the light along the plate; shadows fall the other way.
inline constexpr Point kSunward = {-0.6F, -0.8F};

// Even chance from whole numbers, 0 to 1.
float chance_at(std::int32_t column, std::int32_t row, std::uint32_t seed);
// Smooth noise, 0 to 1, one hill for each unit; `period` > 0: over again after so many units.
float noise_at(const Point& at, std::uint32_t seed, std::int32_t period = 0);

}  // namespace understudy
