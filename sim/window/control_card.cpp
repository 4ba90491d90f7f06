// A popup of ImGui in our paper's colours, closed by a click beside it.
#include "sim/window/control_card.h"

#include <SDL.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/model/kinds.h"
#include "sim/window/area_parts.h"
#include "sim/window/hand_events.h"
#include "sim/window/places.h"
#include "sim/window/supply_rows.h"
#include "sim/window/value_words.h"

namespace understudy {
namespace {

constexpr const char* kPopup = "##control card";
constexpr float kWidest = 340;  // of a line of text, units

int percent_of(std::int32_t ppm) {
  return static_cast<int>(std::lround(ppm * 100.0 / kFullTravel));
}

bool card_button(const char* label) {
  const bool pressed = ImGui::Button(label);
  note_item("buttons", label);
  return pressed;
}

std::string remembered_name(const GestureKey& key) {
  return "gesture." + key.panel + "." + key.control;
}

void faint_text(const char* words) {
  ImGui::PushStyleColor(ImGuiCol_Text, ink::kFaint);
  ImGui::TextWrapped("%s", words);
  ImGui::PopStyleColor();
}

void draw_line(float unit) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = std::max(ImGui::GetContentRegionAvail().x, 200 * unit);
  ImGui::GetWindowDrawList()->AddLine(at, {at.x + width, at.y}, ink::kMargin, std::max(1.0F, unit));
  ImGui::Dummy({width, 3 * unit});
}

}  // namespace

std::string hand_command(const SessionView& view, std::size_t seat, std::uint16_t index) {
  const Device& device = view.seats[seat].device;
  const ControlDescription& control = device.panel().description.controls[index];
  const auto parts = hand_parts(control);
  if (parts.empty()) return "";
  std::string words = view.seats.size() > 1 ? view.seats[seat].name + "/" : "";
  words += control.name;
  const std::int32_t at = parts[0].way == HandWay::kTurns ? 0 : device.goal_ppm(index, 0);
  if (control.kind == ControlKind::kStick) {
    words += fmt::format(" to {}% {}%", percent_of(at), percent_of(device.goal_ppm(index, 1)));
  } else if (parts[0].way == HandWay::kSlides) {
    words += fmt::format(" to {}%", percent_of(at));
  } else if (parts[0].way == HandWay::kPlaces) {
    words += fmt::format(" to {}", place_at(at, control.selector.places) + 1);
  } else if (parts[0].way == HandWay::kToggles) {
    words += at >= kFullTravel / 2 ? " on" : " off";
  } else {
    words += parts[0].way == HandWay::kTurns ? " turn 1 click" : " press";
  }
  return "understudy hand '" + words + "'";
}

std::string kind_in_words(const PanelDescription& panel, const PartId& part) {
  if (part.output) {
    switch (panel.outputs[part.index].kind) {
      case OutputKind::kRgb:
        return "Lamp of three colours";
      case OutputKind::kDigits:
        return "Display of digits";
      default:
        return legend_text(kind_word(panel.outputs[part.index].kind));
    }
  }
  const ControlDescription& control = panel.controls[part.index];
  switch (control.kind) {
    case ControlKind::kPot:
      return control.pot.shape == TravelShape::kRotary ? "Turning potentiometer"
                                                       : "Slide potentiometer";
    case ControlKind::kButton:
      return "Push button";
    case ControlKind::kSelector:
      return fmt::format("Selector of {} places", control.selector.places);
    case ControlKind::kEncoder:
      return fmt::format("Encoder of {} clicks a turn", control.encoder.detents);
    case ControlKind::kStick:
      return control.stick.springs ? "Stick with springs" : "Stick without springs";
    default:
      return legend_text(kind_word(control.kind));
  }
}

std::vector<CardValue> card_values(const SeatView& seat, const PartId& part) {
  const Panel& panel = seat.device.panel();
  const auto& sources = part.output ? panel.to_panel_sources : panel.to_game_sources;
  std::vector<CardValue> values;
  for (std::size_t field = 0; field < sources.size(); ++field) {
    if (sources[field].part_of != part.index) continue;
    const std::int64_t number =
        part.output ? seat.device.output_number(field) : seat.device.field_number(field);
    const auto names = part.output ? line_parts(panel.description.outputs[part.index])
                                   : line_parts(panel.description.controls[part.index]);
    values.push_back({.part = std::string(names[sources[field].part]),
                      .words = value_words(panel, {.to_game = !part.output, .field = field},
                                           static_cast<double>(number))
                                   .together()});
  }
  return values;
}

void ControlCard::open(const PartId& part) {
  part_ = part;
  panel_ = hands_.seen();
  seat_ = hands_.seat();
  ImGui::OpenPopup(kPopup);
}

// Beside the part, so that one sees it move: to the right, else to the left, within the window.
void ControlCard::lay_beside(const Face& face, float unit) const {
  const ImVec2 window = ImGui::GetIO().DisplaySize;
  const float gap = 10 * unit;
  const float edge = 6 * unit;
  ImGui::SetNextWindowSizeConstraints({0, 0}, {window.x - 2 * edge, window.y - 2 * edge});
  for (const PlacedPart& part : face.geometry().parts) {
    if (!part_ || part.id != *part_) continue;
    const ImVec2 least = face.frame().pixel({part.body.left, part.body.top});
    const ImVec2 most = face.frame().pixel({part.body.right, part.body.bottom});
    ImVec2 at = {most.x + gap, least.y};
    if (at.x + size_.x > window.x - edge && least.x - gap - size_.x >= edge)
      at.x = least.x - gap - size_.x;
    at.x = std::max(edge, std::min(at.x, window.x - edge - size_.x));
    at.y = std::max(edge, std::min(at.y, window.y - edge - size_.y));
    ImGui::SetNextWindowPos({std::round(at.x), std::round(at.y)});
  }
}

bool ControlCard::draw(AreaContext& context, const Face& face, bool over_face, double seconds) {
  seconds_ = seconds;
  if (over_face && ImGui::IsMouseClicked(ImGuiMouseButton_Right)) {
    if (const auto found = hands_.part_at(face.frame().mm(ImGui::GetIO().MousePos)))
      open(found->part);
  } else if (hands_.focus() && !ImGui::GetIO().WantTextInput &&
             ImGui::IsKeyPressed(SDL_SCANCODE_APPLICATION, false)) {
    open({.output = false, .index = *hands_.focus()});
  }
  lay_beside(face, context.unit);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {14 * context.unit, 10 * context.unit});
  const bool drawn = ImGui::BeginPopup(kPopup);
  if (drawn) {
    if (!part_ || panel_ != hands_.seen() || seat_ != hands_.seat()) {
      ImGui::CloseCurrentPopup();  // another panel lies there now
    } else {
      ImGui::PushTextWrapPos(kWidest * context.unit);
      draw_part(context);
      ImGui::PopTextWrapPos();
    }
    size_ = ImGui::GetWindowSize();
    const ImVec2 at = ImGui::GetWindowPos();
    note_place("cards", "part", at, {at.x + size_.x, at.y + size_.y});
    ImGui::EndPopup();
  }
  ImGui::PopStyleVar();
  return drawn;
}

void ControlCard::draw_part(AreaContext& context) {
  const SeatView& seat = context.view.seats[seat_];
  const PanelDescription& panel = seat.device.panel().description;
  const std::size_t count = part_->output ? panel.outputs.size() : panel.controls.size();
  if (part_->index >= count) return;
  const std::string& name =
      part_->output ? panel.outputs[part_->index].name : panel.controls[part_->index].name;
  ImGui::PushFont(context.type.heading);
  ImGui::TextUnformatted(legend_text(name).c_str());
  ImGui::PopFont();
  draw_line(context.unit);
  ImGui::TextUnformatted(kind_in_words(panel, *part_).c_str());
  for (const CardValue& value : card_values(seat, *part_)) {
    const std::string words = value.part.empty() ? value.words : value.part + ": " + value.words;
    ImGui::TextUnformatted(words.c_str());
  }
  if (part_->output) {
    for (const SupplyRow& row : supply_rows(seat.device).outputs)
      if (row.name == name)
        ImGui::TextUnformatted(("Draws " + milliamperes_text(row.now_ua)).c_str());
    return;
  }
  const ControlDescription& control = panel.controls[part_->index];
  if (hand_parts(control).empty()) return;
  draw_keys(control);
  draw_moves(control);
  draw_line(context.unit);
  draw_gesture(context, control);
  draw_line(context.unit);
  draw_command(context);
}

void ControlCard::draw_command(AreaContext& context) const {
  const std::string command = hand_command(context.view, seat_, part_->index);
  faint_text("The same from a hot key or a script:");
  ImGui::PushFont(context.type.typed);
  ImGui::TextUnformatted(command.c_str());
  ImGui::PopFont();
  if (card_button("Copy the command")) ImGui::SetClipboardText(command.c_str());
}

void ControlCard::draw_keys(const ControlDescription& control) const {
  const HandKeys& keys = control.keys;
  const bool stick = control.kind == ControlKind::kStick;
  const std::pair<const char*, const std::string*> all[] = {
      {"held down by", &keys.hold},
      {"changed by", &keys.toggle},
      {stick ? "to the right by" : "more by", &keys.more},
      {stick ? "to the left by" : "less by", &keys.less},
      {"up by", &keys.up},
      {"down by", &keys.down}};
  std::string words;
  for (const auto& [what, key] : all)
    if (!key->empty())
      words += fmt::format("{}{} {}", words.empty() ? "" : ", ", what, printed_on(key_place(*key)));
  if (!words.empty()) ImGui::TextWrapped("Keys: %s", words.c_str());
  if (!keys.gamepad.empty()) ImGui::TextUnformatted(("Game controller: " + keys.gamepad).c_str());
}

void ControlCard::draw_moves(const ControlDescription& control) {
  const auto parts = hand_parts(control);
  const std::uint16_t index = part_->index;
  const bool presses = std::any_of(parts.begin(), parts.end(), [](const HandPart& part) {
    return part.way == HandWay::kPresses;
  });
  if (presses) {
    bool wedged = hands_.wedged(index);
    if (tick_box("A wedge keeps it down", wedged)) hands_.set_wedge(index, wedged);
    note_item("buttons", "A wedge keeps it down");
  }
  const bool slides = parts[0].way == HandWay::kSlides;
  if (!slides && parts[0].way != HandWay::kPlaces) return;
  const auto put_all = [&](std::int32_t ppm) {
    for (std::uint8_t part = 0; part < parts.size(); ++part)
      if (parts[part].way != HandWay::kPresses) hands_.put(index, part, ppm);
  };
  if (slides) {
    if (card_button("To the middle")) put_all(kFullTravel / 2);
    if (control.kind == ControlKind::kStick) return;  // which of its ends, nobody could say
    ImGui::SameLine();
  }
  if (card_button("To its low end")) put_all(0);
  ImGui::SameLine();
  if (card_button("To its high end")) put_all(kFullTravel);
}

void ControlCard::draw_gesture(AreaContext& context, const ControlDescription& control) {
  const GestureKey key = {hands_.seen()->description.name, control.name};
  if (gestures_.recording(key)) {
    faint_text("Recording what hands do to it. Move it, then open this card again.");
    if (card_button("Done"))
      if (const auto found = gestures_.done())
        context.remembered[remembered_name(key)] = gesture_text(*found);
    return;
  }
  if (gestures_.find(key) == nullptr) {
    const auto kept = context.remembered.find(remembered_name(key));
    if (kept != context.remembered.end())
      if (auto gesture = gesture_of(kept->second)) gestures_.keep(key, std::move(*gesture));
  }
  if (card_button("Record a gesture")) {
    gestures_.record(key, seat_, part_->index);
    ImGui::CloseCurrentPopup();  // so that hands reach the face
  }
  const KeptGesture* gesture = gestures_.find(key);
  if (gesture == nullptr)
    return faint_text("Records what hands do to it, to be repeated every so many seconds.");
  const double seconds = static_cast<double>(gesture->length().ns) / 1e9;
  ImGui::TextUnformatted(fmt::format("Repeat the gesture of {:.1f} s", seconds).c_str());
  if (card_button("Once")) gestures_.play(key, seconds_);
  ImGui::SameLine();
  if (card_button("Every")) gestures_.play(key, seconds_, every_);
  ImGui::SameLine();
  ImGui::SetNextItemWidth(64 * context.unit);
  if (ImGui::InputFloat("seconds", &every_, 0, 0, "%.1f"))
    every_ = std::isfinite(every_) ? std::clamp(every_, 0.1F, 3'600.0F) : 5;
  note_item("fields", "seconds");
  if (!gestures_.playing(key)) return;
  if (card_button("Stop repeating")) gestures_.stop(key);
}

}  // namespace understudy
