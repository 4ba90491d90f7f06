// Arrow keys arrive as ESC [ A and its kin (ECMA-48 cursor sequences); letters as themselves.
#include "sim/app/key_hands.h"

#include <algorithm>
#include <cctype>

namespace understudy {
namespace {

constexpr std::int32_t kNudge = kFullTravel / 20;
constexpr Duration kNudgeLength = milliseconds(80);
// Longer than a keyboard's first repeat pause, so that holding a key holds the button.
constexpr Duration kKeyPress = milliseconds(600);
constexpr Duration kKeyPressShort = milliseconds(150);

bool is_key(const std::string& name, char key) {
  return name.size() == 1 && std::toupper(static_cast<unsigned char>(name[0])) ==
                                 std::toupper(static_cast<unsigned char>(key));
}

std::string key_name(const ControlDescription& control) {
  const HandKeys& keys = control.keys;
  if (keys.hold.size() == 1) return "[" + keys.hold + "]";
  if (keys.toggle.size() == 1) return "[" + keys.toggle + "]";
  std::string text;
  if (keys.more.size() == 1) text = keys.more + " more";
  if (keys.less.size() == 1) text += (text.empty() ? "" : ", ") + keys.less + " less";
  return text.empty() ? "" : "[" + text + "]";
}

TimedHand hand(Duration after, std::size_t seat, std::size_t control, std::int32_t to_ppm,
               Duration length) {
  return {after, static_cast<std::uint16_t>(seat),
          HandAction{.control = static_cast<std::uint16_t>(control),
                     .to_ppm = to_ppm,
                     .duration = length,
                     .curve = length.ns == 0 ? Curve::kAtOnce : Curve::kLinear}};
}

}  // namespace

KeyHands::KeyHands(const Session& session) {
  for (std::size_t seat = 0; seat < session.seat_count(); ++seat) {
    names_.emplace_back();
    for (const ControlDescription& control : session.panel(seat).description.controls)
      names_.back().push_back(key_name(control));
  }
}

void KeyHands::type(std::string_view bytes, const Session& session, Instant now,
                    HandQueue& queue) {
  for (const char byte : bytes) {
    if (escape_.size() == 2) {
      arrow(byte, session, now, queue);
      escape_.clear();
    } else if (escape_.size() == 1 && (byte == '[' || byte == 'O')) {
      escape_ += byte;
    } else if (byte == '\x1b') {
      escape_ = byte;
    } else {
      escape_.clear();  // the key Esc by itself, which means nothing
      letter(byte, session, now, queue);
    }
  }
}

void KeyHands::arrow(char direction, const Session& session, Instant now, HandQueue& queue) {
  const std::size_t count = session.panel(selection_.seat).description.controls.size();
  if (count == 0) return;
  switch (direction) {
    case 'A': selection_.control = (selection_.control + count - 1) % count; break;
    case 'B': selection_.control = (selection_.control + 1) % count; break;
    case 'C': nudge(selection_.control, 1, session, now, queue); break;
    case 'D': nudge(selection_.control, -1, session, now, queue); break;
    default: break;
  }
}

void KeyHands::letter(char key, const Session& session, Instant now, HandQueue& queue) {
  const auto& controls = session.panel(selection_.seat).description.controls;
  if (key == '?') help_ = !help_;
  if (key == '\t') selection_ = {(selection_.seat + 1) % session.seat_count(), 0};
  if ((key == ' ' || key == '\n') && !controls.empty())
    press(selection_.control, session, now, queue);
  for (std::size_t i = 0; i < controls.size(); ++i) {
    const HandKeys& keys = controls[i].keys;
    if (is_key(keys.hold, key) || is_key(keys.toggle, key)) press(i, session, now, queue);
    if (is_key(keys.more, key)) nudge(i, 1, session, now, queue);
    if (is_key(keys.less, key)) nudge(i, -1, session, now, queue);
  }
}

// From where the control is heading, so that quick keys add up.
void KeyHands::nudge(std::size_t control, int steps, const Session& session, Instant now,
                     HandQueue& queue) {
  const std::size_t seat = selection_.seat;
  const auto of_seat = static_cast<std::uint16_t>(seat);
  const auto of_control = static_cast<std::uint16_t>(control);
  const bool pot = session.panel(seat).description.controls[control].kind == ControlKind::kPot;
  const std::int32_t heading =
      queue.goal_of(of_seat, of_control).value_or(session.device(seat).goal_ppm(control));
  queue.forget(of_seat, of_control);
  const std::int32_t goal = pot ? std::clamp(heading + steps * kNudge, 0, kFullTravel)
                                : (steps > 0 ? kFullTravel : 0);
  queue.add(now, {hand({}, seat, control, goal, pot ? kNudgeLength : Duration{})});
}

void KeyHands::press(std::size_t control, const Session& session, Instant now, HandQueue& queue) {
  const std::size_t seat = selection_.seat;
  const bool down = session.device(seat).position_ppm(control) * 2 >= kFullTravel;
  const ControlKind kind = session.panel(seat).description.controls[control].kind;
  queue.forget(static_cast<std::uint16_t>(seat), static_cast<std::uint16_t>(control));
  if (kind == ControlKind::kSwitch)
    queue.add(now, {hand({}, seat, control, down ? 0 : kFullTravel, {})});
  else if (kind == ControlKind::kButton)
    queue.add(now, {hand({}, seat, control, kFullTravel, {}),
                    hand(down ? kKeyPress : kKeyPressShort, seat, control, 0, {})});
}

}  // namespace understudy
