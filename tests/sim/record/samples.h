// Headers, events of every kind, and owned copies of events, for the tests of recordings.
#pragma once

#include <deque>
#include <string>
#include <vector>

#include "sim/record/event.h"
#include "sim/record/reader.h"

namespace understudy {

inline RecordingHeader sample_header() {
  RecordingHeader header;
  header.model = 3;
  header.seed = 18'446'744'073'709'551'615U;
  header.start = "2026-03-01T19:30:00Z";
  header.program = "understudy 0.1.0";
  header.seats.push_back({.name = "tram",
                          .panel = "panel = \"Tram desk\"  # the \xc3\xbc box\n",
                          .resolved = "panel = \"Tram desk\"\n",
                          .whole_lines = false,
                          .links = {"pty", "tcp 127.0.0.1:7001"}});
  header.seats.back().source = SeatSource::kBox;
  header.seats.push_back(
      {.name = "crane \"2\"", .panel = "", .resolved = "", .whole_lines = true, .links = {}});
  return header;
}

// One event of every kind, in the order of time.
inline std::vector<RecordedEvent> sample_events() {
  using namespace recorded;
  static const std::string kBinary("\x00\xff\x80 a", 5);
  return {
      {Instant{1}, 0, LinkOpened{true}},
      {Instant{2}, 0, LineSettings{115'200, 2}},
      {Instant{3}, 1, ModemLines{true, false}},
      {Instant{4}, 0, HandMoved{"bell", 1'000'000, milliseconds(120), Curve::kLinear}},
      {Instant{5}, 0, HandMoved{"power", 0, Duration{0}, Curve::kAtOnce}},
      {Instant{6}, 0,
       HandMoved{"gr\xc3\xb6\xc3\x9f"
                 "e",
                 12, Duration{7}, Curve::kMinimumJerk}},
      {Instant{7}, 0, HandMoved{"stick", 800'000, Duration{8}, Curve::kMinimumJerk, "x"}},
      {Instant{8}, 1, HandTurned{"focus", -41'667, milliseconds(100), Curve::kLinear}},
      {Instant{9}, 0, SourceChanged{SeatSource::kDevice}},
      {Instant{10}, 0, SourceChanged{SeatSource::kRecording}},
      {Instant{11}, 0, HandHeld{"power", true}},
      {Instant{12}, 0, HandHeld{"stick", false, "x"}},
      {Instant{1'502'000'000}, 0, ToGame{"512,300,1,0,0\n"}},
      {Instant{1'502'000'001}, 0, ToGame{"h\xc3\xa9 \"\\\t\x01\n", 120}},
      {Instant{1'502'000'002}, 1, ToGame{kBinary}},
      {Instant{1'502'000'003}, 0, FromGame{"255,0,0,90\n"}},
      {Instant{1'502'000'004}, 0, OutputSet{"signal_red", -255}},
      {Instant{1'502'000'004}, 0, OutputSet{"glow", 12, "r"}},
      {Instant{1'502'000'005}, 0, Noted{NoteKind::kReceiveOverrun, 3}},
      {Instant{1'502'000'006}, 0, Taken{15}},
      {Instant{1'502'000'007}, 0, Slipped{seconds(3)}},
      {Instant{1'502'000'008}, 0, LinkClosed{}},
      {Instant{1'502'000'008}, 1,
       PanelRead{"panel = \"Crane\"  # the \xc3\xbc box\n", "panel = \"Crane\"\n"}},
      {Instant{1'502'000'009}, kWholeSession, Mark{"the lamp flickered here"}},
      {Instant{10'000'000'000}, kWholeSession, Check{0x0123456789abcdefU, 0}},
      {Instant{10'000'000'000}, kWholeSession, Ended{kEndedComplete}},
  };
}

// An event with its texts, for keeping longer than a reader's views live.
class OwnedEvents {
 public:
  void add(const RecordedEvent& event) {
    RecordedEvent copy = event;
    std::visit([this](auto& it) { own(it); }, copy.what);
    events.push_back(copy);
  }
  std::vector<RecordedEvent> events;

 private:
  std::string_view kept(std::string_view text) { return texts_.emplace_back(text); }
  void own(recorded::ToGame& it) { it.bytes = kept(it.bytes); }
  void own(recorded::FromGame& it) { it.bytes = kept(it.bytes); }
  void own(recorded::OutputSet& it) {
    it.output = kept(it.output);
    it.part = kept(it.part);
  }
  void own(recorded::HandMoved& it) { own_gesture(it); }
  void own(recorded::HandTurned& it) { own_gesture(it); }
  template <class Gesture>
  void own_gesture(Gesture& it) {
    it.control = kept(it.control);
    it.part = kept(it.part);
  }
  void own(recorded::HandHeld& it) { own_gesture(it); }
  void own(recorded::PanelRead& it) {
    it.panel = kept(it.panel);
    it.resolved = kept(it.resolved);
  }
  void own(recorded::Mark& it) { it.text = kept(it.text); }
  void own(recorded::Ended& it) { it.reason = kept(it.reason); }
  template <class Other>
  void own(Other&) {}

  std::deque<std::string> texts_;  // a deque: its strings stay where they are
};

// Everything that a reader gives until its end.
struct ReadAll {
  explicit ReadAll(RecordingReader& reader) {
    for (;;) {
      RecordedEvent event;
      const RecordingReader::Got got = reader.next(event);
      if (got == RecordingReader::Got::kEnd) return;
      if (got == RecordingReader::Got::kEvent)
        owned.add(event);
      else
        problems.push_back(reader.problem());
    }
  }
  OwnedEvents owned;
  std::vector<std::string> problems;
};

}  // namespace understudy
