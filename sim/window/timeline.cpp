// Words above, the strip of paper below them: pencil strokes for hands above its middle and for
// outputs below it, flags for marks, a red line where it stands.
#include "sim/window/timeline.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/window/area_parts.h"
#include "sim/window/places.h"

namespace understudy {
namespace {

constexpr std::array<double, 5> kSpeeds = {0.1, 0.5, 1, 2, 8};
constexpr std::string_view kRepeatFrom = "timeline.repeat.from";  // in this run alone

void order(AreaContext& context, const TimelineWish& wish) {
  context.wishes.push_back(wish);
}

void seek(AreaContext& context, Instant at) {
  order(context, {.order = TimelineOrder::kSeek, .at = at});
}

// The mark after `t`, or the one before it; null: none.
const TimelineMark* mark_beside(const Timeline& whole, Instant t, bool after) {
  const TimelineMark* found = nullptr;
  for (const TimelineMark& mark : whole.marks) {
    if (after && mark.at > t) return &mark;
    if (!after && mark.at < t) found = &mark;
  }
  return found;
}

void draw_playing(AreaContext& context, const TimelineView& line) {
  const auto seat = static_cast<std::uint16_t>(context.seat);
  const bool pressed = press(line.playing ? "Stop" : "Play");
  const bool by_key = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Space), false) &&
                      !ImGui::GetIO().WantTextInput && !ImGui::IsAnyItemActive() &&
                      !ImGui::GetIO().NavVisible && !context.face_has_keys;
  if (pressed || by_key)
    order(context, {.order = line.playing ? TimelineOrder::kPause : TimelineOrder::kPlay});
  ImGui::SameLine();
  if (press("Line before")) order(context, {.order = TimelineOrder::kLineBefore, .seat = seat});
  ImGui::SameLine();
  if (press("Next line")) order(context, {.order = TimelineOrder::kNextLine, .seat = seat});
}

void draw_marks_words(AreaContext& context, const TimelineView& line) {
  if (line.whole->marks.empty()) return;
  const TimelineMark* before = mark_beside(*line.whole, context.view.now, false);
  const TimelineMark* after = mark_beside(*line.whole, context.view.now, true);
  ImGui::SameLine(0, 18 * context.unit);
  if (press("Mark before") && before != nullptr) seek(context, before->at);
  ImGui::SameLine();
  if (press("Next mark") && after != nullptr) seek(context, after->at);
}

// Two presses: where the part begins, and where it ends; the third plays all again.
void draw_repeat(AreaContext& context, const TimelineView& line) {
  ImGui::SameLine(0, 18 * context.unit);
  const auto begun = context.remembered.find(kRepeatFrom);
  if (line.repeated) {
    if (press("Repeat no more")) order(context, {.order = TimelineOrder::kRepeat});
  } else if (begun == context.remembered.end()) {
    if (press("Repeat from here"))
      context.remembered.insert_or_assign(std::string(kRepeatFrom),
                                          std::to_string(context.view.now.ns));
  } else if (press("... to here")) {
    const Instant from{std::stoll(begun->second)};
    const Instant now = context.view.now;
    context.remembered.erase(begun);
    order(context,
          {.order = TimelineOrder::kRepeat, .at = earlier(from, now), .to = later(from, now)});
  }
}

void draw_speeds(AreaContext& context, const TimelineView& line) {
  ImGui::SameLine(0, 18 * context.unit);
  for (std::size_t i = 0; i < kSpeeds.size(); ++i) {
    if (i > 0) ImGui::SameLine();
    const std::string label = fmt::format("\xC3\x97{}##speed", kSpeeds[i]);
    if (choice(label.c_str(), line.speed == kSpeeds[i]))
      order(context, {.order = TimelineOrder::kSpeed, .speed = kSpeeds[i]});
  }
}

std::string held_text(const TimelineView& line) {
  std::string names;
  for (const std::string& name : line.taken_over) names += (names.empty() ? "" : ", ") + name;
  return names + (line.taken_over.size() == 1 ? " is yours" : " are yours") +
         "; the rest goes on as recorded";
}

// At the right: where it stands; below it, or instead where there is no room, what is to be known.
void draw_place(const AreaContext& context, const TimelineView& line, float right) {
  const std::string text =
      fmt::format("{} of {}", time_on_line(context.view.now), time_on_line(line.whole->length));
  ImGui::PushFont(context.type.typed);
  const float width = ImGui::CalcTextSize(text.c_str()).x;
  ImGui::SameLine(0, 0);
  const float from = std::max(ImGui::GetCursorPosX() + 8 * context.unit, right - width);
  ImGui::SetCursorPosX(from);
  if (from + width <= right + 1) ImGui::TextUnformatted(text.c_str());
  ImGui::PopFont();
  note_item("time", text);
}

// ---- the strip ------------------------------------------------------------------------------

struct Strip {
  Box box;
  Instant length;
  [[nodiscard]] float x_of(Instant t) const {
    return box.left + box.width() * static_cast<float>(static_cast<double>(t.ns) /
                                                       static_cast<double>(length.ns));
  }
  [[nodiscard]] Instant at(float x) const {
    const double share = std::clamp((x - box.left) / std::max(1.0F, box.width()), 0.0F, 1.0F);
    return Instant{static_cast<std::int64_t>(share * static_cast<double>(length.ns))};
  }
};

void draw_strokes(ImDrawList& list, const Strip& strip, const Timeline& whole) {
  const float middle = std::round((strip.box.top + strip.box.bottom) / 2);
  const float reach = strip.box.height() / 2 - 3;
  const auto height = [&](std::uint32_t count) {
    return count == 0
               ? 0.0F
               : reach * std::min(1.0F, 0.25F + 0.2F * std::log2(1.0F + static_cast<float>(count)));
  };
  const float width =
      strip.box.width() / static_cast<float>(std::max<std::size_t>(1, whole.bins.size()));
  for (std::size_t i = 0; i < whole.bins.size(); ++i) {
    const float left = strip.box.left + width * static_cast<float>(i);
    const float right = std::max(left + 1, left + width - 0.5F);
    const float up = height(whole.bins[i].hands);
    const float down = height(whole.bins[i].changes);
    if (up > 0) list.AddRectFilled({left, middle - up}, {right, middle}, ink::kFields[0]);
    if (down > 0)
      list.AddRectFilled({left, middle + 1}, {right, middle + 1 + down}, ink::kFields[1]);
  }
  list.AddLine({strip.box.left, middle}, {strip.box.right, middle}, ink::kEdge);
}

void draw_flags(AreaContext& context, ImDrawList& list, const Strip& strip) {
  const float unit = context.unit;
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  for (const TimelineMark& mark : context.view.timeline->whole->marks) {
    const float x = std::round(strip.x_of(mark.at));
    list.AddLine({x, strip.box.top}, {x, strip.box.bottom}, ink::kAmber, std::max(1.0F, unit));
    list.AddTriangleFilled({x, strip.box.top}, {x + 8 * unit, strip.box.top + 4 * unit},
                           {x, strip.box.top + 8 * unit}, ink::kAmber);
    const bool near =
        std::abs(mouse.x - x) < 6 * unit && mouse.y >= strip.box.top && mouse.y <= strip.box.bottom;
    if (near) ImGui::SetTooltip("%s: %s", time_on_line(mark.at).c_str(), mark.text.c_str());
  }
}

void draw_strip_paper(AreaContext& context, const Strip& strip) {
  const TimelineView& line = *context.view.timeline;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(strip.box.at(), {strip.box.right, strip.box.bottom},
                     IM_COL32(255, 252, 243, 255));
  if (line.repeated)
    list.AddRectFilled({strip.x_of(line.repeated->from), strip.box.top},
                       {strip.x_of(line.repeated->to), strip.box.bottom},
                       IM_COL32(214, 190, 130, 110));
  draw_strokes(list, strip, *line.whole);
  draw_flags(context, list, strip);
  list.AddRect(strip.box.at(), {strip.box.right, strip.box.bottom}, ink::kEdge);
  const float x = std::round(strip.x_of(context.view.now));
  list.AddRectFilled({x - context.unit, strip.box.top - 3 * context.unit},
                     {x + context.unit, strip.box.bottom + 3 * context.unit}, ink::kWrong);
}

// Dragged along, the place follows; a wheel goes by a second.
void take_strip_hand(AreaContext& context, const Strip& strip) {
  ImGui::SetCursorScreenPos(strip.box.at());
  ImGui::InvisibleButton("##time line", strip.box.size());
  note_item("places", "time line");
  const ImGuiIO& io = ImGui::GetIO();
  const bool moved = io.MouseDelta.x != 0 || ImGui::IsItemActivated();
  if (ImGui::IsItemActive() && moved) seek(context, strip.at(io.MousePos.x));
  if (ImGui::IsItemHovered() && io.MouseWheel != 0)
    seek(context, context.view.now + seconds(1) * static_cast<std::int64_t>(io.MouseWheel));
}

}  // namespace

std::string time_on_line(Instant t) {
  const std::int64_t ms = t.ns / 1'000'000;
  const std::int64_t minutes = ms / 60'000;
  const std::string rest = fmt::format("{:02}.{:03}", ms / 1'000 % 60, ms % 1'000);
  if (minutes < 60) return fmt::format("{}:{}", minutes, rest);
  return fmt::format("{}:{:02}:{}", minutes / 60, minutes % 60, rest);
}

void draw_timeline(AreaContext& context, const Box& box) {
  const float unit = context.unit;
  const TimelineView& line = *context.view.timeline;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(box.at(), {box.right, box.bottom}, IM_COL32(236, 227, 207, 255));
  list.AddRectFilled(box.at(), {box.right, box.top + 1}, ink::kEdge);
  const float side = 16 * unit;
  ImGui::SetCursorScreenPos({box.left + side, box.top + 8 * unit});
  draw_playing(context, line);
  draw_marks_words(context, line);
  draw_repeat(context, line);
  draw_speeds(context, line);
  draw_place(context, line, box.right - side - ImGui::GetWindowPos().x);
  const float text = ImGui::GetTextLineHeight();
  const Strip strip = {{box.left + side, box.top + 14 * unit + ImGui::GetFrameHeight(),
                        box.right - side, box.bottom - text - 10 * unit},
                       line.whole->length};
  take_strip_hand(context, strip);
  draw_strip_paper(context, strip);
  ImGui::SetCursorScreenPos({box.left + side, box.bottom - text - 5 * unit});
  const std::string note = !line.taken_over.empty()      ? held_text(line)
                           : !line.whole->remark.empty() ? line.whole->remark
                                                         : "hands above the line, outputs below it";
  fitting_text(as_sentence(note), box.width() - 2 * side,
               line.taken_over.empty() ? ink::kFaint : ink::kRight);
  note_item("foot", as_sentence(note));
}

}  // namespace understudy
