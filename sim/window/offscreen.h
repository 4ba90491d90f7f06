// Draws without any display: one function's ImGui calls to a picture in memory or a PNG file. For
// tests, for `--picture`, and for whoever wants to look at what they draw:
//
//   Offscreen sheet({.width = 640, .height = 400, .unit = 1.0F});
//   const ImTextureID knob = sheet.textures().keep(painted);   // a Bitmap of sim/paint
//   const Bitmap seen = sheet.draw([&] {                        // between NewFrame and Render
//     ImDrawList& list = *ImGui::GetBackgroundDrawList();
//     list.AddImage(knob, {20, 20}, {84, 84});
//     list.AddText(sheet.type().heading, 19, {20, 100}, ink::kText, "Traffic");
//     sheet.card("Traffic", {320, 20}, {300, 200}, [&] { area.draw(context); });
//   });
//   if (const Result<Done> done = write_png(seen, "seen.png"); !done) ...
//
// Only one at a time: it owns ImGui's context. tests/sim/window/offscreen_test.cpp uses it.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "sim/base/result.h"
#include "sim/paint/bitmap.h"
#include "sim/window/fonts.h"
#include "sim/window/memory_renderer.h"

namespace understudy {

class Offscreen {
 public:
  struct Options {
    int width = 640;
    int height = 400;
    float unit = 1.0F;            // 2: everything twice as large
    float engraved_px = 14.0F;    // of Typefaces::engraved
    float frame_seconds = 0.02F;  // what io.DeltaTime says
  };
  explicit Offscreen(const Options& options);
  ~Offscreen();
  Offscreen(const Offscreen&) = delete;
  Offscreen& operator=(const Offscreen&) = delete;

  [[nodiscard]] Textures& textures();
  [[nodiscard]] const Typefaces& type() const;

  // Bakes the typefaces anew where the face's legends have another height now.
  void fit_legends(float engraved_px);

  // One frame. ImGui settles sizes over two frames: call it twice where it has windows. Input is
  // put into ImGui::GetIO() before, by whoever wants some.
  Bitmap draw(const std::function<void()>& frame);
  // The same without making a picture of it.
  void draw_only(const std::function<void()>& frame);
  // Within draw(): an ImGui window without a frame in which an area can be drawn.
  static void card(const char* name, ImVec2 at, ImVec2 size, const std::function<void()>& content);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

// Errors: kUnusable, with the system's reason.
Result<Done> write_png(const Bitmap& bitmap, const std::string& path);

}  // namespace understudy
