// Arrow keys arrive as ESC [ A and its kin (ECMA-48 cursor sequences); letters as themselves.
#include "sim/app/key_hands.h"

#include <algorithm>
#include <cctype>

#include "sim/model/kinds.h"

namespace understudy {
namespace {

constexpr std::int32_t kNudge = kFullTravel / 20;
constexpr Duration kNudgeLength = milliseconds(80);
// Longer than a keyboard's first repeat pause, so that holding a key holds the button.
constexpr Duration kKeyPress = milliseconds(600);
constexpr Duration kKeyPressShort = milliseconds(150);
constexpr std::uint8_t kStickY = 1;
constexpr std::uint8_t kStickPress = 2;

bool is_key(const std::string& name, char key) {
  return name.size() == 1 && std::toupper(static_cast<unsigned char>(name[0])) ==
                                 std::toupper(static_cast<unsigned char>(key));
}

// In one order, and a dot where there is no key: "[A D W S, Q]".
std::string stick_keys(const HandKeys& keys) {
  std::string text;
  bool any = false;
  for (const std::string* key : {&keys.less, &keys.more, &keys.up, &keys.down}) {
    const bool shown = key->size() == 1;
    any = any || shown;
    text += (text.empty() ? "" : " ") + (shown ? *key : ".");
  }
  if (!any) text.clear();
  if (keys.hold.size() == 1) text += (any ? ", " : "") + keys.hold;
  return text.empty() ? "" : "[" + text + "]";
}

std::string key_name(const ControlDescription& control) {
  const HandKeys& keys = control.keys;
  if (control.kind == ControlKind::kStick) return stick_keys(keys);
  if (keys.hold.size() == 1) return "[" + keys.hold + "]";
  if (keys.toggle.size() == 1) return "[" + keys.toggle + "]";
  std::string text;
  if (keys.more.size() == 1) text = keys.more + " more";
  if (keys.less.size() == 1) text += (text.empty() ? "" : ", ") + keys.less + " less";
  return text.empty() ? "" : "[" + text + "]";
}

TimedHand hand(Duration after, const HandPlace& place, std::int32_t to_ppm, Duration length) {
  return {after, place.seat,
          HandAction{.control = place.control,
                     .part = place.part,
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

void KeyHands::type(std::string_view bytes, const Session& session, Instant now, HandQueue& queue) {
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
    case 'A':
      selection_.control = (selection_.control + count - 1) % count;
      break;
    case 'B':
      selection_.control = (selection_.control + 1) % count;
      break;
    case 'C':
      nudge(selection_.control, 0, 1, session, now, queue);
      break;
    case 'D':
      nudge(selection_.control, 0, -1, session, now, queue);
      break;
    default:
      break;
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
    if (is_key(keys.more, key)) nudge(i, 0, 1, session, now, queue);
    if (is_key(keys.less, key)) nudge(i, 0, -1, session, now, queue);
    if (is_key(keys.up, key)) nudge(i, kStickY, 1, session, now, queue);
    if (is_key(keys.down, key)) nudge(i, kStickY, -1, session, now, queue);
  }
}

// From where the control is heading, so that quick keys add up.
void KeyHands::nudge(std::size_t control, std::uint8_t part, int step, const Session& session,
                     Instant now, HandQueue& queue) {
  const HandPlace place{.seat = static_cast<std::uint16_t>(selection_.seat),
                        .control = static_cast<std::uint16_t>(control),
                        .part = part};
  const ControlDescription& it = session.panel(place.seat).description.controls[control];
  const std::span<const HandPart> parts = hand_parts(it);
  if (part >= parts.size()) return;  // no hand moves it
  if (parts[part].way == HandWay::kTurns) {
    queue.add(now, {hand({}, place, turn_ppm(step, it.encoder.detents), kClickDefault)});
    return;
  }
  const std::int32_t end = step > 0 ? kFullTravel : 0;
  if (it.kind == ControlKind::kStick && it.stick.springs)
    return push_stick(place, end, session, now, queue);
  const std::int32_t heading = queue.heading_of(place, session);
  queue.forget(place);
  std::int32_t goal = end;
  Duration length;
  if (parts[part].way == HandWay::kSlides) {
    goal = std::clamp(heading + step * kNudge, 0, kFullTravel);
    length = kNudgeLength;
  } else if (parts[part].way == HandWay::kPlaces) {
    const std::int64_t last = it.selector.places - 1;
    goal =
        place_ppm(std::clamp<std::int64_t>(place_at(heading, last + 1) + step, 0, last), last + 1);
  }
  queue.add(now, {hand({}, place, goal, length)});
}

// To the end and back; a key that repeats finds it there and holds it.
void KeyHands::push_stick(const HandPlace& place, std::int32_t goal, const Session& session,
                          Instant now, HandQueue& queue) {
  const ControlDescription& it = session.panel(place.seat).description.controls[place.control];
  const bool there = session.device(place.seat).goal_ppm(place.control, place.part) == goal;
  queue.forget(place);
  queue.add(now, {hand({}, place, goal, there ? Duration{} : kNudgeLength),
                  hand(there ? kKeyPress : kKeyPressShort, place, rest_ppm(it, place.part),
                       kSpringBack)});
}

void KeyHands::press(std::size_t control, const Session& session, Instant now, HandQueue& queue) {
  const std::size_t seat = selection_.seat;
  const ControlDescription& it = session.panel(seat).description.controls[control];
  HandPlace place{.seat = static_cast<std::uint16_t>(seat),
                  .control = static_cast<std::uint16_t>(control),
                  .part = 0};
  if (it.kind == ControlKind::kStick) place.part = kStickPress;
  const std::span<const HandPart> parts = hand_parts(it);
  if (place.part >= parts.size()) return;
  const HandWay way = parts[place.part].way;
  if (way == HandWay::kSlides || way == HandWay::kTurns) return;
  if (way == HandWay::kPlaces) {  // round and round, so that one key reaches every place
    const std::int64_t places = it.selector.places;
    const std::int64_t next = (place_at(queue.heading_of(place, session), places) + 1) % places;
    queue.forget(place);
    queue.add(now, {hand({}, place, place_ppm(next, places), {})});
    return;
  }
  const bool down = session.device(seat).position_ppm(control, place.part) * 2 >= kFullTravel;
  queue.forget(place);
  if (way == HandWay::kToggles)
    queue.add(now, {hand({}, place, down ? 0 : kFullTravel, {})});
  else
    queue.add(now, {hand({}, place, kFullTravel, {}),
                    hand(down ? kKeyPress : kKeyPressShort, place, 0, {})});
}

}  // namespace understudy
