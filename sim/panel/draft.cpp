// Writes a draft as a panel file that explains itself.
#include "sim/panel/draft.h"

#include <array>

#include "sim/base/units.h"
#include "sim/panel/node.h"
#include "sim/panel/sends.h"

namespace understudy {
namespace {

constexpr std::size_t kCommentColumn = 36;

std::string commented(std::string line, const std::string& comment) {
  if (comment.empty()) return line + "\n";
  if (line.size() < kCommentColumn)
    line.resize(kCommentColumn, ' ');
  else
    line += "  ";
  return line + "# " + comment + "\n";
}

std::string assigned(const std::string& key, const std::string& value,
                     const std::string& comment = "") {
  return commented(key + " = " + value, comment);
}

const char* kind_name(ControlKind kind) {
  switch (kind) {
    case ControlKind::kPot:
      return "pot";
    case ControlKind::kButton:
      return "button";
    case ControlKind::kSwitch:
      return "switch";
  }
  return "";
}

// Keys of the keyboard in the order of the parts; the rest is moved by the mouse alone.
std::string keys_of(ControlKind kind, std::size_t number) {
  static constexpr std::array kMore = {"W", "E", "R", "T", "Y", "U"};
  static constexpr std::array kLess = {"S", "D", "F", "G", "H", "J"};
  static constexpr std::array kHold = {"1", "2", "3", "4", "5", "6", "7", "8", "9", "0"};
  static constexpr std::array kToggle = {"Z", "X", "C", "V", "B", "N", "M"};
  const auto text = [](const char* key) { return quoted(key); };
  if (kind == ControlKind::kPot && number < kMore.size())
    return "{ more = " + text(kMore[number]) + ", less = " + text(kLess[number]) + " }";
  if (kind == ControlKind::kButton && number < kHold.size())
    return "{ hold = " + text(kHold[number]) + " }";
  if (kind == ControlKind::kSwitch && number < kToggle.size())
    return "{ toggle = " + text(kToggle[number]) + " }";
  return "";
}

std::string control_text(const DraftControl& control, std::size_t number) {
  const bool pot = control.kind == ControlKind::kPot;
  std::string text = "\n[[control]]\n" + assigned("name", quoted(control.name), control.note);
  text += assigned("kind", quoted(kind_name(control.kind)));
  if (control.decimals > 0)
    text += assigned("decimals", std::to_string(control.decimals), "digits after the point");
  Sends sends;
  sends.low = control.low;
  sends.high = control.high;
  sends.decimals = control.decimals;
  sends.words = control.words;
  text += assigned("sends", write_sends(sends), pot ? "what its two ends send" : "up, down");
  const std::string keys = keys_of(control.kind, number);
  if (!keys.empty()) text += assigned("keys", keys);
  return text;
}

std::string controls_text(const Draft& draft) {
  std::array<std::size_t, 3> numbers{};
  std::string text = "\n# ---- What hands move, in the order of the line\n";
  for (const DraftControl& control : draft.controls)
    text += control_text(control, numbers[static_cast<std::size_t>(control.kind)]++);
  return text;
}

std::string outputs_text(const Draft& draft) {
  if (draft.outputs.empty()) return "";
  std::string text = "\n# ---- What the game lights up: an LED with a resistor each\n";
  for (const DraftOutput& output : draft.outputs) {
    text += "\n[[output]]\n" + assigned("name", quoted(output.name));
    text += assigned("kind", "\"lamp\"");
    text += assigned("colour", quoted(output.colour));
    if (output.full != 255)
      text += assigned("takes", "[0, " + std::to_string(output.full) + "]", "dark, full");
    text += assigned("resistor", "\"220 ohm\"");
  }
  return text;
}

std::string framing_text(const std::string& table, const std::string& starts,
                         const std::string& ends) {
  if (starts.empty() && ends == "\n") return "";
  std::string text = "\n[" + table + "]\n";
  if (!starts.empty()) text += assigned("starts", quoted(starts), "what each line begins with");
  return text + assigned("ends", quoted(ends), "what each line ends with");
}

std::string lines_text(const Draft& draft) {
  std::string text = "\n# ---- The lines of text\n";
  text += framing_text("to_game", draft.to_game_starts, draft.to_game_ends);
  text += framing_text("to_panel", draft.to_panel_starts, draft.to_panel_ends);
  for (const DraftLine& line : draft.lines) {
    text += "\n[[line]]\n";
    if (!line.example.empty()) text += "# such as " + line.example + "\n";
    text += assigned("to", line.to_game ? "\"game\"" : "\"panel\"");
    text += assigned("text", quoted(line.text));
    if (line.on_change)
      text += assigned("send", "{ on_change = 1 }", "when it changes, not each round");
    if (line.nmea_check) text += assigned("check", "{ kind = \"xor\", as = \"*{HEX}\" }");
  }
  if (draft.lines.empty()) {
    text +=
        "# Without [[line]] each direction is all names in the order of this file, with commas\n"
        "# between and a line feed behind; understudy check shows them.\n";
  }
  return text;
}

}  // namespace

std::string draft_toml(const Draft& draft) {
  std::string text = "# " + draft.title + ": a controller, described for understudy.\n";
  text += "# " + draft.origin + (draft.origin.empty() ? "" : " ");
  text += "Names, colours and places are yours to change.\n";
  text += "# Every key has a default: understudy explain lists them.\n\n";
  text += assigned("panel", quoted(draft.title));
  text += assigned("board", quoted(draft.preset), "pins, converter, buffers, supply");
  text += "\n[manners]\n";
  text += assigned("loop", quoted(write_duration(draft.loop)), "how often it reads and prints");
  if (!draft.hello.empty())
    text += assigned("hello", quoted(draft.hello), "printed once after each start");
  text += controls_text(draft) + outputs_text(draft) + lines_text(draft);
  for (const std::string& remark : draft.remarks) text += "\n# " + remark + "\n";
  return text;
}

std::vector<DraftControl> numbered_controls(ControlKind kind, int count) {
  std::vector<DraftControl> controls;
  for (int i = 1; i <= count; ++i) {
    DraftControl control;
    control.name = kind_name(kind) + ("_" + std::to_string(i));
    control.kind = kind;
    if (kind != ControlKind::kPot) control.high = 1;
    controls.push_back(std::move(control));
  }
  return controls;
}

std::vector<DraftOutput> numbered_lamps(int count) {
  static constexpr std::array kColours = {"red", "amber", "green", "white"};
  std::vector<DraftOutput> lamps;
  for (int i = 0; i < count; ++i) {
    DraftOutput lamp;
    lamp.name = "lamp_" + std::to_string(i + 1);
    lamp.colour = kColours[static_cast<std::size_t>(i) % kColours.size()];
    lamps.push_back(std::move(lamp));
  }
  return lamps;
}

}  // namespace understudy
