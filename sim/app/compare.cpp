// The verb `compare`: recordings of the same hands against the first of them. The work is done by
// sim/record/compare.h.
#include <cstdio>
#include <memory>

#include "sim/app/compare_text.h"
#include "sim/app/verb.h"
#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/record/survey.h"

namespace understudy {
namespace {

struct CompareArguments {
  std::vector<std::string> files;
  CompareOptions options;
  bool as_json = false;
  bool quiet = false;
};

Result<Done> read_align(std::string_view text, Align& into) {
  if (text.empty())
    return Error{ErrorCode::kUnusable, "'hand', 'start', 'opened', or a control's name"};
  into.by = text == "hand"     ? AlignBy::kFirstHand
            : text == "start"  ? AlignBy::kStart
            : text == "opened" ? AlignBy::kOpened
                               : AlignBy::kControl;
  into.control = into.by == AlignBy::kControl ? text : "";
  return Done{};
}

Error in_file(const std::string& file, const Error& error) {
  return {error.code, error.text.starts_with(file) ? error.text : file + ": " + error.text};
}

// Whether hands and outputs are recorded, or only what went over the line.
Result<PerformanceFrom> look(const std::string& file) {
  auto reader = RecordingReader::open(file);
  if (!reader.ok()) return reader.error();
  const auto found = survey(reader.value());
  if (!found.ok()) return in_file(file, found.error());
  std::int64_t outputs = 0;
  std::int64_t from_game = 0;
  for (const SurveyedSeat& seat : found.value().seats) {
    outputs += seat.outputs;
    from_game += seat.from_game;
  }
  bool of_a_box = false;  // only what was held in its place was a hand's
  for (const RecordedSeat& seat : reader.value().header().seats)
    of_a_box = of_a_box || seat.source == SeatSource::kBox;
  return PerformanceFrom{.lines_for_hands = of_a_box || found.value().hands() == 0,
                         .lines_for_outputs = outputs == 0 && from_game > 0};
}

Result<Named> read(const std::string& file, const PerformanceFrom& from) {
  auto reader = RecordingReader::open(file);
  if (!reader.ok()) return reader.error();
  auto performance = read_performance(reader.value(), from);
  if (!performance.ok()) return in_file(file, performance.error());
  return Named{file, std::move(performance).value()};
}

ComparedFile compare_one(const Named& a, const std::string& file, const PerformanceFrom& from,
                         const CompareOptions& options) {
  auto b = read(file, from);
  if (!b.ok()) return {.b = {file, {}}, .comparison = std::nullopt, .why_not = b.error().text};
  auto comparison = compare(a, b.value(), options);
  if (!comparison.ok())
    return {
        .b = std::move(b).value(), .comparison = std::nullopt, .why_not = comparison.error().text};
  ComparedFile compared{
      .b = std::move(b).value(), .comparison = std::move(comparison).value(), .why_not = ""};
  compared.b.performance.changes = {};  // thirty long ones would fill the memory
  return compared;
}

// Lines stand in for hands or outputs in all, where they have to in one.
Result<PerformanceFrom> look_at_all(const std::vector<std::string>& files) {
  PerformanceFrom from;
  for (const std::string& file : files) {
    const auto looked = look(file);
    if (!looked.ok()) {
      if (file == files.front()) return looked.error();
      continue;  // it is told with what it would be compared
    }
    from.lines_for_hands = from.lines_for_hands || looked.value().lines_for_hands;
    from.lines_for_outputs = from.lines_for_outputs || looked.value().lines_for_outputs;
  }
  return from;
}

int status_of(const ComparedFiles& files) {
  int status = kStatusFine;
  for (const ComparedFile& file : files.others) {
    if (!file.comparison) return kStatusUnusable;
    if (file.comparison->unlike() > 0) status = kStatusFailed;
  }
  return status;
}

int compare_files(const CompareArguments& arguments) {
  const auto refuse = [](const std::string& text) {
    return fail("compare", {ErrorCode::kUnusable, text});
  };
  if (arguments.files.size() < 2)
    return refuse("one recording is compared with nothing; give two or more");
  if (arguments.options.tolerance < Duration{})
    return refuse("--tolerance needs a time of 0 or more, such as 50ms");
  const auto from = look_at_all(arguments.files);
  if (!from.ok()) return fail("compare", from.error());
  auto a = read(arguments.files.front(), from.value());
  if (!a.ok()) return fail("compare", a.error());
  ComparedFiles files{
      .a = std::move(a).value(), .tolerance = arguments.options.tolerance, .others = {}};
  for (std::size_t i = 1; i < arguments.files.size(); ++i)
    files.others.push_back(
        compare_one(files.a, arguments.files[i], from.value(), arguments.options));
  if (files.others.size() == 1 && !files.others.front().comparison && !arguments.as_json)
    return refuse(files.others.front().why_not);
  put_worst_first(files.others);
  std::string text = arguments.as_json          ? json_text(files)
                     : files.others.size() == 1 ? answers_text(files)
                                                : summary_text(files);
  if (!arguments.quiet && !arguments.as_json && from.value().lines_for_hands)
    text = "hands are those that the lines to the game show\n" + text;
  if (!arguments.quiet && !arguments.as_json && from.value().lines_for_outputs)
    text = "outputs are those that the game's lines ask for\n" + text;
  if (!arguments.quiet) std::fputs(text.c_str(), stdout);
  return status_of(files);
}

VerbRun declare_compare(Arguments& arguments) {
  auto options = std::make_shared<CompareArguments>();
  arguments.positional("FILE...", options->files,
                       "recordings of the same hands; each is compared with the first");
  arguments.option("--tolerance TIME", options->options.tolerance,
                   "how far apart answers may come, else 50ms; numbers have to be the same");
  arguments.option_read_by(
      "--align hand|start|opened|NAME",
      [options](std::string_view text) { return read_align(text, options->options.align); },
      "where time zero is: the first hand, power-on, the game's opening of the port, or the first "
      "hand on that control; else hand");
  arguments.options("--output NAME", options->options.outputs, "only these outputs");
  arguments.flag("--json", options->as_json, "all of it as JSON");
  arguments.flag("--quiet", options->quiet, "no words, only the status");
  arguments.example("understudy compare monday.jsonl tuesday.jsonl");
  return [options] { return compare_files(*options); };
}

}  // namespace

constinit const Verb verb_compare{"compare", VerbGroup::kAfter,
                                  "answers to the same hands side by side, and what differs first",
                                  declare_compare};

}  // namespace understudy
