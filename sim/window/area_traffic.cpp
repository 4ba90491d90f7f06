// The area of traffic: lines both ways as they pass, typed, their fields in inks, and what is wrong
// with a line beneath it in red.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "sim/base/text.h"
#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"
#include "sim/window/preferences.h"

namespace understudy {
namespace {

constexpr std::string_view kToGame = "area.traffic.to_game";
constexpr std::string_view kToPanel = "area.traffic.to_panel";
constexpr std::string_view kMalformed = "area.traffic.malformed";
constexpr std::string_view kContains = "area.traffic.contains";

void draw_choice(AreaContext& context, const char* label, std::string_view name, bool usual) {
  const bool chosen = remembered_flag(context.remembered, name, usual);
  if (choice(label, chosen)) remember_flag(context.remembered, name, !chosen);
}

std::string all_shown(const LineLog& log) {
  std::string text;
  for (std::size_t i = 0; i < log.shown(); ++i) text += copied(log.line(i)) + "\n";
  return text;
}

void draw_filter_text(AreaContext& context) {
  std::array<char, 64> letters = {};
  const std::string kept = remembered_text(context.remembered, kContains, "");
  kept.copy(letters.data(), letters.size() - 1);
  next_in_row(120 * context.unit);
  // The two labels after it fit in the same row, even in a narrow card.
  const float after =
      label_width("Pause") + label_width("Copy") + 2 * ImGui::GetStyle().ItemSpacing.x;
  const float room = ImGui::GetContentRegionAvail().x - after;
  ImGui::SetNextItemWidth(std::clamp(room, 60 * context.unit, 160 * context.unit));
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                      {ImGui::GetStyle().FramePadding.x, ImGui::GetStyle().FramePadding.y * 0.5F});
  if (ImGui::InputTextWithHint("##contains", "contains", letters.data(), letters.size()))
    remember_text(context.remembered, kContains, letters.data());
  ImGui::PopStyleVar();
}

void draw_controls(AreaContext& context, LineLog& log) {
  draw_choice(context, "to the game##traffic", kToGame, true);
  next_in_row(label_width("to the panel"));
  draw_choice(context, "to the panel##traffic", kToPanel, true);
  next_in_row(label_width("malformed only"));
  draw_choice(context, "malformed only##traffic", kMalformed, false);
  draw_filter_text(context);
  next_in_row(label_width("Pause"));
  if (press(log.pausing() ? "Go on##traffic" : "Pause##traffic")) log.pause(!log.pausing());
  next_in_row(label_width("Copy"));
  if (press("Copy##traffic")) ImGui::SetClipboardText(all_shown(log).c_str());
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("Copies all lines that are shown.");
  log.set_filter({.to_game = remembered_flag(context.remembered, kToGame, true),
                  .to_panel = remembered_flag(context.remembered, kToPanel, true),
                  .malformed_only = remembered_flag(context.remembered, kMalformed, false),
                  .contains = remembered_text(context.remembered, kContains, "")});
}

// An arrow of ink: right to the game, left to the panel.
void draw_arrow(ImVec2 at, float size, bool right, ImU32 colour) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float way = right ? 1.0F : -1.0F;
  const ImVec2 tip(at.x + way * size, at.y);
  const float back = tip.x - way * size * 0.9F;
  list.AddLine({at.x - way * size, at.y}, {back, at.y}, colour, std::max(1.0F, size * 0.22F));
  list.AddTriangleFilled(tip, {back, at.y - size * 0.5F}, {back, at.y + size * 0.5F}, colour);
}

struct LinePen {
  ImVec2 at;
  float right = 0;  // no ink beyond

  void write(const std::string& text, ImU32 colour) {
    if (at.x >= right) return;
    ImGui::GetWindowDrawList()->AddText(at, colour, text.c_str());
    at.x += ImGui::CalcTextSize(text.c_str()).x;
  }
};

ImU32 ink_of(const protocol::LinePlace& place) {
  return place.field == protocol::kNoField
             ? ink::kFaint
             : ink::kFields[static_cast<std::size_t>(place.field) % 8];
}

void write_fields(LinePen& pen, const LoggedLine& line, const LineTrouble* trouble) {
  const ImU32 between = trouble != nullptr             ? ink::kWrong
                        : line.sort == LineSort::kSaid ? ink::kFaint
                                                       : ink::kText;
  std::size_t at = 0;
  for (const protocol::LinePlace& place : places_of(line)) {
    pen.write(printable(line.text.substr(at, place.first_byte - at)), between);
    pen.write(printable(line.text.substr(place.first_byte, place.bytes)), ink_of(place));
    at = place.first_byte + place.bytes;
  }
  if (trouble == nullptr) return pen.write(printable(line.text.substr(at)), between);
  const std::size_t from = std::max<std::size_t>(at, trouble->first_byte);
  pen.write(printable(line.text.substr(at, from - at)), between);
  const float begin = pen.at.x;
  pen.write(printable(line.text.substr(from, trouble->bytes)), ink::kWrong);
  const float y = pen.at.y + ImGui::GetFontSize();
  ImGui::GetWindowDrawList()->AddLine({begin, y}, {std::max(pen.at.x, begin + 4), y}, ink::kWrong);
  pen.write(printable(line.text.substr(std::min(line.text.size(), from + trouble->bytes))),
            ink::kWrong);
}

struct Columns {
  float arrow = 0;
  float words = 0;  // 0: there is no room for them
  float text = 0;
};

Columns columns_of(const AreaContext& context) {
  const float unit = context.unit;
  Columns columns = {.arrow = ImGui::CalcTextSize("00:00.000").x + 13 * unit};
  columns.text = columns.arrow + 15 * unit;
  if (ImGui::GetWindowContentRegionMax().x < 440 * unit) return columns;
  ImFont* font = context.type.small;
  columns.words = columns.text - 3 * unit;
  columns.text =
      columns.words + font->CalcTextSizeA(font->FontSize, 1'000, 0, "to the panel").x + 12 * unit;
  return columns;
}

// Time, arrow and where there is room the words; the pen then stands where the line's text begins.
LinePen begin_row(const AreaContext& context, Instant t, bool to_game) {
  const float unit = context.unit;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const Columns columns = columns_of(context);
  LinePen pen = {at, at.x + ImGui::GetContentRegionAvail().x};
  pen.write(time_of_line(t), ink::kFaint);
  const ImU32 colour = to_game ? ink::kText : ink::kRight;
  draw_arrow({at.x + columns.arrow, at.y + ImGui::GetFontSize() * 0.5F}, 6 * unit, to_game, colour);
  if (columns.words > 0) {
    ImFont* font = context.type.small;
    const float down = std::floor((ImGui::GetFontSize() - font->FontSize) / 2);
    ImGui::GetWindowDrawList()->AddText(font, font->FontSize, {at.x + columns.words, at.y + down},
                                        colour, to_game ? "to the game" : "to the panel");
  }
  pen.at.x = at.x + columns.text + (to_game ? 0 : 14 * unit);
  return pen;
}

void draw_line(const AreaContext& context, const LoggedLine& line, std::size_t i) {
  const float height = ImGui::GetTextLineHeight();
  LinePen pen = begin_row(context, line.at, line.to_game);
  ImGui::PushID(static_cast<int>(i));
  const std::optional<LineTrouble> trouble = trouble_of(line);
  if (ImGui::Selectable("##line", false, 0, {ImGui::GetContentRegionAvail().x, height}))
    ImGui::SetClipboardText(line.text.c_str());
  const bool under = ImGui::IsItemHovered();
  ImGui::PopID();
  write_fields(pen, line, trouble ? &*trouble : nullptr);
  if (!under) return;
  const std::string rest = trouble ? "\n" + trouble->sentence : "";
  ImGui::SetTooltip("To the %s, %s%s\nA click copies the line.", line.to_game ? "game" : "panel",
                    time_of_line(line.at).c_str(), rest.c_str());
}

void draw_trouble(const AreaContext& context, const LoggedLine& line) {
  const std::optional<LineTrouble> trouble = trouble_of(line);
  const float indent = 14 * context.unit;  // sentences are long, and want the width
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + indent);
  if (!trouble) return ImGui::NewLine();
  ImGui::PushFont(context.type.small);
  const float spare = context.type.typed->FontSize - ImGui::GetFontSize();
  fitting_text(trouble->sentence, ImGui::GetContentRegionAvail().x, ink::kWrong);
  ImGui::PopFont();
  if (spare > 0) ImGui::SetCursorPosY(ImGui::GetCursorPosY() + spare);
}

void draw_unfinished(const AreaContext& context, const LineLog& log, bool to_game) {
  const Instant since = log.unfinished_since(to_game);
  if (log.pausing() || since.ns < 0 || context.view.now - since < milliseconds(250)) return;
  LinePen pen = begin_row(context, since, to_game);
  ImGui::Dummy({1, ImGui::GetTextLineHeight()});
  pen.write(printable(log.unfinished(to_game)), ink::kText);
  pen.write(fmt::format("  unfinished for {:.1f} s",
                        static_cast<double>((context.view.now - since).ns) / 1e9),
            ink::kAmber);
}

void draw_lines(const AreaContext& context, const LineLog& log) {
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(log.rows()), ImGui::GetTextLineHeightWithSpacing());
  while (clipper.Step()) {
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
      const LineLog::Row row = log.row(static_cast<std::size_t>(i));
      if (row.beneath)
        draw_trouble(context, row.line);
      else
        draw_line(context, row.line, static_cast<std::size_t>(i));
    }
  }
}

const char* why_empty(const AreaContext& context, const LineLog& log) {
  if (log.put_down() > 0) return "No line passes this filter.";
  return context.view.seats[context.seat].device.is_open()
             ? "No line has passed yet."
             : "Lines appear here when a game is connected.";
}

}  // namespace

void draw_traffic(AreaContext& context) {
  LineLog& log = context.history.seat(context.seat).lines;
  draw_controls(context, log);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 2 * context.unit});
  ImGui::BeginChild("##lines", {0, 0}, false);
  ImGui::PopStyleVar();
  ImGui::PushFont(context.type.typed);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, 2 * context.unit});
  const bool at_end = ImGui::GetScrollY() >= ImGui::GetScrollMaxY() - 1;
  if (log.shown() == 0) {
    ImGui::PushFont(context.type.text);
    wrapped_text(why_empty(context, log), ink::kFaint);
    ImGui::PopFont();
  } else {
    draw_lines(context, log);
  }
  draw_unfinished(context, log, true);
  draw_unfinished(context, log, false);
  if (at_end && !log.pausing()) ImGui::SetScrollHereY(1.0F);
  ImGui::PopStyleVar();
  ImGui::PopFont();
  ImGui::EndChild();
}

}  // namespace understudy
