// What comes into a virtual box from outside: all of it is stamped, recorded and replayed.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <variant>

#include "sim/base/time.h"

namespace understudy {

struct Panel;

inline constexpr std::int32_t kFullTravel = 1'000'000;          // the high end, down, pressed
inline constexpr Duration kGestureLengthMax = seconds(86'400);  // a longer one is cut to this

enum class Curve : std::uint8_t { kAtOnce, kLinear, kMinimumJerk };

// One movement of one part of a control (hand_parts() in kinds.h), from where it is to `to_ppm`
// (0 = low end, up, open; 1'000'000 = high end, down, pressed), taking `duration`. A button or
// switch changes at half way. What turns round and round is turned *by* `to_ppm`, 1'000'000 a turn,
// from where it was going, and comes to rest on the nearest detent.
struct HandAction {
  std::uint16_t control = 0;  // its place in PanelDescription::controls
  std::uint8_t part = 0;      // which part of it; 0 where there is one
  std::int32_t to_ppm = 0;
  Duration duration = {};
  Curve curve = Curve::kAtOnce;
  friend bool operator==(const HandAction&, const HandAction&) = default;
};

// The game opened the port. `dtr` is true where it was raised with it (and taken so where the
// link cannot see it).
// `takes_at_once`: the game takes every byte as it comes, or the link cannot see when it does; the
// host buffer then never fills.
struct LinkOpened {
  bool dtr = true;
  bool takes_at_once = false;
  friend bool operator==(const LinkOpened&, const LinkOpened&) = default;
};
struct LinkClosed {
  friend bool operator==(const LinkClosed&, const LinkClosed&) = default;
};
// The game set its end of the line; baud 0 means unknown or not set.
struct LineSettings {
  std::int64_t baud = 0;
  int stop_bits = 1;
  friend bool operator==(const LineSettings&, const LineSettings&) = default;
};
struct ModemLines {
  bool dtr = false;
  bool rts = false;
  friend bool operator==(const ModemLines&, const ModemLines&) = default;
};
// The game has taken so many bytes out of the host buffer.
struct Taken {
  std::int64_t bytes = 0;
  friend bool operator==(const Taken&, const Taken&) = default;
};
// The clock slipped by so much: the machine slept or stood still.
struct Slipped {
  Duration by = {};
  friend bool operator==(const Slipped&, const Slipped&) = default;
};
// Bytes that the game wrote, as read in one go. How they were cut into reads never matters.
struct BytesFromGame {
  std::string bytes;
  friend bool operator==(const BytesFromGame&, const BytesFromGame&) = default;
};

// Where a seat's bytes come from: its virtual box, a real one, or a recording played as bytes.
enum class SeatSource : std::uint8_t { kDevice, kBox, kRecording };

// Bytes that a real box, or a recording played as bytes, sent towards the game, as read in one go.
// While the seat's source is the device, they go nowhere.
struct BoxBytes {
  std::string bytes;
  friend bool operator==(const BoxBytes&, const BoxBytes&) = default;
};
// From now on the seat's bytes come from there; the game is none the wiser.
struct SourceChanged {
  SeatSource source = SeatSource::kDevice;
  friend bool operator==(const SourceChanged&, const SourceChanged&) = default;
};
// A hand holds a part of a control in the place of the box (or recording), whose own value is
// overridden by the virtual box's until it is let go. While the device is the source it changes
// nothing.
struct ControlHeld {
  std::uint16_t control = 0;  // its place in PanelDescription::controls
  std::uint8_t part = 0;      // as in HandAction
  bool held = true;           // false: let go
  friend bool operator==(const ControlHeld&, const ControlHeld&) = default;
};

// The panel file was read anew. What changes at once, what makes the board start anew and what
// waits for the next opening of the port: panel_change.h.
struct PanelReloaded {
  std::shared_ptr<const Panel> panel;  // not null
  // By the text as read and by the description.
  friend bool operator==(const PanelReloaded& a, const PanelReloaded& b);
};

// Same instant: the order of the classes decides, then the order given. A reload goes first, before
// all else that has to do with link and power: whatever comes at its instant means the new panel.
// Of several reloads at one instant the last counts.
enum class InputClass : std::uint8_t {
  kReload,
  kLinkAndPower,
  kHandsAndFaults,
  kBytesFromGame,
  kBytesFromBox,
};

struct Input {
  Instant at;
  std::variant<LinkOpened, LinkClosed, LineSettings, ModemLines, Taken, Slipped, HandAction,
               BytesFromGame, PanelReloaded, BoxBytes, SourceChanged, ControlHeld>
      what;
  friend bool operator==(const Input&, const Input&) = default;
};

// Class of an input: reloads, then link events, slips and changes of the source, then hands, then
// bytes from the game, then those from the box.
InputClass class_of(const Input& input);

}  // namespace understudy
