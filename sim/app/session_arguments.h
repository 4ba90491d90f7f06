// The arguments that every verb with a running session shares, and the seats they ask for.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/app/arguments.h"
#include "sim/record/session_recorder.h"
#include "sim/session/session.h"

namespace understudy {

struct SessionArguments {
  std::vector<std::string> panels;
  int copies = 1;
  std::uint64_t seed = 1;
  std::optional<Duration> length;  // --for
  std::optional<PlayKind> play;
  bool whole_lines = false;
  std::string record;  // empty: none
  bool force = false;
  bool quiet = false;
  std::string plays;                        // "evening.jsonl as hands", for a recording's header
  SeatSource source = SeatSource::kDevice;  // of all seats, at the start
};

Result<Done> read_argument(std::string_view text, PlayKind& into);

// Those that every such verb has: the seed, how long, quiet, the recording.
void declare_run(Arguments& arguments, SessionArguments& into);
// Declares all but the panels.
void declare_session(Arguments& arguments, SessionArguments& into);
// Of those, the ones about recording.
void declare_recording(Arguments& arguments, SessionArguments& into);

// One seat to be: its name (the file's, numbered where several would share it), its panel.
struct SeatPlan {
  std::string name;
  std::string path;
  std::shared_ptr<const Panel> panel;
};

// Reads the panels; without any, and another source than the device, one seat of which nothing is
// known. Errors as load_panel's, all files' in one, and for copies below 1 or above 500.
Result<std::vector<SeatPlan>> plan_seats(const SessionArguments& arguments);

// What the session adds; `observed` as in SeatOptions.
std::vector<SeatOptions> seat_options(const SessionArguments& arguments,
                                      const std::vector<SeatPlan>& seats, bool observed);

// A session at time zero with these seats.
Session make_session(const SessionArguments& arguments, const std::vector<SeatOptions>& seats);

// Begins the recording asked for; nothing where none was. `links` has one list for each seat.
Result<std::unique_ptr<SessionRecorder>> begin_recording(
    const SessionArguments& arguments, const std::vector<SeatOptions>& seats,
    const std::vector<std::vector<std::string>>& links, WhenRingFull when_full);

// The fingerprint as people and recordings write it: sixteen hexadecimal digits.
std::string written_fingerprint(std::uint64_t fingerprint);

}  // namespace understudy
