// The verb `measure`: what recordings say in numbers, as text, JSON, CSV or a page of charts.
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/app/panel_argument.h"
#include "sim/app/program_start.h"
#include "sim/app/reading_progress.h"
#include "sim/app/verb.h"
#include "sim/base/open_file.h"
#include "sim/measure/measurement.h"
#include "sim/measure/report_json.h"
#include "sim/measure/report_page.h"
#include "sim/measure/report_text.h"

namespace understudy {
namespace {

struct MeasureArguments {
  std::vector<std::string> files;
  std::optional<std::string> panel;
  Duration gap_bound = kGapBound;
  bool as_json = false;
  bool as_csv = false;
  std::optional<std::string> page;
  bool force = false;
  bool quiet = false;
};

int write_out(const std::string& text) {
  const bool written =
      std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
  if (written || errno == EPIPE) return kStatusFine;  // whoever reads has enough
  return fail("measure", {ErrorCode::kUnusable,
                          std::string("cannot write to standard output: ") + std::strerror(errno)});
}

// Each wrong line that is told, for all recordings.
int tell_problems(const std::vector<Measurement>& measured) {
  int status = kStatusFine;
  for (const Measurement& one : measured) {
    if (one.sound()) continue;
    for (const std::string& problem : one.problems)
      fail("measure", {ErrorCode::kUnusable, one.file + ": " + problem});
    const auto told = static_cast<std::int64_t>(one.problems.size());
    if (one.bad_lines > told)
      fail("measure",
           {ErrorCode::kUnusable, one.file + ": and " + std::to_string(one.bad_lines - told) +
                                      " more wrong lines; all were left out"});
    status = kStatusUnusable;
  }
  return status;
}

// The page into its file, which must not be there yet.
int write_page(const MeasureArguments& arguments, const std::vector<Measurement>& measured) {
  const std::string& path = *arguments.page;
  std::FILE* const file = open_file(path, arguments.force ? FileUse::kOverwrite : FileUse::kMake);
  const auto refuse = [&] {
    const std::string hint = errno == EEXIST ? "; --force overwrites it" : "";
    return fail("measure", {ErrorCode::kUnusable,
                            "cannot write " + path + ": " + std::strerror(errno) + hint});
  };
  if (file == nullptr) return refuse();
  const std::string page = measurements_page(measured);
  const bool whole = std::fwrite(page.data(), 1, page.size(), file) == page.size();
  if ((std::fclose(file) == 0) && whole) return kStatusFine;
  const int status = refuse();
  remove_file(path);
  return status;
}

std::string written(const MeasureArguments& arguments, const std::vector<Measurement>& measured) {
  if (arguments.as_json) return measurements_json(measured);
  if (arguments.as_csv) return measurements_csv(measured);
  if (measured.size() == 1) return measurement_text(measured.front());
  return comparison_text(measured);
}

int measure(const MeasureArguments& arguments) {
  if (arguments.as_json && arguments.as_csv)
    return fail("measure", {ErrorCode::kUnusable, "--json and --csv do not go together"});
  outlive_broken_pipes();
  MeasureOptions options;
  options.gap_bound = arguments.gap_bound;
  if (arguments.panel) {
    const auto panel = load_panel_argument(*arguments.panel);
    if (!panel.ok()) return fail("measure", panel.error());
    options.panel = panel.value();
  }
  if (arguments.page) options.trace_spans_max = page_spans_max(arguments.files.size());
  ReadingProgress progress(arguments.files, arguments.quiet);
  std::vector<Measurement> measured;
  int status = kStatusFine;
  for (const std::string& file : arguments.files) {
    progress.begin(file);
    options.progress = [&](std::int64_t bytes) { progress.read(bytes); };
    auto result = measure_recording(file, options);
    progress.clear();
    if (result.ok())
      measured.push_back(std::move(result).value());
    else
      status = fail("measure", result.error());
  }
  const int told = tell_problems(measured);
  if (status == kStatusFine) status = told;
  if (measured.empty()) return status;
  if (arguments.page) {
    const int wrote = write_page(arguments, measured);
    if (wrote != kStatusFine) return wrote;
    if (!arguments.as_json && !arguments.as_csv) return status;
  }
  const int wrote = write_out(written(arguments, measured));
  return wrote == kStatusFine ? status : wrote;
}

VerbRun declare_measure(Arguments& arguments) {
  auto options = std::make_shared<MeasureArguments>();
  arguments.positional("RECORDING...", options->files, "recordings: .jsonl or .jsonl.zst");
  arguments.option("--panel PANEL", options->panel,
                   "reads the lines by this panel file, not by the panel in the recording");
  arguments.option("--gap TIME", options->gap_bound,
                   "counts gaps between lines that are longer than this (100ms)");
  arguments.flag("--quiet", options->quiet, "no progress");
  arguments.heading("how it is told; else as text, several recordings beside each other");
  arguments.flag("--json", options->as_json, "as JSON");
  arguments.flag("--csv", options->as_csv, "one row for each figure");
  arguments.option("--html FILE", options->page, "as one page with charts, which needs no network");
  arguments.flag("--force", options->force, "overwrites the page where there is one");
  arguments.example("understudy measure evening.jsonl");
  arguments.example("understudy measure evening.jsonl --html evening.html");
  return [options] { return measure(*options); };
}

}  // namespace

constinit const Verb verb_measure{"measure", VerbGroup::kAfter,
                                  "what recordings say in numbers: noise, gaps, presses, answers",
                                  declare_measure};

}  // namespace understudy
