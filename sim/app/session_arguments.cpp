// Shared arguments, and the seats made of them.
#include "sim/app/session_arguments.h"

#include <algorithm>
#include <map>

#include "sim/app/calendar.h"
#include "sim/app/panel_argument.h"
#include "sim/app/utf8_path.h"
#include "sim/base/text.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

constexpr int kCopiesMax = 500;

// "some/where/tram.panel.toml" -> "tram"; characters that a line of words cannot carry become "-".
std::string seat_name_of(const std::string& path) {
  std::string name = text_of(path_of(path).filename());
  for (const std::string_view ending : {".toml", ".panel"})
    if (name.ends_with(ending)) name.resize(name.size() - ending.size());
  for (char& c : name)
    if (static_cast<unsigned char>(c) <= ' ' || c == '/' || c == '=') c = '-';
  return name.empty() || !is_valid_utf8(name) ? "panel" : name;
}

void number_the_doubles(std::vector<SeatPlan>& seats) {
  std::map<std::string, int> wanted;
  for (const SeatPlan& seat : seats) ++wanted[seat.name];
  std::map<std::string, int> given;
  for (SeatPlan& seat : seats)
    if (wanted[seat.name] > 1) {
      const int number = ++given[seat.name];
      seat.name += "-" + std::to_string(number);
    }
}

}  // namespace

Result<Done> read_argument(std::string_view text, PlayKind& into) {
  const auto kind = play_kind(text);
  if (!kind)
    return Error{ErrorCode::kUnusable,
                 "'wander' (as an idle person would) or 'sweep' (each control in turn)"};
  into = *kind;
  return Done{};
}

void declare_run(Arguments& arguments, SessionArguments& into) {
  arguments.option("--seed N", into.seed, "of all chance in the run; the same again plays alike");
  arguments.option("--for TIME", into.length, "stop after so long, such as 3s or 24h");
  arguments.flag("--quiet", into.quiet, "say nothing but errors");
  declare_recording(arguments, into);
}

void declare_recording(Arguments& arguments, SessionArguments& into) {
  arguments.heading("recording");
  arguments.option("--record FILE", into.record, "write all that passes; .jsonl or .jsonl.zst");
  arguments.flag("--force", into.force, "overwrite an existing file");
}

void declare_session(Arguments& arguments, SessionArguments& into) {
  arguments.option("--copies N", into.copies, "so many boxes of each panel");
  arguments.option("--play wander|sweep", into.play, "hands that move by themselves");
  arguments.flag("--whole-lines", into.whole_lines,
                 "each line at once, not byte by byte: kinder than any box");
  declare_run(arguments, into);
}

Result<std::vector<SeatPlan>> plan_seats(const SessionArguments& arguments) {
  if (arguments.copies < 1 || arguments.copies > kCopiesMax)
    return Error{ErrorCode::kUnusable, "--copies " + std::to_string(arguments.copies) +
                                           ": a number from 1 to " + std::to_string(kCopiesMax) +
                                           " is needed"};
  std::vector<SeatPlan> seats;
  std::string mistakes;
  for (const std::string& path : arguments.panels) {
    auto panel = load_panel_argument(path);
    if (!panel.ok()) {
      mistakes += (mistakes.empty() ? "" : "\n") + panel.error().text;
      continue;
    }
    for (int copy = 0; copy < arguments.copies; ++copy)
      seats.push_back({seat_name_of(path), path, panel.value()});
  }
  if (!mistakes.empty()) return Error{ErrorCode::kUnusable, mistakes};
  if (seats.empty() && arguments.source != SeatSource::kDevice)
    seats.push_back({"box", "", bare_panel("box")});
  number_the_doubles(seats);
  return seats;
}

std::vector<SeatOptions> seat_options(const SessionArguments& arguments,
                                      const std::vector<SeatPlan>& seats, bool observed) {
  std::vector<SeatOptions> options;
  for (const SeatPlan& seat : seats)
    options.push_back({.name = seat.name,
                       .panel = seat.panel,
                       .whole_lines = arguments.whole_lines,
                       .play = arguments.play,
                       .observed = observed,
                       .source = arguments.source});
  return options;
}

Session make_session(const SessionArguments& arguments, const std::vector<SeatOptions>& seats) {
  Session session(arguments.seed);
  for (const SeatOptions& seat : seats) session.add_seat(seat);
  return session;
}

Result<std::unique_ptr<SessionRecorder>> begin_recording(
    const SessionArguments& arguments, const std::vector<SeatOptions>& seats,
    const std::vector<std::vector<std::string>>& links, WhenRingFull when_full) {
  if (arguments.record.empty()) return std::unique_ptr<SessionRecorder>();
  std::string program = "understudy " UNDERSTUDY_VERSION;
  if (!arguments.plays.empty()) program += ", playing " + arguments.plays;
  return SessionRecorder::begin(
      {.file = {.path = arguments.record, .force = arguments.force, .when_full = when_full},
       .seed = arguments.seed,
       .seats = seats,
       .links = links,
       .start = calendar_now(),
       .program = program});
}

std::string written_fingerprint(std::uint64_t fingerprint) {
  std::string text(16, '0');
  for (std::size_t i = 16; i-- > 0; fingerprint >>= 4)
    text[i] = "0123456789abcdef"[fingerprint & 15];
  return text;
}

}  // namespace understudy
