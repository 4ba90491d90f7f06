// ImGui's own widgets as ink on paper.
#include "sim/window/style.h"

namespace understudy {
namespace {

ImVec4 of(ImU32 colour) {
  return ImGui::ColorConvertU32ToFloat4(colour);
}

void set_colours(ImGuiStyle& style) {
  const ImVec4 none(0, 0, 0, 0);
  const ImVec4 card = of(ink::kCard);
  const ImVec4 edge = of(ink::kEdge);
  const ImVec4 pressed = of(ink::kPressed);
  const ImVec4 label = of(IM_COL32(247, 240, 224, 255));
  const ImVec4 label_under_hand = of(IM_COL32(238, 228, 205, 255));
  ImVec4* colour = style.Colors;
  for (int i = 0; i < ImGuiCol_COUNT; ++i) colour[i] = none;
  colour[ImGuiCol_Text] = of(ink::kText);
  colour[ImGuiCol_TextDisabled] = of(ink::kFaint);
  colour[ImGuiCol_PopupBg] = card;
  colour[ImGuiCol_Border] = edge;
  colour[ImGuiCol_FrameBg] = of(IM_COL32(255, 253, 246, 255));
  colour[ImGuiCol_FrameBgHovered] = of(IM_COL32(255, 250, 234, 255));
  colour[ImGuiCol_FrameBgActive] = of(IM_COL32(252, 243, 220, 255));
  colour[ImGuiCol_ScrollbarGrab] = edge;
  colour[ImGuiCol_ScrollbarGrabHovered] = of(IM_COL32(166, 152, 124, 255));
  colour[ImGuiCol_ScrollbarGrabActive] = of(ink::kFaint);
  colour[ImGuiCol_CheckMark] = of(ink::kFields[0]);
  colour[ImGuiCol_SliderGrab] = of(ink::kFaint);
  colour[ImGuiCol_SliderGrabActive] = of(ink::kText);
  colour[ImGuiCol_Button] = label;
  colour[ImGuiCol_ButtonHovered] = label_under_hand;
  colour[ImGuiCol_ButtonActive] = pressed;
  colour[ImGuiCol_Header] = label_under_hand;
  colour[ImGuiCol_HeaderHovered] = of(IM_COL32(242, 233, 212, 255));
  colour[ImGuiCol_HeaderActive] = pressed;
  colour[ImGuiCol_Separator] = of(ink::kRule);
  colour[ImGuiCol_SeparatorHovered] = of(ink::kFaint);
  colour[ImGuiCol_SeparatorActive] = of(ink::kText);
  colour[ImGuiCol_TableBorderStrong] = edge;
  colour[ImGuiCol_TableBorderLight] = of(ink::kRule);
  colour[ImGuiCol_TextSelectedBg] = of(IM_COL32(190, 210, 226, 255));
  colour[ImGuiCol_DragDropTarget] = of(ink::kFields[0]);
  colour[ImGuiCol_NavHighlight] = of(ink::kFields[0]);
  colour[ImGuiCol_NavWindowingHighlight] = of(ink::kFields[0]);
  colour[ImGuiCol_ModalWindowDimBg] = of(IM_COL32(80, 68, 48, 90));
}

}  // namespace

void put_on_paper(ImGuiStyle& style, float unit) {
  style = ImGuiStyle();
  set_colours(style);
  style.WindowPadding = ImVec2(12, 10);
  style.WindowRounding = 3;
  style.WindowBorderSize = 0;
  style.PopupRounding = 3;
  style.PopupBorderSize = 1;
  style.ChildRounding = 0;
  style.ChildBorderSize = 0;
  style.FramePadding = ImVec2(9, 4);
  style.FrameRounding = 3;
  style.FrameBorderSize = 1;
  style.ItemSpacing = ImVec2(8, 6);
  style.ItemInnerSpacing = ImVec2(7, 4);
  style.CellPadding = ImVec2(6, 3);
  style.IndentSpacing = 18;
  style.ScrollbarSize = 11;
  style.ScrollbarRounding = 5;
  style.GrabMinSize = 14;
  style.GrabRounding = 3;
  style.CircleTessellationMaxError = 0.2F;
  style.CurveTessellationTol = 0.6F;
  style.ScaleAllSizes(unit);
}

}  // namespace understudy
