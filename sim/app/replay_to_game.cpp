// Looks the recording through, makes seats of it, and runs them as `serve` does.
#include "sim/app/replay_to_game.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>

#include "sim/app/panel_argument.h"
#include "sim/app/run_loop.h"
#include "sim/app/terminal_front.h"
#include "sim/app/utf8_path.h"
#include "sim/app/verb.h"
#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/model/panel_change.h"
#include "sim/model/version.h"
#include "sim/panel/panel_file.h"
#include "sim/record/recorded_panel.h"
#include "sim/record/survey.h"

namespace understudy {
namespace {

constexpr std::int64_t kTimesMax = 1'000'000;

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

std::string seconds_text(Instant at) {
  return fmt::format("{:.6f} s", static_cast<double>(at.ns) / 1e9);
}

// The recording and what there is in it.
struct Looked {
  RecordingHeader header;
  std::vector<SeatOptions> seats;  // of the header
  RecordingSurvey survey;
  std::vector<std::string> words;  // for people, before it begins
};

Result<Done> check_file(const ReplayToGame& options) {
  std::error_code error;
  const auto file = path_of(options.file);
  if (std::filesystem::exists(file, error) && !std::filesystem::is_regular_file(file, error))
    return unusable("cannot play " + options.file +
                    ": it is read twice, so it has to be a file; write it into one first");
  const std::string& record = options.serve.session.record;
  if (!record.empty() && std::filesystem::equivalent(file, path_of(record), error))
    return unusable("--record " + record + " is the recording that is played; give another name");
  return Done{};
}

Result<Looked> look_through(const ReplayToGame& options) {
  const auto usable = check_file(options);
  if (!usable.ok()) return usable.error();
  auto reader = RecordingReader::open(options.file);
  if (!reader.ok()) return reader.error();
  const auto in_file = [&](const Error& error) {
    return Error{error.code, options.file + ": " + error.text};
  };
  Looked looked{.header = reader.value().header(), .seats = {}, .survey = {}, .words = {}};
  auto seats = recorded_seats(looked.header);
  if (!seats.ok()) return in_file(seats.error());
  looked.seats = std::move(seats).value();
  if (looked.seats.empty()) return in_file(unusable("there is no seat in it to play"));
  auto found = survey(reader.value());
  if (!found.ok()) return in_file(found.error());
  looked.survey = std::move(found).value();
  if (looked.survey.end == Instant{})
    return in_file(unusable("nothing happens in it, so there is nothing to play"));
  if (looked.survey.torn)
    looked.words.push_back(options.file + ": the recording was cut off; its torn end is left out");
  if (looked.survey.passed_over > 0)
    looked.words.push_back(fmt::format("{}: {} events are of a newer format and were passed over",
                                       options.file, looked.survey.passed_over));
  return looked;
}

// The places in the header of the seats to play.
Result<std::vector<std::uint16_t>> chosen_seats(const ReplayToGame& options,
                                                const RecordingHeader& header) {
  std::vector<std::uint16_t> chosen;
  std::string listed;
  for (std::size_t i = 0; i < header.seats.size(); ++i) {
    const std::string& name = header.seats[i].name;
    listed += (i > 0 ? ", " : "") + printable(name);
    if (!options.seat || name == *options.seat) chosen.push_back(static_cast<std::uint16_t>(i));
  }
  if (!chosen.empty()) return chosen;
  return unusable(options.file + " has no seat '" + printable(*options.seat) + "'; it has " +
                  listed);
}

// The panels to play on instead of the recorded ones, for each chosen seat; null: its own.
Result<std::vector<std::shared_ptr<const Panel>>> other_panels(const ReplayToGame& options,
                                                               std::size_t seats) {
  std::vector<std::shared_ptr<const Panel>> panels(seats);
  if (options.panels.empty()) return panels;
  if (options.panels.size() != 1 && options.panels.size() != seats)
    return unusable(
        fmt::format("--panel is needed once for all seats or {} times, once for each; "
                    "given: {}",
                    seats, options.panels.size()));
  for (std::size_t i = 0; i < seats; ++i) {
    const std::size_t given = options.panels.size() == 1 ? 0 : i;
    if (given < i) {
      panels[i] = panels[given];
      continue;
    }
    auto panel = load_panel_argument(options.panels[given]);
    if (!panel.ok()) return panel.error();
    panels[i] = std::move(panel).value();
  }
  return panels;
}

// Says which controls of the recorded panel the other one lacks.
void tell_what_is_not_there(const SeatOptions& seat, const Panel& other, Looked& looked) {
  std::string missing;
  for (const ControlDescription& control : seat.panel->description.controls)
    if (same_control(control, other.description) == nullptr)
      missing += (missing.empty() ? "" : ", ") + printable(control.name);
  if (!missing.empty())
    looked.words.push_back(seat.name + ": " + other.description.name +
                           " has no such control, so hands on it are left out: " + missing);
}

Result<ReplayPlan> plan_of(const ReplayToGame& options, const Looked& looked) {
  if (options.times < 1 || options.times > kTimesMax)
    return unusable(
        fmt::format("--times {}: a number from 1 to {} is needed", options.times, kTimesMax));
  const Instant end = looked.survey.end;
  const Instant from{options.from.value_or(Duration{}).ns};
  const Instant to = options.to ? earlier(Instant{options.to->ns}, end) : end;
  if (from < Instant{} || to < Instant{}) return unusable("--from and --to are times of 0 or more");
  if (from >= end)
    return unusable(fmt::format("--from {} is behind the end of {} at {}",
                                write_duration(*options.from), options.file, seconds_text(end)));
  if (from > to)
    return unusable(fmt::format("--from {} is behind --to {}", write_duration(*options.from),
                                write_duration(*options.to)));
  ReplayPlan plan{
      .path = options.file, .seats = {}, .from = from, .to = to, .times = options.times};
  return plan;
}

// How a seat is played: as asked, or by what there is of it.
Result<ReplayAs> as_of(const ReplayToGame& options, const Looked& looked, std::uint16_t recorded) {
  const SeatOptions& seat = looked.seats[recorded];
  const bool of_a_device = seat.source == SeatSource::kDevice;
  const ReplayAs by_itself =
      of_a_device && looked.survey.hands() > 0 ? ReplayAs::kHands : ReplayAs::kBytes;
  const ReplayAs as = options.as.value_or(by_itself);
  if (as == ReplayAs::kHands && is_bare(*seat.panel))
    return unusable(printable(seat.name) +
                    " was recorded without a panel file, so there is no box "
                    "that hands could move; --as bytes");
  if (as == ReplayAs::kBytes && !options.panels.empty())
    return unusable("--panel plays hands on another panel, and " + printable(seat.name) +
                    " is played as bytes; leave it out, or add --as hands");
  return as;
}

void tell_before(const ReplayToGame& options, Looked& looked) {
  if (looked.header.model != kModelNumber)
    looked.words.push_back(fmt::format(
        "{} was made with model {}, and this program has model {}: the box may answer otherwise "
        "than it did",
        options.file, looked.header.model, kModelNumber));
  if (looked.survey.hands() == 0 && options.as == ReplayAs::kHands)
    looked.words.push_back(options.file + ": no hand moves in it; the box lies untouched");
  if (options.serve.speed != 1.0)
    looked.words.push_back("--speed is for looking only: a game meets other times than recorded");
}

// Seats, their links' names and the recording that moves them.
Result<RunPlan> seats_to_run(const ReplayToGame& options, Looked& looked) {
  const auto chosen = chosen_seats(options, looked.header);
  if (!chosen.ok()) return chosen.error();
  const auto others = other_panels(options, chosen.value().size());
  if (!others.ok()) return others.error();
  auto plan = plan_of(options, looked);
  if (!plan.ok()) return plan.error();
  RunPlan run;
  for (std::size_t i = 0; i < chosen.value().size(); ++i) {
    const std::uint16_t recorded = chosen.value()[i];
    const auto as = as_of(options, looked, recorded);
    if (!as.ok()) return as.error();
    const bool as_bytes = as.value() == ReplayAs::kBytes;
    SeatOptions seat = looked.seats[recorded];
    seat.source = as_bytes ? SeatSource::kRecording : SeatSource::kDevice;
    const auto& other = others.value()[i];
    if (other) tell_what_is_not_there(seat, *other, looked);
    if (other && looked.survey.seats[recorded].reloads > 0)
      looked.words.push_back(seat.name + ": panel files that were read anew are left out");
    if (other) seat.panel = other;
    seat.observed = true;
    const std::string path = !other ? "" : options.panels[options.panels.size() == 1 ? 0 : i];
    run.seats.push_back({.name = seat.name, .path = path, .panel = seat.panel});
    run.options.push_back(std::move(seat));
    plan.value().seats.push_back({.recorded = recorded, .other = other, .as_bytes = as_bytes});
  }
  tell_before(options, looked);
  auto replay = Replay::open(plan.value());
  if (!replay.ok()) return replay.error();
  run.replay = std::move(replay).value();
  return run;
}

// " as hands", " as bytes", or both.
std::string how_played(const RunPlan& run) {
  bool hands = false;
  bool bytes = false;
  for (const SeatOptions& seat : run.options)
    (seat.source == SeatSource::kDevice ? hands : bytes) = true;
  return hands && bytes ? " as hands and bytes" : hands ? " as hands" : " as bytes";
}

}  // namespace

Result<Done> read_argument(std::string_view text, ReplayAs& into) {
  if (text != "hands" && text != "bytes")
    return unusable("'hands' (a fresh box, moved as recorded) or 'bytes' (what went to the game)");
  into = text == "hands" ? ReplayAs::kHands : ReplayAs::kBytes;
  return Done{};
}

int replay_to_game(const ReplayToGame& options) {
  auto looked = look_through(options);
  if (!looked.ok()) return fail("replay", looked.error());
  auto run = seats_to_run(options, looked.value());
  if (!run.ok()) return fail("replay", run.error());
  ServeArguments arguments = options.serve;
  arguments.session.seed = looked.value().header.seed;
  arguments.session.length = run.value().replay->end() - Instant{};
  arguments.session.plays = text_of(path_of(options.file).filename()) + how_played(run.value());
  TerminalFront front(arguments.session.quiet);
  auto loop = RunLoop::make("replay", arguments, std::move(run).value(), front);
  if (!loop.ok()) return fail("replay", loop.error());
  for (const std::string& words : looked.value().words) loop.value()->say({.text = words});
  const auto opened = loop.value()->open();
  if (!opened.ok()) return fail("replay", opened.error());
  return loop.value()->run();
}

}  // namespace understudy
