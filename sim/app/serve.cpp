// The verb `serve`: panels in real time behind real links, without a window.
#include <memory>

#include "sim/app/serve_arguments.h"
#include "sim/app/serve_loop.h"
#include "sim/app/verb.h"

namespace understudy {
namespace {

int serve(const ServeArguments& arguments) {
  auto loop = ServeLoop::open(arguments);
  if (!loop.ok()) return fail("serve", loop.error());
  return loop.value()->run();
}

VerbRun declare_serve(Arguments& arguments) {
  auto options = std::make_shared<ServeArguments>();
  declare_serve_arguments(arguments, *options);
  return [options] { return serve(*options); };
}

}  // namespace

constinit const Verb verb_serve{"serve", VerbGroup::kPlay,
                                "plays panels for games to open, without a window", declare_serve};

}  // namespace understudy
