// The look of everything around the face: warm paper with ruled lines, ink, index-card headings.
// Colours and typefaces by what they are for; nothing of the toolkit's own look remains.
#pragma once

#include <imgui.h>

namespace understudy {

// Baked in by fonts.cpp at the sizes that the scale asks for; valid from the first frame on, and
// new after a change of scale, so never keep them.
struct Typefaces {
  ImFont* text = nullptr;      // proportional, for sentences and labels
  ImFont* heading = nullptr;   // proportional and bolder, for index-card headings
  ImFont* small = nullptr;     // proportional, for legends of charts and hints
  ImFont* typed = nullptr;     // typewriter, for lines of text and numbers in columns
  ImFont* engraved = nullptr;  // proportional, for legends on the face, at the face's own scale
  float unit = 1.0F;           // pixels of one unit of length: 1 at 96 dots an inch
};

namespace ink {
// Dark inks on paper; text is readable on paper at a contrast of 4.5 and more (WCAG 2.2, 1.4.3).
inline constexpr ImU32 kText = IM_COL32(43, 38, 32, 255);
inline constexpr ImU32 kFaint = IM_COL32(107, 97, 84, 255);    // what is secondary
inline constexpr ImU32 kWrong = IM_COL32(158, 38, 22, 255);    // red ink: mistakes, malformed lines
inline constexpr ImU32 kRight = IM_COL32(30, 92, 58, 255);     // green ink: connected, fresh
inline constexpr ImU32 kAmber = IM_COL32(138, 84, 8, 255);     // cautions
inline constexpr ImU32 kPaper = IM_COL32(244, 237, 222, 255);  // the desk's sheet
inline constexpr ImU32 kCard = IM_COL32(251, 247, 236, 255);   // an index card on it
inline constexpr ImU32 kRule = IM_COL32(206, 214, 214, 255);   // pale blue ruled lines
inline constexpr ImU32 kMargin = IM_COL32(214, 150, 140, 255);  // the red line under a heading
inline constexpr ImU32 kEdge = IM_COL32(196, 184, 160, 255);    // edge of a card
inline constexpr ImU32 kPressed = IM_COL32(226, 214, 188, 255);
// Inks that tell fields and curves apart, dark enough for text; field n uses kFields[n % 8].
inline constexpr ImU32 kFields[8] = {IM_COL32(27, 84, 130, 255), IM_COL32(140, 60, 20, 255),
                                     IM_COL32(20, 105, 85, 255), IM_COL32(122, 40, 100, 255),
                                     IM_COL32(96, 86, 10, 255),  IM_COL32(74, 62, 148, 255),
                                     IM_COL32(44, 100, 24, 255), IM_COL32(150, 32, 56, 255)};
}  // namespace ink

// Sets all of ImGui's own widgets to ink on paper, sizes in units.
void put_on_paper(ImGuiStyle& style, float unit);

}  // namespace understudy
