// The editor on the face: grid, dragging, keys, and the questions before edits are lost.
#include "sim/window/editor.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/panel/edit_lines.h"
#include "sim/panel/edit_parts.h"
#include "sim/panel/parse.h"
#include "sim/window/editor_state.h"
#include "sim/window/mistake_places.h"
#include "sim/window/places.h"
#include "sim/window/save_file.h"

namespace understudy {
namespace {

constexpr double kReloadSeconds = 2;  // a file that was saved is played by then

// The text with the edit was never written, so that lines of it say nothing to anybody.
std::string without_places(const std::string& mistakes, const std::string& path) {
  std::string told;
  for (const PlacedMistake& mistake : placed_mistakes(mistakes, path, "")) {
    if (!told.empty()) told += '\n';
    told += mistake.key.empty() ? mistake.message : mistake.key + ": " + mistake.message;
    if (!mistake.remedy.empty()) told += "; " + mistake.remedy;
  }
  return told.empty() ? mistakes : told;
}

}  // namespace

Editor::Editor() : state_(std::make_unique<State>()) {}
Editor::~Editor() = default;

bool Editor::State::apply(const Result<std::string>& edited, const std::string& name,
                          const std::string& field, bool goes_on) {
  const Result<Done> done = session->apply(edited, name, goes_on);
  told = done.ok() ? "" : without_places(done.error().text, session->path());
  told_at = done.ok() ? "" : field;
  if (done.ok()) typed.clear();
  return done.ok();
}

void Editor::State::save(bool over_changes) {
  const Result<SaveAnswer> saved = session->save(over_changes);
  told = saved.ok() ? "" : saved.error().text;
  told_at.clear();
  saved_over = live;
  saved_at = ImGui::GetTime();
  if (saved.ok() && saved.value() == SaveAnswer::kSaved && asking) leave();
}

void Editor::State::step(bool back) {
  back ? session->undo() : session->redo();
  dragging = false;
  dragged_to.reset();
  typed.clear();
  told.clear();
  selected.reset();
}

// What was asked for is done: the edits are saved or given up.
void Editor::State::leave() {
  asking = false;
  if (std::exchange(closing, false)) {
    agreed = true;
  } else if (then) {
    std::exchange(then, {})();
    session.reset();
  } else {
    session.reset();
  }
}

FacePoint Editor::State::snapped(float x_mm, float y_mm) const {
  const PanelDescription& panel = session->preview()->description;
  const auto snap = [this](float mm, std::int64_t most_um) {
    const auto steps = static_cast<std::int64_t>(std::lround(mm / static_cast<float>(grid_mm)));
    return std::clamp<std::int64_t>(steps * grid_mm * 1'000, 0, most_um);
  };
  return {snap(x_mm, panel.width_um), snap(y_mm, panel.height_um)};
}

void Editor::State::move_selected(const FacePoint& to, bool goes_on) {
  const TableRef table = table_of(*selected);
  apply(move_part(session->text(), table, to), "move " + name_in(session->text(), table),
        table.table + ".at_mm", goes_on);
}

std::shared_ptr<const Panel> Editor::State::drawn() {
  if (!dragged_to || !selected) return session->preview();
  if (dragged && dragged_at.x_um == dragged_to->x_um && dragged_at.y_um == dragged_to->y_um)
    return dragged;
  dragged_at = *dragged_to;
  const Place place = {.placed = true, .x_um = dragged_at.x_um, .y_um = dragged_at.y_um};
  auto panel = std::make_shared<Panel>(*session->preview());
  PanelDescription& described = panel->description;
  if (selected->output)
    described.outputs[selected->index].place = place;
  else
    described.controls[selected->index].place = place;
  dragged = std::move(panel);
  return dragged;
}

void Editor::State::read_anew() {
  if (read_of == session->text()) return;
  read_of = session->text();
  raw.clear();
  lines.clear();
  const Result<Node> root = parse_tree(read_of, "file");
  const Node* list = root.ok() ? root.value().find("line") : nullptr;
  if (list == nullptr) return;
  std::size_t counts[2] = {0, 0};
  for (std::size_t i = 0; i < list->items.size(); ++i) {
    const Node* to = list->items[i].find("to");
    EditedLine row = {.to_game = to == nullptr || to->text != "panel",
                      .raw = raw_value(read_of, {"line", i}, "text")};
    row.fields = template_fields(row.raw);
    row.nth = counts[row.to_game ? 0 : 1]++;
    lines.push_back(std::move(row));
  }
}

const std::string& Editor::State::raw_at(const TableRef& table, std::string_view key) {
  read_anew();
  const auto [found, fresh] =
      raw.try_emplace(fmt::format("{} {} {}", table.table, table.index, key));
  if (fresh) found->second = raw_value(read_of, table, key);
  return found->second;
}

const std::vector<EditedLine>& Editor::State::line_rows() {
  read_anew();
  return lines;
}

void Editor::State::remove_selected() {
  const TableRef table = table_of(*selected);
  const std::string name = name_in(session->text(), table);
  if (apply(remove_part(session->text(), table), "remove " + name)) selected.reset();
}

bool Editor::takes_arrows() const {
  return state_->session && state_->face_has_keys && state_->selected;
}

void Editor::begin_frame(const SessionView& view, std::size_t seat, PanelFiles& files) {
  State& state = *state_;
  if (seat >= view.seats.size()) return;
  if (!state.session) {
    state.seat = seat;
    return;
  }
  if (state.seat >= view.seats.size()) return;
  const FileReport& report = files.report(state.seat);
  if (report.path != state.session->path() || report.readings == state.readings) return;
  state.readings = report.readings;
  if (!report.text.empty()) state.session->file_has(report.text);
}

bool Editor::on() const {
  return state_->session != nullptr;
}

void Editor::end() {
  State& state = *state_;
  state.told.clear();
  state.asking = unsaved();
  if (!state.asking) state.session.reset();
}

void Editor::begin(const FileReport& report) {
  State& state = *state_;
  State fresh;
  fresh.seat = state.seat;
  fresh.grid_mm = state.grid_mm;
  fresh.readings = report.readings;
  state = std::move(fresh);
  // Not what is played: that may be the text with all defaults written out.
  const Result<std::string> file = read_whole(report.path);
  state.session =
      std::make_unique<EditSession>(report.path, file.ok() ? file.value() : report.text);
  if (!file.ok()) state.told = file.error().text;
}

bool Editor::unsaved() const {
  return state_->session && state_->session->unsaved();
}

namespace {

// The panel in the place of the one that is played: hands are where they are, and lamps as they
// glow where that goes on. The session itself takes a reload so.
SeatView seat_with(const SeatView& live, const std::shared_ptr<const Panel>& panel) {
  SeatView seat = live;
  const Instant at{live.device.now().ns + 1};
  const Input reload[] = {{.at = at, .what = PanelReloaded{panel}}};
  StepOutputs told;
  seat.device.step(at, reload, told);
  seat.observer = Observer(panel);
  seat.panel = panel;
  return seat;
}

}  // namespace

const SeatView& Editor::shown(const SeatView& live) {
  State& state = *state_;
  if (!state.session || !state.session->preview()) return live;
  // What was saved is shown until the session plays it.
  const bool on_its_way = state.saved_over == &live.device.panel() &&
                          ImGui::GetTime() < state.saved_at + kReloadSeconds;
  state.live = &live.device.panel();
  const std::shared_ptr<const Panel> panel = state.drawn();
  if (!unsaved() && !on_its_way && panel == state.session->preview()) return live;
  if (!state.preview || state.preview_of != panel || state.preview_at != live.device.now()) {
    state.preview.emplace(seat_with(live, panel));
    state.preview_of = panel;
    state.preview_at = live.device.now();
  }
  return *state.preview;
}

namespace {

// Fine lines every millimetre where there is room for them, stronger ones every ten.
void draw_grid(ImDrawList& list, const FaceFrame& frame, int grid_mm) {
  const float step = frame.pixels_per_mm * static_cast<float>(grid_mm);
  const int every = grid_mm * (step < 4 ? 5 : 1);
  const auto line = [&](int mm, bool upright) {
    const ImU32 colour = mm % 10 == 0 ? IM_COL32(250, 244, 220, 60) : IM_COL32(250, 244, 220, 22);
    const float at = (upright ? frame.box.left : frame.box.top) +
                     std::round(static_cast<float>(mm) * frame.pixels_per_mm);
    if (upright)
      list.AddRectFilled({at, frame.box.top}, {at + 1, frame.box.bottom}, colour);
    else
      list.AddRectFilled({frame.box.left, at}, {frame.box.right, at + 1}, colour);
  };
  for (int mm = every; static_cast<float>(mm) * frame.pixels_per_mm < frame.box.width();
       mm += every)
    line(mm, true);
  for (int mm = every; static_cast<float>(mm) * frame.pixels_per_mm < frame.box.height();
       mm += every)
    line(mm, false);
}

}  // namespace

// The hand takes hold of a part, moves it and lets go.
void Editor::State::drag(AreaContext& context, const FaceFrame& frame, const FaceGeometry& face) {
  const Point mouse = frame.mm(ImGui::GetIO().MousePos);
  if (ImGui::IsItemActivated()) {
    const std::optional<FaceHit> under = hit(face, mouse);
    selected = under ? std::optional(under->part) : std::nullopt;
    dragging = under.has_value();
    dragged_to.reset();
    if (under) grabbed = ImVec2(under->from_middle.x, under->from_middle.y);
    typed.clear();
    told.clear();
  }
  if (!dragging || !selected) return;
  // Also in the frame in which it is let go, for the last of the way.
  const ImVec2 way = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0);
  const float least = 3 * context.unit;
  if (dragged_to || way.x * way.x + way.y * way.y > least * least ||
      (ImGui::IsItemDeactivated() && (way.x != 0 || way.y != 0)))
    dragged_to = snapped(mouse.x - grabbed.x, mouse.y - grabbed.y);
  if (ImGui::IsItemActive()) return;
  dragging = false;
  if (const std::optional<FacePoint> to = std::exchange(dragged_to, std::nullopt))
    move_selected(*to, false);
}

namespace {

// A slip of paper with a word on it; `at` is the middle of its lower edge.
void draw_slip(ImDrawList& list, const AreaContext& context, ImVec2 at, const std::string& words,
               ImU32 colour) {
  ImFont* font = context.type.small;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, words.c_str());
  const ImVec2 pad(6 * context.unit, 2 * context.unit);
  const ImVec2 least(std::round(at.x - size.x / 2 - pad.x), std::round(at.y - size.y - 2 * pad.y));
  const ImVec2 most(least.x + size.x + 2 * pad.x, least.y + size.y + 2 * pad.y);
  list.AddRectFilled(least, most, ink::kCard, 2 * context.unit);
  list.AddRect(least, most, ink::kEdge, 2 * context.unit);
  list.AddText(font, font->FontSize, {least.x + pad.x, least.y + pad.y}, colour, words.c_str());
}

}  // namespace

void Editor::draw_over_face(AreaContext& context, const FaceFrame& frame) {
  State& state = *state_;
  if (!state.session || !state.session->preview()) return;
  const FaceGeometry face = geometry_of(state.drawn()->description);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  draw_grid(list, frame, state.grid_mm);
  ImGui::SetCursorScreenPos(frame.box.at());
  ImGui::InvisibleButton("##edited face", frame.box.size());
  state.face_has_keys = ImGui::IsItemFocused();
  state.drag(context, frame, face);
  for (const PlacedPart& part : face.parts) {
    const Extent room = grown(part.body, 1.5F);
    const ImVec2 least = frame.pixel({room.left, room.top});
    const ImVec2 most = frame.pixel({room.right, room.bottom});
    const bool chosen = state.selected && *state.selected == part.id;
    list.AddRect(least, most, IM_COL32(250, 244, 220, chosen ? 255 : 70), 3 * context.unit, 0,
                 (chosen ? 2.0F : 1.0F) * context.unit);
    if (!chosen || !state.dragging) continue;
    draw_slip(list, context, {(least.x + most.x) / 2, least.y - 4 * context.unit},
              fmt::format("{:g}, {:g} mm", part.middle.x, part.middle.y), ink::kText);
  }
  if (!unsaved()) return;
  draw_slip(list, context, {(frame.box.left + frame.box.right) / 2, frame.box.top - context.unit},
            "Not saved", ink::kAmber);
  note_place("texts", "not saved", frame.box.at(), {frame.box.right, frame.box.bottom});
}

bool Editor::take_keys() {
  State& state = *state_;
  const ImGuiIO& io = ImGui::GetIO();
  if (!state.session || io.WantTextInput || state.asking) return false;
  const auto pressed = [](ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); };
  if (io.KeyCtrl && pressed(ImGuiKey_Z)) return state.step(!io.KeyShift), true;
  if (io.KeyCtrl && pressed(ImGuiKey_Y)) return state.step(false), true;
  // 1.86 has no key of its own for S; scancode 22 is S in USB HID usage tables 1.12, page 7.
  if (io.KeyCtrl && ImGui::IsKeyPressed(22, false)) return state.save(), true;
  if (!state.selected || !state.session->preview()) return false;
  if (pressed(ImGuiKey_Delete)) return state.remove_selected(), true;
  const float x = static_cast<float>(pressed(ImGuiKey_RightArrow)) -
                  static_cast<float>(pressed(ImGuiKey_LeftArrow));
  const float y = static_cast<float>(pressed(ImGuiKey_DownArrow)) -
                  static_cast<float>(pressed(ImGuiKey_UpArrow));
  if ((x == 0 && y == 0) || !state.face_has_keys) return false;
  for (const PlacedPart& part : geometry_of(state.session->preview()->description).parts) {
    if (part.id != *state.selected) continue;
    const auto grid = static_cast<float>(state.grid_mm);
    state.move_selected(state.snapped(part.middle.x + x * grid, part.middle.y + y * grid), true);
    break;
  }
  return true;
}

bool Editor::draw_questions(AreaContext& context) {
  State& state = *state_;
  if (!state.session) return false;
  constexpr const char* kTitle = "Unsaved edits##question";
  const bool wanted = state.asking || state.session->in_conflict();
  if (wanted && !ImGui::IsPopupOpen(kTitle)) ImGui::OpenPopup(kTitle);
  ImGui::SetNextWindowSize({380 * context.unit, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, std::max(1.0F, context.unit));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {16 * context.unit, 14 * context.unit});
  const bool open = ImGui::BeginPopupModal(kTitle, nullptr, ImGuiWindowFlags_NoDecoration);
  ImGui::PopStyleVar(2);
  if (!open) return false;
  const bool conflict = state.session->in_conflict();
  ImGui::TextWrapped("%s", conflict
                               ? "The file was changed elsewhere meanwhile. Saving writes your "
                                 "edits over that."
                               : "There are edits that are not saved.");
  if (!state.told.empty()) ImGui::TextWrapped("%s", state.told.c_str());
  bool over = !wanted;
  if (ImGui::Button(conflict ? "Save over it" : "Save")) state.save(conflict), over = true;
  note_item("buttons", conflict ? "Save over it" : "Save");
  ImGui::SameLine();
  if (ImGui::Button("Discard the edits")) {
    state.session->give_up();
    if (state.asking) state.leave();
    over = true;
  }
  note_item("buttons", "Discard the edits");
  ImGui::SameLine();
  const bool goes_on = ImGui::Button("Go on editing");
  note_item("buttons", "Go on editing");
  if (goes_on) {
    if (conflict) state.session->put_off();
    state.asking = state.closing = false;
    state.then = {};
    over = true;
  }
  if (over) ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
  return !over;
}

bool Editor::may_close() {
  State& state = *state_;
  if (!unsaved() || state.agreed) return true;
  state.asking = state.closing = true;
  return false;
}

bool Editor::close_agreed() const {
  return state_->agreed;
}

void Editor::before_open(std::function<void()> then) {
  if (!unsaved()) {
    state_->session.reset();
    return then();
  }
  state_->then = std::move(then);
  state_->asking = true;
}

}  // namespace understudy
