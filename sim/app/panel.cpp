// The verb `panel`: panels in real time behind real links, in a window. The window is a program of
// its own beside this one, so that all other verbs run where there is no library for windows.
#include <memory>

#include "sim/app/panel_arguments.h"
#include "sim/app/window_program.h"

namespace understudy {
namespace {

struct PanelWords {
  PanelArguments arguments;  // read here too, so that a mistake is told before anything else is
  std::vector<std::string> words;
};

VerbRun declare_panel(Arguments& arguments) {
  auto options = std::make_shared<PanelWords>();
  declare_panel_arguments(arguments, options->arguments);
  arguments.keep_words(options->words);
  return [options] { return fail("panel", run_window_program(options->words)); };
}

}  // namespace

constinit const Verb verb_panel{"panel", kPanelGroup, kPanelSummary, declare_panel};

}  // namespace understudy
