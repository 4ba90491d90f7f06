// The program `understudy-window`: the verb `panel` where the window is. The window keeps to the
// first thread, as SDL wants; the session runs on another.
#include <algorithm>
#include <memory>
#include <thread>

#include "sim/app/panel_arguments.h"
#include "sim/app/picture.h"
#include "sim/app/program.h"
#include "sim/app/program_start.h"
#include "sim/app/review_loop.h"
#include "sim/app/run_loop.h"
#include "sim/app/window_front.h"
#include "sim/faults/hand_words.h"
#include "sim/window/window.h"

namespace understudy {
namespace {

WindowOptions window_options(const PanelArguments& arguments) {
  return {.width = arguments.size.width,
          .height = arguments.size.height,
          .beside_game = !arguments.serve.game.empty(),
          .scale = arguments.scale,
          .compact = arguments.compact,
          .on_top = arguments.on_top,
          .picture = arguments.picture,
          .picture_after = arguments.serve.session.length.value_or(kPictureAfterDefault),
          .forget = !arguments.picture.empty()};
}

// The window until it is closed or what it shows is over; then that is. `run` gives a status.
template <class Run>
int in_window(const WindowOptions& options, Exchange& exchange, Run run) {
  int status = kStatusFine;
  std::thread session([&] { status = run(); });
  const auto shown = run_window(options, exchange);
  exchange.wish(LeaveWish{});
  session.join();
  return shown.ok() ? status : std::max(status, fail("panel", shown.error()));
}

bool is_recording(const std::string& path) {
  return path.ends_with(".jsonl") || path.ends_with(".jsonl.zst");
}

int refuse_recording(const std::string& text) {
  return fail("panel", {ErrorCode::kUnusable, text});
}

// A recording is looked at, with the time line.
int review(const PanelArguments& arguments) {
  const auto& files = arguments.serve.session.panels;
  const std::string& file = *std::find_if(files.begin(), files.end(), is_recording);
  if (files.size() > 1)
    return refuse_recording("a recording is looked at alone; name only " + file);
  if (!arguments.serve.game.empty() || !arguments.hands.empty())
    return refuse_recording("in " + file +
                            " game and hands are those of the recording; `understudy replay` plays "
                            "one to a game");
  auto reader = RecordingReader::open(file);
  if (!reader.ok()) return fail("panel", reader.error());
  auto opened = Review::open(reader.value());
  if (!opened.ok()) return refuse_recording(file + ": " + opened.error().text);
  const WindowOptions options = window_options(arguments);
  const auto display = open_display(options);
  if (!display.ok()) return fail("panel", display.error());
  Exchange exchange;
  ReviewLoop loop(opened.value(), file, exchange);
  const bool picture = !arguments.picture.empty();
  loop.begin_at(picture ? Instant{options.picture_after.ns} : Instant{});
  if (picture) {
    loop.show();
    const auto shown = run_window(options, exchange);
    return shown.ok() ? kStatusFine : fail("panel", shown.error());
  }
  return in_window(options, exchange, [&] { return loop.run(); });
}

int panel(const PanelArguments& arguments) {
  const auto& files = arguments.serve.session.panels;
  if (std::any_of(files.begin(), files.end(), is_recording)) return review(arguments);
  const WindowOptions options = window_options(arguments);
  const bool picture = !arguments.picture.empty();
  Exchange exchange;
  if (picture && !arguments.serve.box.empty())
    return fail("panel", {ErrorCode::kUnusable,
                          "--picture shows a virtual panel; it does not go with --box"});
  if (picture && arguments.serve.game.empty()) {
    const auto played = play_for_picture(arguments, exchange);
    if (!played.ok()) return fail("panel", played.error());
    const auto shown = run_window(options, exchange);
    return shown.ok() ? kStatusFine : fail("panel", shown.error());
  }
  WindowFront front(exchange, arguments.serve.session.quiet);
  ServeArguments serve = arguments.serve;
  if (!serve.box.empty()) serve.session.source = SeatSource::kBox;
  if (picture) serve.session.length.reset();  // the picture is at its end, and the end its own
  auto loop = RunLoop::make("panel", serve, front);
  if (!loop.ok()) return fail("panel", loop.error());
  for (const std::string& words : arguments.hands) {
    const auto wrong =
        says_nothing(words) ? std::optional(nothing_said()) : loop.value()->obey(words);
    if (wrong) return fail("panel", *wrong);
  }
  const auto display = open_display(options);
  if (!display.ok()) return fail("panel", display.error());
  const auto opened = loop.value()->open();
  if (!opened.ok()) return fail("panel", opened.error());
  return in_window(options, exchange, [&] { return loop.value()->run(); });
}

VerbRun declare(Arguments& arguments) {
  auto options = std::make_shared<PanelArguments>();
  declare_panel_arguments(arguments, *options);
  return [options] { return panel(*options); };
}

constexpr Verb kPanel{"panel", kPanelGroup, kPanelSummary, declare};

}  // namespace
}  // namespace understudy

int main(int count, char** words) {
  const understudy::Verb* const verbs[] = {&understudy::kPanel};
  return understudy::run_program(understudy::start_program(count, words), verbs);
}
