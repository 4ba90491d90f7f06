// What a recording is made of: one header and many events, as plain values. How they are written as
// text is event_text.h and docs/recording.md; files are the writer's and the reader's work.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "sim/base/time.h"
#include "sim/model/inputs.h"
#include "sim/model/outputs.h"

namespace understudy {

// The format that this program writes. A reader refuses another major number; a higher minor number
// only adds keys and events, which an older reader passes over.
inline constexpr int kRecordingMajor = 1;
inline constexpr int kRecordingMinor = 3;

// What a line of a recording may have, without its line feed. A reader passes longer events over
// and names them; a writer refuses a longer header.
inline constexpr std::size_t kHeaderLineBytesMax = 32 * 1024 * 1024;
inline constexpr std::size_t kEventLineBytesMax = 8 * 1024 * 1024;

struct RecordedSeat {
  std::string name;
  std::string panel;     // the panel file's text as read
  std::string resolved;  // the same with every key and its value, as TOML
  bool whole_lines = false;
  SeatSource source = SeatSource::kDevice;  // at the start
  std::vector<std::string> links;           // as people read them: "pty", "tcp 127.0.0.1:7001"
  friend bool operator==(const RecordedSeat&, const RecordedSeat&) = default;
};

struct RecordingHeader {
  int minor = kRecordingMinor;  // of the format that it was written in
  int model = 0;                // kModelNumber of the program that recorded
  std::uint64_t seed = 0;
  std::string
      start;  // calendar time of the start as text, handed in by the caller; only for people
  std::string program;  // such as "understudy 0.1.0"; only for people
  std::vector<RecordedSeat> seats;
  friend bool operator==(const RecordingHeader&, const RecordingHeader&) = default;
};

// Events carry views, so that neither writing nor reading one allocates. A view that a reader gave
// lives until the reader's next call.
namespace recorded {

// One flush chunk for the game; the event's time is when it was due.
struct ToGame {
  std::string_view bytes;
  std::int64_t late_us = 0;  // when the link had taken its last byte, minus due; 0 below 50
  friend bool operator==(const ToGame&, const ToGame&) = default;
};
struct OutputSet {
  std::string_view output;     // its name in the panel
  std::int64_t number = 0;     // the wire number
  std::string_view part = {};  // of an output that has some, such as "r"
  friend bool operator==(const OutputSet&, const OutputSet&) = default;
};
struct Noted {
  NoteKind kind = NoteKind::kRestarted;
  std::int64_t count = 0;
  friend bool operator==(const Noted&, const Noted&) = default;
};
// Bytes that the game wrote; the event's time is the stamp.
struct FromGame {
  std::string_view bytes;
  friend bool operator==(const FromGame&, const FromGame&) = default;
};
// A gesture; see HandAction for what the members mean.
struct HandMoved {
  std::string_view control;  // its name in the panel
  std::int64_t to_ppm = 0;
  Duration duration = {};
  Curve curve = Curve::kAtOnce;
  std::string_view part = {};  // of a control that has some, such as "x"
  friend bool operator==(const HandMoved&, const HandMoved&) = default;
};
// A gesture that turns something round and round, by so much.
struct HandTurned {
  std::string_view control;
  std::int64_t by_ppm = 0;
  Duration duration = {};
  Curve curve = Curve::kAtOnce;
  std::string_view part = {};
  friend bool operator==(const HandTurned&, const HandTurned&) = default;
};
// The panel file was read anew: its text, and the same with every key and its value.
struct PanelRead {
  std::string_view panel;
  std::string_view resolved;
  friend bool operator==(const PanelRead&, const PanelRead&) = default;
};
// A control is held in the box's place, or let go.
struct HandHeld {
  std::string_view control;
  bool held = true;
  std::string_view part = {};
  friend bool operator==(const HandHeld&, const HandHeld&) = default;
};
// Something somebody wished to find again. REQUIRES: valid UTF-8
struct Mark {
  std::string_view text;
  friend bool operator==(const Mark&, const Mark&) = default;
};
// The session's fingerprint at this time, and a digest of all inputs recorded so far.
struct Check {
  std::uint64_t fingerprint = 0;
  std::uint64_t inputs = 0;
  friend bool operator==(const Check&, const Check&) = default;
};
// The last event: nothing follows by intent. `reason` is kEndedComplete or why it broke off.
struct Ended {
  std::string_view reason;
  friend bool operator==(const Ended&, const Ended&) = default;
};

using What = std::variant<ToGame, OutputSet, Noted, FromGame, HandMoved, LinkOpened, LinkClosed,
                          LineSettings, ModemLines, Taken, Slipped, Mark, Check, Ended, HandTurned,
                          PanelRead, SourceChanged, HandHeld>;

}  // namespace recorded

inline constexpr std::string_view kEndedComplete = "complete";
inline constexpr std::string_view kEndedLeft = "the program left before the end";

// Marks, checks and the ending belong to no seat.
inline constexpr std::uint16_t kWholeSession = 0xffff;

struct RecordedEvent {
  Instant at;
  std::uint16_t seat = kWholeSession;  // its place in RecordingHeader::seats
  recorded::What what;
  friend bool operator==(const RecordedEvent&, const RecordedEvent&) = default;
};

}  // namespace understudy
