// One window of ImGui over the whole of ours, without a frame of its own, in which the parts lie.
#include "sim/window/desk.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/model/kinds.h"
#include "sim/window/box_shown.h"
#include "sim/window/cards.h"
#include "sim/window/control_card.h"
#include "sim/window/editor.h"
#include "sim/window/face.h"
#include "sim/window/flash_card.h"
#include "sim/window/panel_files.h"
#include "sim/window/paper.h"
#include "sim/window/places.h"
#include "sim/window/preferences.h"
#include "sim/window/timeline.h"

namespace understudy {
namespace {

constexpr float kUsualRatio = 260.0F / 140.0F;
constexpr float kUsualShare = 0.36F;

float ratio_of(const SessionView& view, std::size_t seat) {
  if (seat >= view.seats.size()) return kUsualRatio;
  const FaceGeometry face = geometry_of(view.seats[seat].device.panel().description);
  return face.width > 0 && face.height > 0 ? face.width / face.height : kUsualRatio;
}

bool any_menu_open() {
  return ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopup);
}

}  // namespace

struct Desk::State {
  State(Textures& textures, Remembered& what) : remembered(what), paper(textures), face(textures) {}

  Remembered& remembered;
  Paper paper;
  Face face;
  Hands hands;
  Gestures gestures;
  ControlCard control_card{hands, gestures};
  History history;
  std::shared_ptr<const SessionView> view;
  std::vector<Wish> wishes;
  std::unique_ptr<PanelFiles> files;  // null: none is watched
  bool file_card = false;             // asked for by Open...
  Editor editor;
  std::size_t seat = 0;
  double seconds = 0;          // of the loop's turn
  bool splitting = false;      // the splitter is held
  bool menu_was_open = false;  // at the end of the frame before

  [[nodiscard]] LayoutWish wish(const Frame& frame, const DeskState& desk) const {
    const NumberRange range = {.least = kShareLeast, .most = kShareMost, .usual = kUsualShare};
    return {.window = frame.size,
            .unit = frame.unit,
            .face_ratio = view ? ratio_of(*view, seat) : kUsualRatio,
            .share = static_cast<float>(remembered_number(remembered, "window.share", range)),
            .areas = remembered_flag(remembered, "window.beside", true),
            .tabs = view && view->seats.size() > 1,
            .timeline = view && view->timeline,
            .compact = desk.compact};
  }

  [[nodiscard]] bool on_face(ImVec2 at) const {
    const Box& box = face.frame().box;
    return at.x >= box.left && at.x < box.right && at.y >= box.top && at.y < box.bottom;
  }
  void draw_parts(const Frame& frame, DeskState& desk);
  void draw_splitter(const LayoutWish& wish, const Layout& layout, float unit);
  void draw_tabs(const Box& box, const Frame& frame);
  void draw_face(AreaContext& context, const Layout& layout, const Frame& frame);
  void pass_mouse();
  void pass_wishes();
  void note_parts(const SeatView& shown) const;
  void draw_plate_menu(AreaContext& context, DeskState& desk, const StripState& strip);
  std::vector<PassingCard> passing_cards(const AreaContext& context);
  void draw_file_card(AreaContext& context);
  void edit();
  void obey(const StripOrders& orders, DeskState& desk);
};

Desk::Desk(Textures& textures, Remembered& remembered, std::function<void()> wake)
    : state_(std::make_unique<State>(textures, remembered)) {
  if (wake) state_->files = std::make_unique<PanelFiles>(std::move(wake));
}

Desk::~Desk() = default;

void Desk::take(std::shared_ptr<const SessionView> view, FeedPortion portion) {
  if (!view) return;
  if (view->timeline && state_->view && state_->view->timeline &&
      view->timeline->jumps != state_->view->timeline->jumps)
    state_->history.begin_anew();
  state_->history.take(*view, std::move(portion));
  state_->view = with_boxes_shown(std::move(view));
  if (state_->seat >= state_->view->seats.size()) state_->seat = 0;
}

bool Desk::turn(double seconds) {
  state_->seconds = seconds;
  if (state_->view) {
    state_->hands.see(state_->view, state_->seat);
    state_->hands.advance(seconds);
    state_->pass_wishes();
  }
  if (!state_->files || !state_->view) return false;
  return state_->files->take(*state_->view, state_->remembered, state_->wishes);
}

void Desk::drop_file(const std::string& path) {
  if (!state_->files || !state_->view) return;
  state_->editor.before_open([state = state_.get(), path] {
    state->files->dropped(state->seat, path);
    state->file_card = true;
  });
}

std::vector<PassingCard> Desk::State::passing_cards(const AreaContext& context) {
  std::vector<PassingCard> cards;
  if (flashes_too_often(context)) {
    cards.push_back({.name = "flashes",
                     .heading = "Flashing lamps",
                     .usual_height = 170,
                     .draw = draw_flash_card,
                     .put_away = {}});
  }
  if (!files) return cards;
  if (editor.on()) {
    cards.push_back({.name = "edit",
                     .heading = "Edit",
                     .usual_height = 300,
                     .draw = [this](AreaContext& context) { editor.draw_card(context); },
                     .put_away = [this] { editor.end(); }});
    cards.push_back({.name = "lines",
                     .heading = "Lines of text",
                     .usual_height = 280,
                     .draw = [this](AreaContext& context) { editor.draw_lines(context); },
                     .put_away = {}});
  }
  const bool trouble = files->report(seat).state != FileState::kPlayed || !files->refused().empty();
  if (file_card || trouble) {
    cards.push_back({.name = "file",
                     .heading = "Panel file",
                     .usual_height = 220,
                     .draw = [this](AreaContext& context) { draw_file_card(context); },
                     .put_away = [this] { file_card = false; }});
    if (!file_card) cards.back().put_away = {};
  }
  return cards;
}

// Another file is opened at once, or after the question about edits.
void Desk::State::draw_file_card(AreaContext& context) {
  files->draw_card(context, [this](const std::string& path) {
    editor.before_open([this, path] { files->open(seat, path); });
    return false;
  });
}

void Desk::State::edit() {
  if (editor.on()) return editor.end();
  if (!files) return;
  hands.let_go();
  hands.drop_focus();
  editor.begin(files->report(seat));
  remember_flag(remembered, "window.beside", true);
}

void Desk::State::obey(const StripOrders& orders, DeskState& desk) {
  if (orders.open) {
    file_card = !file_card;
    if (file_card) remember_flag(remembered, "window.beside", true);
  }
  if (orders.edit) edit();
  if (orders.compact) desk.compact = !desk.compact;
  if (orders.on_top) desk.on_top = !desk.on_top;
  if (orders.beside) {
    remember_flag(remembered, "window.beside", !remembered_flag(remembered, "window.beside", true));
  }
}

void Desk::State::draw_splitter(const LayoutWish& wish, const Layout& layout, float unit) {
  const Box& box = layout.splitter;
  if (box.width() < 1 || box.height() < 1) return;
  ImGui::SetCursorScreenPos(box.at());
  ImGui::InvisibleButton("##splitter", box.size());
  splitting = ImGui::IsItemActive();
  const bool near = splitting || ImGui::IsItemHovered();
  if (near) {
    ImGui::SetMouseCursor(layout.below ? ImGuiMouseCursor_ResizeNS : ImGuiMouseCursor_ResizeEW);
  }
  if (splitting) {
    remember_number(remembered, "window.share",
                    dragged_share(wish, layout, ImGui::GetIO().MousePos));
  }
  // Three pencil strokes in the middle.
  const ImVec2 middle((box.left + box.right) / 2, (box.top + box.bottom) / 2);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImU32 colour = near ? ink::kText : ink::kEdge;
  for (int i = -1; i <= 1; ++i) {
    const float shift = std::round(static_cast<float>(i) * 3 * unit);
    const ImVec2 at(std::round(middle.x + (layout.below ? 0 : shift)),
                    std::round(middle.y + (layout.below ? shift : 0)));
    const ImVec2 reach = layout.below ? ImVec2(9 * unit, unit / 2) : ImVec2(unit / 2, 9 * unit);
    list.AddRectFilled({at.x - reach.x, at.y - reach.y}, {at.x + reach.x, at.y + reach.y}, colour);
  }
}

// Small index tabs above the face, one for each seat.
void Desk::State::draw_tabs(const Box& box, const Frame& frame) {
  if (box.height() < 1) return;
  const float unit = frame.unit;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  float x = box.left + 18 * unit;
  for (std::size_t i = 0; i < view->seats.size(); ++i) {
    const std::string label = view->seats[i].name + "##seat" + std::to_string(i);
    const bool chosen = i == seat;
    const float width = ImGui::CalcTextSize(view->seats[i].name.c_str()).x + 28 * unit;
    const float top = box.top + (chosen ? 4 : 7) * unit;
    const float slope = 7 * unit;
    const ImVec2 corners[4] = {
        {x, box.bottom}, {x + slope, top}, {x + width - slope, top}, {x + width, box.bottom}};
    list.AddConvexPolyFilled(corners, 4, chosen ? ink::kCard : ink::kPressed);
    list.AddPolyline(corners, 4, ink::kEdge, 0, std::max(1.0F, unit));
    ImGui::SetCursorScreenPos({x, top});
    ImGui::PushStyleColor(ImGuiCol_Button, 0);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, 0);
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, 0);
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0);
    if (ImGui::Button(label.c_str(), {width, box.bottom - top}) && i != seat)
      editor.before_open([this, i] { seat = i; });
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(3);
    note_item("seats", label);
    x += width + 2 * unit;
  }
}

// The mouse is the hands' while it is over the face and nothing lies above it, and as long as it
// holds something.
void Desk::State::pass_mouse() {
  const ImGuiIO& io = ImGui::GetIO();
  const Point at = face.frame().mm(io.MousePos);
  const bool over = on_face(io.MousePos) && ImGui::IsWindowHovered() && !ImGui::IsAnyItemHovered();
  const Modifiers modifiers = {.fine = io.KeyShift, .wedge = io.KeyCtrl};
  hands.hover(over ? std::optional(at) : std::nullopt);
  if (over && ImGui::IsMouseClicked(ImGuiMouseButton_Left) &&
      hands.press(kMousePointer, at, modifiers))
    hands.drop_focus();
  if (over && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) hands.double_click(at);
  if (over && ImGui::IsMouseClicked(ImGuiMouseButton_Middle))
    hands.press(kMiddlePointer, at, {.push = true});
  hands.move(kMousePointer, at, modifiers);
  if (!ImGui::IsMouseDown(ImGuiMouseButton_Left)) hands.release(kMousePointer);
  if (!ImGui::IsMouseDown(ImGuiMouseButton_Middle)) hands.release(kMiddlePointer);
  if (over && io.MouseWheel != 0) hands.wheel(at, io.MouseWheel, modifiers);
}

void Desk::State::pass_wishes() {
  for (Wish& wanted : hands.take_wishes()) {
    gestures.take(wanted, seconds);
    wishes.push_back(std::move(wanted));
  }
  for (Wish& wanted : gestures.due(hands.seen(), hands.seat(), seconds))
    wishes.push_back(std::move(wanted));
}

void Desk::State::draw_face(AreaContext& context, const Layout& layout, const Frame& frame) {
  hands.see(view, seat);
  if (face.frame().box.width() > 1 && !editor.on()) pass_mouse();
  hands.advance(seconds);
  const SeatView& shown = editor.shown(view->seats[seat]);
  const bool calm = !editor.on() && lamps_are_calm(remembered);
  face.draw(*ImGui::GetWindowDrawList(), layout.face, frame.type, shown,
            editor.on() ? FaceMarks{} : hands.marks(), ImGui::GetTime(),
            calm ? &history.seat(seat).flashes : nullptr);
  editor.draw_over_face(context, face.frame());
  pass_wishes();
  note_parts(shown);
  const Box& box = face.frame().box;
  note_place("face", "face", box.at(), {box.right, box.bottom});
  note_place("window", "window", {0, 0}, frame.size);
}

void Desk::State::note_parts(const SeatView& shown) const {
  const PanelDescription& panel = shown.device.panel().description;
  const FaceFrame& frame = face.frame();
  for (const PlacedPart& part : face.geometry().parts) {
    if (part.id.index >= (part.id.output ? panel.outputs.size() : panel.controls.size())) continue;
    const std::string& name =
        part.id.output ? panel.outputs[part.id.index].name : panel.controls[part.id.index].name;
    note_place("parts", name, frame.pixel({part.body.left, part.body.top}),
               frame.pixel({part.body.right, part.body.bottom}));
    if (part.id.output || hand_parts(panel.controls[part.id.index]).empty()) continue;
    const Device& device = shown.device;
    const ControlDescription& control = panel.controls[part.id.index];
    const bool stick = control.kind == ControlKind::kStick;
    const ImVec2 handle =
        frame.pixel(part.middle + handle_at(control, device.position_ppm(part.id.index),
                                            stick ? device.position_ppm(part.id.index, 1) : 0));
    note_place("handles", name, {handle.x - 2, handle.y - 2}, {handle.x + 2, handle.y + 2});
  }
}

void Desk::State::draw_plate_menu(AreaContext& context, DeskState& desk, const StripState& strip) {
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const bool over = on_face(mouse) && !ImGui::IsAnyItemHovered() && !editor.on();
  control_card.draw(context, face, over && ImGui::IsWindowHovered(), seconds);
  const bool on_plate = over && !hands.part_at(face.frame().mm(mouse));
  if (on_plate && ImGui::IsMouseClicked(ImGuiMouseButton_Right) && !ImGui::IsAnyItemHovered()) {
    ImGui::OpenPopup("##plate menu");
  }
  if (ImGui::BeginPopup("##plate menu")) {
    obey(draw_strip_menu(context, strip), desk);
    if (menu_word("Close the window")) desk.leave = true;
    ImGui::EndPopup();
  }
}

void Desk::State::draw_parts(const Frame& frame, DeskState& desk) {
  const LayoutWish wanted = wish(frame, desk);
  const Layout layout = divided(wanted);
  AreaContext context = {.view = *view,
                         .seat = seat,
                         .history = history,
                         .type = frame.type,
                         .remembered = remembered,
                         .wishes = wishes,
                         .unit = frame.unit,
                         .face_has_keys = hands.focus().has_value()};
  const StripState strip = {.editing = editor.on(),
                            .on_top = desk.on_top,
                            .beside = wanted.areas,
                            .files = !view->timeline};
  if (files) {
    editor.begin_frame(*view, seat, *files);
    editor.take_keys();
  }
  if (!desk.compact) {
    obey(draw_strip(context, layout.strip, strip), desk);
    draw_tabs(layout.tabs, frame);
    draw_splitter(wanted, layout, frame.unit);
  }
  if (layout.timeline.height() > 1) draw_timeline(context, layout.timeline);
  draw_face(context, layout, frame);
  draw_plate_menu(context, desk, strip);
  if (layout.areas.width() > 1)
    draw_cards(context, passing_cards(context), layout.areas);
  else if (flashes_too_often(context))
    draw_flash_slip(context, layout.face);
  editor.draw_questions(context);
  if (editor.close_agreed()) desk.leave = true;
  // An Escape that closed a menu does no more.
  const bool menu = std::exchange(menu_was_open, any_menu_open());
  if (desk.compact && !menu && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false))
    desk.compact = false;
}

void Desk::draw(const Frame& frame, DeskState& state) {
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize(frame.size);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
  ImGui::Begin("##desk", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                   ImGuiWindowFlags_NoScrollWithMouse);
  ImGui::PopStyleVar();
  state_->paper.draw(*ImGui::GetWindowDrawList(), {0, 0, frame.size.x, frame.size.y}, frame.unit);
  if (state_->view && !state_->view->seats.empty()) state_->draw_parts(frame, state);
  ImGui::End();
}

std::vector<Wish> Desk::take_wishes() {
  return std::exchange(state_->wishes, {});
}

bool Desk::moving() const {
  return state_->splitting || state_->face.moving() || state_->hands.moving();
}

bool Desk::face_has_keys() const {
  return state_->editor.takes_arrows() ||
         (!state_->editor.on() && state_->hands.focus().has_value() && !menu_is_open());
}

bool Desk::menu_is_open() const {
  return any_menu_open();
}

bool Desk::editing() const {
  return state_->editor.on();
}

bool Desk::may_close() {
  return state_->editor.may_close();
}

Hands& Desk::hands() {
  return state_->hands;
}

const FaceFrame& Desk::face_frame() const {
  return state_->face.frame();
}

float Desk::engraved_px() const {
  return state_->face.engraved_px();
}

bool Desk::is_bare(ImVec2 at) const {
  const Face& face = state_->face;
  return state_->on_face(at) && !hit(face.geometry(), face.frame().mm(at)).has_value();
}

float Desk::face_ratio() const {
  return state_->view ? ratio_of(*state_->view, state_->seat) : kUsualRatio;
}

}  // namespace understudy
