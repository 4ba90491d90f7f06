// Writes a draft as a panel file that explains itself.
#include "sim/panel/draft.h"

#include <algorithm>
#include <array>

#include "sim/base/units.h"
#include "sim/model/kinds.h"
#include "sim/model/panel.h"
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

// Which keys of the keyboard move it; those of one family are given out in its order.
enum class KeyFamily : std::uint8_t { kNone, kMoreLess, kHold, kToggle, kArrows };
constexpr std::size_t kKeyFamilyCount = 5;

KeyFamily family_of(ControlKind kind) {
  switch (kind) {
    case ControlKind::kPot:
    case ControlKind::kSelector:
    case ControlKind::kEncoder:
      return KeyFamily::kMoreLess;
    case ControlKind::kButton:
      return KeyFamily::kHold;
    case ControlKind::kSwitch:
      return KeyFamily::kToggle;
    case ControlKind::kStick:
      return KeyFamily::kArrows;
    case ControlKind::kSensor:
      return KeyFamily::kNone;
  }
  return KeyFamily::kNone;
}

// Keys of the keyboard in the order of the parts; the rest is moved by the mouse alone.
std::string keys_of(KeyFamily family, std::size_t number) {
  static constexpr std::array kMore = {"W", "E", "R", "T", "Y", "U"};
  static constexpr std::array kLess = {"S", "D", "F", "G", "H", "J"};
  static constexpr std::array kHold = {"1", "2", "3", "4", "5", "6", "7", "8", "9", "0"};
  static constexpr std::array kToggle = {"Z", "X", "C", "V", "B", "N", "M"};
  const auto text = [](const char* key) { return quoted(key); };
  if (family == KeyFamily::kMoreLess && number < kMore.size())
    return "{ more = " + text(kMore[number]) + ", less = " + text(kLess[number]) + " }";
  if (family == KeyFamily::kHold && number < kHold.size())
    return "{ hold = " + text(kHold[number]) + " }";
  if (family == KeyFamily::kToggle && number < kToggle.size())
    return "{ toggle = " + text(kToggle[number]) + " }";
  if (family == KeyFamily::kArrows && number == 0)
    return "{ more = \"right\", less = \"left\", up = \"up\", down = \"down\", hold = \"space\" }";
  return "";
}

// What stands behind sends.
std::string sends_comment(const DraftControl& control) {
  switch (control.kind) {
    case ControlKind::kButton:
    case ControlKind::kSwitch:
      return control.perhaps_reversed ? "up, down; if yours sends 1 while up, write [1, 0]"
                                      : "up, down";
    case ControlKind::kSelector:
      return "its first place and its last";
    case ControlKind::kStick:
      return "the ends of x, and of y";
    case ControlKind::kEncoder:
      return "goes round from one to the other";
    case ControlKind::kPot:
    case ControlKind::kSensor:
      return "what its two ends send";
  }
  return "";
}

// What the kind says beside what every control does.
std::string kind_keys(const DraftControl& control) {
  if (control.kind == ControlKind::kSelector)
    return assigned("places", std::to_string(control.high - control.low + 1));
  if (control.kind == ControlKind::kStick) return assigned("press_sends", "[0, 1]", "up, down");
  if (control.kind == ControlKind::kEncoder)
    return assigned("read", "\"every edge\"", "or once a loop, which loses fast turns");
  if (control.kind == ControlKind::kSensor)
    return assigned("course", "\"walk\"", "what it measures: constant, sine, walk or values");
  return "";
}

std::string control_text(const DraftControl& control, std::size_t number) {
  std::string text = "\n[[control]]\n" + assigned("name", quoted(control.name), control.note);
  text += assigned("kind", quoted(kind_word(control.kind)));
  text += kind_keys(control);
  if (control.decimals > 0)
    text += assigned("decimals", std::to_string(control.decimals), "digits after the point");
  Sends sends;
  sends.low = control.low;
  sends.high = control.high;
  sends.decimals = control.decimals;
  sends.words = control.words;
  text += assigned("sends", write_sends(sends), sends_comment(control));
  const std::string keys = keys_of(family_of(control.kind), number);
  if (!keys.empty()) text += assigned("keys", keys);
  return text;
}

std::string controls_text(const Draft& draft) {
  std::array<std::size_t, kKeyFamilyCount> numbers{};
  std::string text = "\n# ---- What hands move, in the order of the line\n";
  for (const DraftControl& control : draft.controls)
    text += control_text(control, numbers[static_cast<std::size_t>(family_of(control.kind))]++);
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
    for (const DraftControl& control : draft.controls) add(control.name);  // one part each
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

// What such a part usually sends.
void give_usual_range(DraftControl& control) {
  switch (control.kind) {
    case ControlKind::kButton:
    case ControlKind::kSwitch:
      control.high = 1;
      break;
    case ControlKind::kSelector:
      control.high = 3;
      break;
    case ControlKind::kEncoder:
      control.low = -32'768;
      control.high = 32'767;
      break;
    default:
      break;
  }
}

// "pot_1", "button_2"...
void add_controls(Draft& draft, ControlKind kind, int count) {
  for (int i = 1; i <= count; ++i) {
    DraftControl control;
    control.name = std::string(kind_word(kind)) + "_" + std::to_string(i);
    control.kind = kind;
    give_usual_range(control);
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
  const int controls = counts.pots + counts.buttons + counts.switches + counts.selectors +
                       counts.sticks + counts.encoders + counts.sensors;
  if (controls + counts.lamps == 0)
    return Error{ErrorCode::kUnusable, "a panel has at least one pot, button, switch or lamp"};
  if (controls > static_cast<int>(kControlsMax))
    return Error{ErrorCode::kUnusable, std::to_string(controls) + " controls are more than the " +
                                           std::to_string(kControlsMax) + " that a panel may have"};
  Draft draft;
  draft.title = title;
  add_controls(draft, ControlKind::kPot, counts.pots);
  add_controls(draft, ControlKind::kButton, counts.buttons);
  add_controls(draft, ControlKind::kSwitch, counts.switches);
  add_controls(draft, ControlKind::kSelector, counts.selectors);
  add_controls(draft, ControlKind::kStick, counts.sticks);
  add_controls(draft, ControlKind::kEncoder, counts.encoders);
  add_controls(draft, ControlKind::kSensor, counts.sensors);
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
