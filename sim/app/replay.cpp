// The verb `replay`: does a recording still hold, and what did the box say in it. Playing one to a
// game is replay_to_game.h's work.
#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <limits>
#include <memory>

#include "sim/app/program_start.h"
#include "sim/app/replay_to_game.h"
#include "sim/app/verb.h"
#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/record/reader.h"
#include "sim/record/verify.h"

namespace understudy {
namespace {

// How many bad lines are told one by one.
constexpr int kToldMax = 10;

struct ReplayOptions {
  ReplayToGame to_game;  // file and part are the same for all that can be done
  bool verify = false;
  bool to_stdout = false;
};

int refuse(const std::string& text) {
  return fail("replay", {ErrorCode::kUnusable, text});
}

std::string seconds_of(Instant at) {
  char text[40];
  std::snprintf(text, sizeof text, "%.6f s", static_cast<double>(at.ns) / 1e9);
  return text;
}

void tell(const std::string& text) {
  std::fprintf(stderr, "%s\n", text.c_str());
}

// What the verdict leaves open, one sentence each.
std::string reserves_of(const VerifyReport& report) {
  std::string text;
  if (!report.complete) text += ", where the recording was cut off";
  if (report.torn) text += " (its last line is torn and left out)";
  if (report.not_ours > 0)
    text += "; what a box or a recording said itself cannot be said again and was not compared (" +
            std::to_string(report.not_ours) +
            " chunks): the virtual box beside it and what was made of it were";
  if (report.passed_over > 0)
    text += "; " + std::to_string(report.passed_over) +
            " events are of a newer format and were passed over";
  return text;
}

int verify_file(const ReplayOptions& options, RecordingReader& reader) {
  const Result<VerifyReport> result = verify(reader);
  if (!result.ok())
    return fail("replay", {result.error().code, options.to_game.file + ": " + result.error().text});
  const VerifyReport& report = result.value();
  if (report.holds()) {
    if (!options.to_game.serve.session.quiet)
      tell(options.to_game.file + ": the same again: holds up to " + seconds_of(report.until) +
           reserves_of(report) + "; " + std::to_string(report.events) + " events, " +
           std::to_string(report.checks) + (report.checks == 1 ? " fingerprint" : " fingerprints"));
    return kStatusFine;
  }
  std::string text = options.to_game.file + ": ";
  if (report.difference) text += report.difference->sentence();
  if (report.changed_inputs) {
    if (report.difference) text += "\n" + options.to_game.file + ": ";
    text += "line " + std::to_string(report.changed_inputs->before_line) +
            ": this check shows that inputs between it and line " +
            std::to_string(report.changed_inputs->after_line) +
            " were changed after the recording was made";
  }
  return fail("replay", {ErrorCode::kMismatch, text});
}

// The seat whose bytes are wanted: the only one, or the one named.
Result<std::uint16_t> seat_of(const ReplayOptions& options, const RecordingHeader& header) {
  std::vector<std::string> names;
  for (const RecordedSeat& seat : header.seats) names.push_back(seat.name);
  std::string listed;
  for (const std::string& name : names) listed += (listed.empty() ? "" : ", ") + printable(name);
  if (!options.to_game.seat) {
    if (names.size() == 1) return std::uint16_t{0};
    return Error{ErrorCode::kUnusable, options.to_game.file + " has several seats; name one of " +
                                           listed + " with --seat"};
  }
  const auto found = std::find(names.begin(), names.end(), *options.to_game.seat);
  if (found == names.end())
    return Error{ErrorCode::kUnusable, options.to_game.file + " has no seat '" +
                                           printable(*options.to_game.seat) + "'; it has " +
                                           listed};
  return static_cast<std::uint16_t>(found - names.begin());
}

int write_bytes(const ReplayOptions& options, RecordingReader& reader) {
  const Result<std::uint16_t> seat = seat_of(options, reader.header());
  if (!seat.ok()) return fail("replay", seat.error());
  outlive_broken_pipes();
  const std::int64_t from = options.to_game.from.value_or(Duration{}).ns;
  const std::int64_t to =
      options.to_game.to ? options.to_game.to->ns : std::numeric_limits<std::int64_t>::max();
  std::int64_t bad_lines = 0;
  RecordedEvent event;
  for (;;) {
    const RecordingReader::Got got = reader.next(event);
    if (got == RecordingReader::Got::kEnd) break;
    if (got == RecordingReader::Got::kBadLine) {
      if (++bad_lines <= kToldMax)
        tell("understudy replay: " + options.to_game.file + ": " + reader.problem());
      continue;
    }
    const auto* chunk = std::get_if<recorded::ToGame>(&event.what);
    if (chunk == nullptr || event.seat != seat.value()) continue;
    if (event.at.ns < from || event.at.ns > to) continue;
    if (std::fwrite(chunk->bytes.data(), 1, chunk->bytes.size(), stdout) == chunk->bytes.size())
      continue;
    if (errno == EPIPE) return kStatusFine;  // whoever read has enough
    return refuse(std::string("cannot write to standard output: ") + std::strerror(errno));
  }
  if (std::fflush(stdout) != 0 && errno != EPIPE)
    return refuse(std::string("cannot write to standard output: ") + std::strerror(errno));
  if (reader.torn() && !options.to_game.serve.session.quiet)
    tell(options.to_game.file + ": the recording was cut off; its torn end is left out");
  if (bad_lines == 0) return kStatusFine;
  return refuse(options.to_game.file + ": " + std::to_string(bad_lines) +
                " lines were wrong and left out");
}

// What goes together with neither --verify nor --stdout.
bool asks_for_a_game(const ReplayToGame& options) {
  const ServeArguments& serve = options.serve;
  return options.as == ReplayAs::kHands || options.times != 1 || !options.panels.empty() ||
         serve.pty || serve.no_pty || serve.tcp || serve.no_tcp || !serve.serial.empty() ||
         serve.as_if_baud || serve.exclusive || serve.wait_for_game || serve.print_env ||
         serve.speed != 1.0 || !serve.game.empty() || !serve.session.record.empty() ||
         serve.session.force;
}

int replay(const ReplayOptions& options) {
  if (options.verify && options.to_stdout)
    return refuse("--verify and --stdout do not go together");
  if (options.verify && (options.to_game.from || options.to_game.to || options.to_game.seat))
    return refuse("--verify takes the whole recording; leave out --from, --to and --seat");
  if (!options.verify && !options.to_stdout) return replay_to_game(options.to_game);
  if (asks_for_a_game(options.to_game))
    return refuse(std::string(options.verify ? "--verify" : "--stdout") +
                  " plays to no game: leave out --as, --times, --panel, links, recording and game");
  Result<RecordingReader> reader = RecordingReader::open(options.to_game.file);
  if (!reader.ok()) return fail("replay", reader.error());
  return options.verify ? verify_file(options, reader.value())
                        : write_bytes(options, reader.value());
}

VerbRun declare_replay(Arguments& arguments) {
  auto options = std::make_shared<ReplayOptions>();
  ReplayToGame& to_game = options->to_game;
  arguments.positional("FILE", to_game.file, "a recording: .jsonl or .jsonl.zst");
  arguments.option("--as hands|bytes", to_game.as,
                   "hands: a fresh box is moved as recorded and answers the game of now; bytes: "
                   "what went to the game goes to it again; else hands where there are some");
  arguments.option("--times N", to_game.times, "so many times, a second apart");
  arguments.options("--panel FILE", to_game.panels,
                    "hands: on this panel, by the names of its controls; once, or once for each "
                    "seat");
  arguments.flag("--quiet", to_game.serve.session.quiet, "say nothing but errors");
  arguments.heading("which part");
  arguments.option("--from TIME", to_game.from, "from this time since power-on, such as 2s");
  arguments.option("--to TIME", to_game.to, "up to and with this time");
  arguments.option("--seat NAME", to_game.seat, "only this one");
  arguments.heading("instead of playing it to a game");
  arguments.flag("--verify", options->verify,
                 "plays all inputs again and compares all outputs; status 1 where they differ");
  arguments.flag("--stdout", options->to_stdout,
                 "the bytes that went to the game, at once, on standard output");
  declare_recording(arguments, to_game.serve.session);
  declare_links(arguments, to_game.serve);
  declare_game(arguments, to_game.serve);
  arguments.example("understudy replay evening.jsonl -- python3 game.py {port}");
  arguments.example("understudy replay evening.jsonl --verify");
  return [options] { return replay(*options); };
}

}  // namespace

constinit const Verb verb_replay{"replay", VerbGroup::kAfter,
                                 "plays a recording to a game again, or says whether it holds",
                                 declare_replay};

}  // namespace understudy
