// Writes a draft as a panel file that explains itself.
#include "sim/panel/draft.h"

#include <algorithm>
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
  std::string comment = pot ? "what its two ends send" : "up, down";
  if (control.perhaps_reversed) comment += "; if yours sends 1 while up, write [1, 0]";
  text += assigned("sends", write_sends(sends), comment);
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
  std::string text = "\n# ---- What the game lights up: an LED with a resistor each\n";
  if (draft.outputs.empty()) {
    text +=
        "# No lamps are described. For each that there is, such lines without the # in front:\n"
        "\n# [[output]]\n# name = \"lamp_1\"\n# kind = \"lamp\"\n# colour = \"red\"\n"
        "# resistor = \"220 ohm\"\n";
  }
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

// The one line of its direction, and the same as the panel has without it.
bool is_default_line(const Draft& draft, const DraftLine& line) {
  if (line.on_change || line.nmea_check) return false;
  const auto same_way = [&](const DraftLine& other) { return other.to_game == line.to_game; };
  if (std::count_if(draft.lines.begin(), draft.lines.end(), same_way) > 1) return false;
  std::string names;
  const auto add = [&](const std::string& name) {
    names += (names.empty() ? "{" : ",{") + name + "}";
  };
  if (line.to_game) {
    for (const DraftControl& control : draft.controls) add(control.name);
  } else {
    for (const DraftOutput& output : draft.outputs) add(output.name);
  }
  return line.text == names;
}

std::string line_text(const DraftLine& line) {
  std::string text = "\n[[line]]\n";
  if (!line.example.empty()) text += "# such as " + line.example + "\n";
  text += assigned("to", line.to_game ? "\"game\"" : "\"panel\"");
  text += assigned("text", quoted(line.text));
  if (line.on_change)
    text += assigned("send", "{ on_change = 1 }", "when it changes, not each round");
  if (line.nmea_check) text += assigned("check", "{ kind = \"xor\", as = \"*{HEX}\" }");
  return text;
}

std::string lines_text(const Draft& draft) {
  std::string text = "\n# ---- The lines of text\n";
  const std::string framing = framing_text("to_game", draft.to_game_starts, draft.to_game_ends) +
                              framing_text("to_panel", draft.to_panel_starts, draft.to_panel_ends);
  text += framing;
  std::string written;
  std::string left_out;
  for (const DraftLine& line : draft.lines) {
    if (!is_default_line(draft, line))
      written += line_text(line);
    else if (!line.example.empty())
      left_out += std::string("# To the ") + (line.to_game ? "game" : "panel") + ", such as " +
                  line.example + "\n";
  }
  if (written.empty() || !left_out.empty()) {
    text += !framing.empty() ? "\n" : "";
    text +=
        "# A direction without [[line]] is all names in the order of this file, with commas\n"
        "# between and the line's end behind; understudy check shows it.\n" +
        left_out;
  }
  return text + written;
}

// "pot_1", "button_2"...
void add_controls(Draft& draft, ControlKind kind, int count) {
  for (int i = 1; i <= count; ++i) {
    DraftControl control;
    control.name = kind_name(kind) + ("_" + std::to_string(i));
    control.kind = kind;
    if (kind != ControlKind::kPot) control.high = 1;
    draft.controls.push_back(std::move(control));
  }
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

Result<Draft> draft_of_counts(const std::string& title, const PartCounts& counts) {
  if (counts.pots + counts.buttons + counts.switches + counts.lamps == 0)
    return Error{ErrorCode::kUnusable, "a panel has at least one pot, button, switch or lamp"};
  Draft draft;
  draft.title = title;
  add_controls(draft, ControlKind::kPot, counts.pots);
  add_controls(draft, ControlKind::kButton, counts.buttons);
  add_controls(draft, ControlKind::kSwitch, counts.switches);
  draft.outputs = numbered_lamps(counts.lamps);
  return draft;
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
