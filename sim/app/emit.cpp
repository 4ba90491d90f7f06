// The verb `emit`: a panel in virtual time, its bytes on standard output, as fast as it can.
#include <unistd.h>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>

#include "sim/app/program_start.h"
#include "sim/app/said_hands.h"
#include "sim/app/session_arguments.h"
#include "sim/app/verb.h"
#include "sim/base/units.h"

namespace understudy {
namespace {

constexpr Duration kEmitDefault = seconds(10);
constexpr Duration kStepLength = seconds(10);

struct EmitOptions {
  SessionArguments session;
  std::vector<std::string> hands;
};

// Writes all of it. False where standard output is closed or full; errno says which.
bool write_out(std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = write(STDOUT_FILENO, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

int emit(const EmitOptions& options) {
  outlive_broken_pipes();
  auto seats = plan_seats(options.session);
  if (!seats.ok()) return fail("emit", seats.error());
  auto inputs = said_hands(options.hands, seats.value());
  if (!inputs.ok()) return fail("emit", inputs.error());
  const std::vector<SeatOptions> added = seat_options(options.session, seats.value(), false);
  auto recorder =
      begin_recording(options.session, added, {{"standard output"}}, WhenRingFull::kWaits);
  if (!recorder.ok()) return fail("emit", recorder.error());

  Session session = make_session(options.session, added);
  SessionOutputs outputs;
  const Instant end{options.session.length.value_or(kEmitDefault).ns};
  std::span<const SeatInput> left = inputs.value();
  while (session.now() < end) {
    const Instant until = earlier(end, session.now() + kStepLength);
    const auto due = take_due(left, until);
    session.step(until, due, outputs);
    if (recorder.value()) recorder.value()->step(due, outputs, std::nullopt);
    if (write_out(outputs.seats.front().bytes)) continue;
    if (errno == EPIPE) break;  // whoever read has enough
    return fail("emit", {ErrorCode::kUnusable,
                         std::string("cannot write to standard output: ") + std::strerror(errno)});
  }
  if (recorder.value()) {
    const auto ended = recorder.value()->end(session);
    if (!ended.ok()) return fail("emit", ended.error());
  }
  if (!options.session.quiet && session.device(0).starting())
    std::fputs("no line yet: the board was still starting; give it longer with --for\n", stderr);
  if (!options.session.quiet)
    std::fprintf(stderr, "emitted %s of virtual time, fingerprint %s\n",
                 write_duration(session.now() - Instant{}).c_str(),
                 written_fingerprint(session.fingerprint()).c_str());
  return kStatusFine;
}

VerbRun declare_emit(Arguments& arguments) {
  auto options = std::make_shared<EmitOptions>();
  arguments.positional("PANEL", options->session.panels.emplace_back(), "a panel file");
  arguments.options("--hand TEXT", options->hands,
                    "a hand's movement, such as 'bell press from 2s'");
  declare_session(arguments, options->session);
  arguments.example("understudy emit scenarios/tram/tram.panel.toml --for 3s");
  return [options] { return emit(*options); };
}

}  // namespace

constinit const Verb verb_emit{"emit", VerbGroup::kPlay,
                               "virtual time, bytes to standard output, as fast as it can",
                               declare_emit};

}  // namespace understudy
