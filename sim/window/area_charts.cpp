// The area of charts: chosen numbers as ink on strip paper, each in a strip of its own, newest at
// the right edge. Drawn from the least and greatest of each column, whatever passed in it.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"
#include "sim/window/chart_columns.h"

namespace understudy {
namespace {

constexpr std::string_view kChosen = "area.charts.chosen.";
constexpr std::string_view kSpan = "area.charts.span";
constexpr ImU32 kStripPaper = IM_COL32(255, 252, 243, 255);
constexpr ImU32 kFineGrid = IM_COL32(222, 230, 222, 255);
constexpr ImU32 kGrid = IM_COL32(196, 212, 200, 255);

struct Span {
  const char* label;
  std::int64_t seconds;
  std::int64_t grid_seconds;
};
constexpr std::array<Span, 5> kSpans = {
    {{"10 s", 10, 1}, {"30 s", 30, 5}, {"1 min", 60, 10}, {"3 min", 180, 30}, {"10 min", 600, 60}}};

const Span& chosen_span(const Remembered& remembered) {
  const std::string kept = remembered_text(remembered, kSpan, "30 s");
  for (const Span& span : kSpans)
    if (kept == span.label) return span;
  return kSpans[1];
}

std::string key_of(const AreaContext& context, const FieldCourse& course) {
  const std::string& panel = context.view.seats[context.seat].device.panel().description.name;
  return fmt::format("{}{}.{}{}", kChosen, panel.substr(0, 40), course.place.to_game ? "" : ">",
                     course.name);
}

// Before anybody chose, the first control and the first output are shown.
bool is_chosen(const AreaContext& context, const SeatHistory& seat, std::size_t i) {
  const auto found = context.remembered.find(key_of(context, seat.courses[i]));
  if (found != context.remembered.end()) return found->second == "1";
  return i < 2 || i == seat.panel->to_game_fields.size();
}

ImU32 ink_of(std::size_t i) {
  return ink::kFields[i % 8];
}

std::string label_of(const FieldCourse& course) {
  return course.name + (course.place.to_game ? "##control" : "##output");
}

// ---- what is chosen -------------------------------------------------------------------------

void draw_choices(AreaContext& context, const SeatHistory& seat) {
  for (std::size_t i = 0; i < seat.courses.size(); ++i) {
    const FieldCourse& course = seat.courses[i];
    const bool chosen = is_chosen(context, seat, i);
    const std::string label = label_of(course);
    if (ImGui::Selectable(label.c_str(), chosen, ImGuiSelectableFlags_DontClosePopups))
      remember_text(context.remembered, key_of(context, course), chosen ? "0" : "1");
    if (i + 1 == seat.panel->to_game_fields.size() && i + 1 < seat.courses.size())
      ImGui::Separator();
  }
}

// Whether the names of all courses fit into two rows of labels.
bool all_fit(const AreaContext& context, const SeatHistory& seat) {
  const float whole = ImGui::GetContentRegionAvail().x;
  float x = 0;
  int rows = 1;
  for (const FieldCourse& course : seat.courses) {
    const float width = label_width(fitted(course.name, 110 * context.unit));
    if (x > 0 && x + width > whole) {
      x = 0;
      ++rows;
    }
    x += width + ImGui::GetStyle().ItemSpacing.x;
  }
  return rows <= 2;
}

// The names: chosen ones in their ink. Where there are many, the others are in a list.
void draw_chips(AreaContext& context, const SeatHistory& seat) {
  const bool all = all_fit(context, seat);
  bool first = true;
  for (std::size_t i = 0; i < seat.courses.size(); ++i) {
    const bool chosen = is_chosen(context, seat, i);
    if (!all && !chosen) continue;
    const std::string label =
        fitted(seat.courses[i].name, 110 * context.unit) + "##" + label_of(seat.courses[i]);
    if (!first) next_in_row(label_width(label));
    first = false;
    if (choice(label.c_str(), chosen, ink_of(i)))
      remember_text(context.remembered, key_of(context, seat.courses[i]), chosen ? "0" : "1");
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", seat.courses[i].name.c_str());
  }
  if (all) return;
  if (!first) next_in_row(label_width("Choose..."));
  if (press("Choose...##charts")) ImGui::OpenPopup("##more");
  ImGui::SetNextWindowSizeConstraints({0, 0}, {320 * context.unit, 360 * context.unit});
  if (ImGui::BeginPopup("##more")) {
    draw_choices(context, seat);
    ImGui::EndPopup();
  }
}

void draw_spans(AreaContext& context) {
  const Span& chosen = chosen_span(context.remembered);
  for (std::size_t i = 0; i < kSpans.size(); ++i) {
    if (i > 0) next_in_row(label_width(kSpans[i].label));
    if (choice(kSpans[i].label, &kSpans[i] == &chosen))
      remember_text(context.remembered, kSpan, kSpans[i].label);
  }
}

// ---- one strip ------------------------------------------------------------------------------

struct Strip {
  ImVec2 least;
  ImVec2 most;
  float unit = 1;
  Instant now;
  const Span& span;
  [[nodiscard]] float x_of(double t_ns) const {
    const double share =
        1 - (static_cast<double>(now.ns) - t_ns) / (static_cast<double>(span.seconds) * 1e9);
    return least.x + static_cast<float>(share) * (most.x - least.x);
  }
};

void draw_paper(const Strip& strip, bool levels) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(strip.least, strip.most, kStripPaper);
  const float thin = std::max(1.0F, std::floor(strip.unit));
  const std::int64_t grid = strip.span.grid_seconds;
  const std::int64_t last = strip.now.ns / 1'000'000'000 / grid * grid;
  for (std::int64_t s = last; s >= 0 && last - s <= strip.span.seconds; s -= grid) {
    const float x = std::round(strip.x_of(static_cast<double>(s) * 1e9));
    if (x <= strip.least.x || x >= strip.most.x - thin) continue;
    list.AddRectFilled({x, strip.least.y}, {x + thin, strip.most.y},
                       s % (grid * 5) == 0 ? kGrid : kFineGrid);
  }
  for (int i = 1; i < 4 && !levels; ++i) {
    const float y =
        std::round(strip.least.y + (strip.most.y - strip.least.y) * static_cast<float>(i) / 4);
    list.AddRectFilled({strip.least.x, y}, {strip.most.x, y + thin}, i == 2 ? kGrid : kFineGrid);
  }
  list.AddRect(strip.least, strip.most, ink::kEdge, 0, 0, thin);
}

struct Scale {
  double low = 0;
  double high = 1;
  float top = 0;
  float bottom = 0;
  [[nodiscard]] float y_of(double number) const {
    const double share = high == low ? 0.5 : std::clamp((number - low) / (high - low), 0.0, 1.0);
    return bottom - static_cast<float>(share) * (bottom - top);
  }
};

// One stroke from column to column: down and up within each as far as its values reach.
void draw_curve(const Strip& strip, const Course& course, const Scale& scale, ImU32 colour) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float width = std::max(1.0F, 1.3F * strip.unit);
  ChartColumns columns(course, strip.now, seconds(strip.span.seconds),
                       static_cast<int>(strip.most.x - strip.least.x));
  list.PushClipRect(strip.least, strip.most, true);
  ChartColumn column;
  float end = 0;
  bool down = false;  // the pen is
  while (columns.next(column)) {
    if (!column.known) {
      if (down) list.PathStroke(colour, 0, width);
      down = false;
      continue;
    }
    const float x = strip.x_of(column.middle_ns);
    const float high = scale.y_of(column.most);
    const float low = scale.y_of(column.least);
    if (!down) {
      list.PathLineTo({strip.x_of(column.begin_ns), low});
      end = low;
      down = true;
    }
    // Nearest end first, so that the pen never crosses back.
    const bool from_low = std::abs(end - low) <= std::abs(end - high);
    list.PathLineTo({x, from_low ? low : high});
    if (high != low) list.PathLineTo({x, from_low ? high : low});
    end = from_low ? high : low;
  }
  if (down) {
    list.PathLineTo({strip.most.x, end});
    list.PathStroke(colour, 0, width);
  }
  list.PopClipRect();
}

std::string ago_text(double seconds_ago) {
  return seconds_ago < 60 ? fmt::format("{:.2f} s ago", seconds_ago)
                          : fmt::format("{:.0f} min {:.0f} s ago", std::floor(seconds_ago / 60),
                                        std::fmod(seconds_ago, 60));
}

// What was there under the pointer, in counts, volts and percent.
void draw_pointer(const Strip& strip, const SeatHistory& seat, const FieldCourse& course) {
  if (!ImGui::IsItemHovered()) return;
  const float x = ImGui::GetIO().MousePos.x;
  ImGui::GetWindowDrawList()->AddLine({x, strip.least.y}, {x, strip.most.y}, ink::kFaint);
  const double share = (strip.most.x - x) / (strip.most.x - strip.least.x);
  const double ago = std::clamp<double>(share, 0, 1) * static_cast<double>(strip.span.seconds);
  const std::int64_t column =
      column_buckets(seconds(strip.span.seconds), static_cast<int>(strip.most.x - strip.least.x));
  const std::int64_t bucket =
      Course::bucket_of(strip.now - nanoseconds(static_cast<std::int64_t>(ago * 1e9)));
  const auto found = course.course.over(bucket / column * column, column, strip.now);
  if (!found)
    return ImGui::SetTooltip("%s: not known, %s", course.name.c_str(), ago_text(ago).c_str());
  std::string words = value_words(*seat.panel, course.place, found->most).together();
  if (found->least != found->most)
    words = value_words(*seat.panel, course.place, found->least).together() + "\nto " + words;
  ImGui::SetTooltip("%s\n%s\n%s", course.name.c_str(), words.c_str(), ago_text(ago).c_str());
}

void draw_legend(const AreaContext& context, const Strip& strip, const SeatHistory& seat,
                 const FieldCourse& course, ImU32 colour) {
  ImGui::PushFont(context.type.small);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float pad = 5 * strip.unit;
  const float width = strip.most.x - strip.least.x;
  const auto newest = static_cast<double>(course.course.newest());
  const ValueWords words = value_words(*seat.panel, course.place, newest);
  const std::string value = width > 260 * strip.unit ? words.together() : words.counts;
  const float value_width = ImGui::CalcTextSize(value.c_str()).x;
  const std::string name = fitted(course.name, width - value_width - 4 * pad);
  const float y = strip.least.y + 1.5F * strip.unit;
  const float height = ImGui::GetFontSize();
  const auto write = [&](float x, const std::string& text) {
    const float reach = ImGui::CalcTextSize(text.c_str()).x;
    list.AddRectFilled({x - 2 * strip.unit, y}, {x + reach + 2 * strip.unit, y + height},
                       (kStripPaper & 0x00FFFFFF) | 0xC8000000);
    list.AddText({std::round(x), std::round(y)}, colour, text.c_str());
  };
  write(strip.least.x + pad, name);
  write(strip.most.x - pad - value_width, value);
  ImGui::PopFont();
}

void draw_strip(const AreaContext& context, const SeatHistory& seat, std::size_t i, float height) {
  const FieldCourse& course = seat.courses[i];
  const float unit = context.unit;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = std::max(40 * unit, ImGui::GetContentRegionAvail().x);
  ImGui::PushID(static_cast<int>(i));
  ImGui::InvisibleButton("##strip", {width, height});
  ImGui::PopID();
  const Strip strip = {.least = at,
                       .most = {at.x + width, at.y + height},
                       .unit = unit,
                       .now = context.view.now,
                       .span = chosen_span(context.remembered)};
  const bool levels = has_two_levels(*seat.panel, course.place);
  const protocol::Field& field = field_at(*seat.panel, course.place);
  draw_paper(strip, levels);
  const float legend = context.type.small->FontSize + 2 * unit;
  const Scale scale = {
      .low = static_cast<double>(field.min),
      .high = static_cast<double>(field.max),
      .top = strip.least.y + (levels ? legend : std::min(legend, height / 4)) + unit,
      .bottom = strip.most.y - 4 * unit};
  draw_curve(strip, course.course, scale, ink_of(i));
  draw_legend(context, strip, seat, course, ink_of(i));
  draw_pointer(strip, seat, course);
}

void draw_times(const AreaContext& context, float width) {
  const Span& span = chosen_span(context.remembered);
  ImGui::PushFont(context.type.small);
  const std::string left = fmt::format("{} ago", span.label);
  ImGui::TextDisabled("%s", left.c_str());
  ImGui::SameLine(width - ImGui::CalcTextSize("now").x + ImGui::GetWindowContentRegionMin().x);
  ImGui::TextDisabled("now");
  ImGui::PopFont();
}

}  // namespace

void draw_charts(AreaContext& context) {
  const SeatHistory& seat = context.history.seat(context.seat);
  const float unit = context.unit;
  draw_chips(context, seat);
  draw_spans(context);
  std::vector<std::size_t> chosen;
  std::size_t levels = 0;
  for (std::size_t i = 0; i < seat.courses.size(); ++i) {
    if (!is_chosen(context, seat, i)) continue;
    chosen.push_back(i);
    levels += has_two_levels(*seat.panel, seat.courses[i].place) ? 1 : 0;
  }
  if (chosen.empty()) return wrapped_text("Choose what is drawn by its name.", ink::kFaint);
  const float gap = 4 * unit;
  const float low = context.type.small->FontSize + 20 * unit;
  const float room = ImGui::GetContentRegionAvail().y - context.type.small->FontSize - 6 * unit;
  const auto curves = static_cast<float>(chosen.size() - levels);
  const float spare = room - (low + gap) * static_cast<float>(levels) - gap * curves;
  const float high = std::max(52 * unit, curves > 0 ? std::floor(spare / curves) : 0);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, gap});
  const float width = ImGui::GetContentRegionAvail().x;
  for (const std::size_t i : chosen)
    draw_strip(context, seat, i, has_two_levels(*seat.panel, seat.courses[i].place) ? low : high);
  draw_times(context, width);
  ImGui::PopStyleVar();
}

}  // namespace understudy
