// The verb `serve`: panels in real time behind real links, without a window.
#include <memory>

#include "sim/app/run_loop.h"
#include "sim/app/serve_arguments.h"
#include "sim/app/terminal_front.h"
#include "sim/app/verb.h"

namespace understudy {
namespace {

int serve(const ServeArguments& arguments) {
  TerminalFront front(arguments.session.quiet);
  auto loop = RunLoop::make("serve", arguments, front);
  if (!loop.ok()) return fail("serve", loop.error());
  const auto opened = loop.value()->open();
  if (!opened.ok()) return fail("serve", opened.error());
  return loop.value()->run();
}

VerbRun declare_serve(Arguments& arguments) {
  auto options = std::make_shared<ServeArguments>();
  declare_serve_arguments(arguments, *options);
  arguments.example("understudy serve my.panel.toml -- python3 game.py {port}");
  return [options] { return serve(*options); };
}

}  // namespace

constinit const Verb verb_serve{"serve", VerbGroup::kPlay,
                                "plays panels for games to open, without a window", declare_serve};

}  // namespace understudy
