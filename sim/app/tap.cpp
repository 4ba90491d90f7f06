// The verb `tap`: between a real box and its game.
#include <memory>
#include <optional>
#include <string>

#include "sim/app/run_loop.h"
#include "sim/app/serve_arguments.h"
#include "sim/app/terminal_front.h"
#include "sim/app/verb.h"

namespace understudy {
namespace {

struct TapOptions {
  std::optional<std::string> panel;
  ServeArguments serve;
};

int tap(TapOptions& options) {
  ServeArguments& arguments = options.serve;
  arguments.session.source = SeatSource::kBox;
  if (options.panel) arguments.session.panels = {*options.panel};
  if (arguments.box.empty())
    return fail("tap", {ErrorCode::kUnusable,
                        "which box? --box PORT says where it is; 'understudy ports' lists the "
                        "ports here"});
  TerminalFront front(arguments.session.quiet);
  auto loop = RunLoop::make("tap", arguments, front);
  if (!loop.ok()) return fail("tap", loop.error());
  const auto opened = loop.value()->open();
  if (!opened.ok()) return fail("tap", opened.error());
  return loop.value()->run();
}

VerbRun declare_tap(Arguments& arguments) {
  auto options = std::make_shared<TapOptions>();
  arguments.positional("[PANEL]", options->panel,
                       "the panel file; without it bytes pass and nothing is known of "
                       "them");
  arguments.option("--box PORT", options->serve.box,
                   "where the box is: a path, a name, or usb:VID:PID[:SERIAL]");
  declare_run(arguments, options->serve.session);
  declare_links(arguments, options->serve);
  arguments.heading("the game");
  arguments.flag("--print-env", options->serve.print_env,
                 "tell what to put before a game's command so that it has modem lines");
  arguments.game(options->serve.game);
  arguments.example("understudy tap my.panel.toml --box /dev/ttyACM0 -- python3 game.py {port}");
  arguments.example("understudy tap --box usb:1209:0001 --record evening.jsonl");
  return [options] { return tap(*options); };
}

}  // namespace

constinit const Verb verb_tap{"tap", VerbGroup::kBox,
                              "stands between a real box and its game, and can take its place",
                              declare_tap};

}  // namespace understudy
