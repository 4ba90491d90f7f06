// What a verb of the command line is. To add one, say `frob`:
//
//   1. sim/app/frob.cpp defines it (below) and is listed in sim/app/CMakeLists.txt;
//   2. sim/app/verb_table.h gets the line `VERB(frob)` at its place in the help.
//
//   namespace understudy {
//   namespace {
//   struct FrobOptions {
//     std::vector<std::string> panels;
//     std::optional<Duration> length;
//     bool as_json = false;
//   };
//   int frob(const FrobOptions& options) {
//     const auto panel = load_panel_argument(options.panels.front());
//     if (!panel.ok()) return fail("frob", panel.error());
//     return kStatusFine;
//   }
//   VerbRun declare_frob(Arguments& arguments) {
//     auto options = std::make_shared<FrobOptions>();
//     arguments.positional("PANEL...", options->panels, "panel files");
//     arguments.option("--for TIME", options->length, "how long, such as 3s");
//     arguments.flag("--json", options->as_json, "the answer as JSON");
//     return [options] { return frob(*options); };
//   }
//   }  // namespace
//   constinit const Verb verb_frob{"frob", VerbGroup::kDescribe, "frobs panels", declare_frob};
//   }  // namespace understudy
//
// Declaring must be cheap and silent: `--help` declares too. The verb's work happens in the run.
#pragma once

#include <functional>
#include <string_view>

#include "sim/app/arguments.h"
#include "sim/app/verb_table.h"
#include "sim/base/result.h"

namespace understudy {

// Exit statuses of the whole program. Signals end it with 130 and 143.
inline constexpr int kStatusFine = 0;
inline constexpr int kStatusFailed = 1;      // a test, a verification or the game failed
inline constexpr int kStatusUnusable = 2;    // unusable arguments or files
inline constexpr int kStatusLinkFailed = 3;  // a link or port failed

// The headings of `understudy --help`, in their order.
enum class VerbGroup { kPlay, kDescribe, kBox, kAfter, kProve, kProgram };

// Does the verb's work once its arguments are in place; gives the exit status.
using VerbRun = std::function<int()>;

struct Verb {
  std::string_view name;
  VerbGroup group;
  std::string_view summary;  // for the list in --help: at most 70 columns, lower case
  VerbRun (*declare)(Arguments& arguments);
};

// Each verb of the table, as its file defines it.
#define VERB(name) extern const Verb verb_##name;
UNDERSTUDY_VERBS(VERB)
#undef VERB

// The exit status that an error's code asks for.
int status_of(const Error& error);

// Tells `error` on standard error, one "understudy VERB: ..." for each of its lines, and gives its
// status: `return fail("check", result.error());`
int fail(std::string_view verb, const Error& error);

}  // namespace understudy
