// Batches by size; an instant is never cut, so a batch may grow past it, up to a stated limit.
#include "sim/record/verify_batches.h"

namespace understudy {
namespace {

using namespace recorded;

constexpr std::size_t kBatchEvents = 4'096;
constexpr std::size_t kBatchTextBytes = 1024 * 1024;
// More at one instant than any session has; the answer is an error that names the line.
constexpr std::size_t kInstantEventsMax = 1'000'000;

}  // namespace

Result<Done> VerifyBatches::fill() {
  batch_.clear();
  if (ahead_) {
    batch_.add(*ahead_, ahead_line_);
    ahead_.reset();
  }
  while (!at_end_) {
    RecordedEvent event;
    const Result<bool> got = take(event);
    if (!got.ok()) return got.error();
    if (!got.value()) continue;
    const auto& events = batch_.events();
    const bool new_instant = !events.empty() && event.at > events.back().event.at;
    if (new_instant && (events.size() >= kBatchEvents || batch_.text_bytes() >= kBatchTextBytes)) {
      ahead_ = event;  // its views live until the next call on the reader
      ahead_line_ = reader_.line_number();
      return Done{};
    }
    if (events.size() >= kInstantEventsMax)
      return wrong_line(reader_.line_number(), "more events at one instant than any session has");
    batch_.add(event, reader_.line_number());
  }
  return Done{};
}

void VerifyBatches::look_for_changed_inputs() {
  const std::int64_t checks = checks_seen_;
  while (!at_end_ && checks_seen_ == checks && !changed_inputs_) {
    RecordedEvent event;
    if (!take(event).ok()) return;
  }
}

// One event for the batch; false: none, because of the end or because it concerns no session.
Result<bool> VerifyBatches::take(RecordedEvent& event) {
  const Result<bool> got = events_.next(event);
  if (!got.ok()) return got;
  at_end_ = !got.value();
  if (at_end_) return false;
  ++taken_;
  const bool later = event.at > last_;
  last_ = event.at;
  digest_.add(event);
  if (const auto* check = std::get_if<Check>(&event.what)) {
    ++checks_seen_;
    const std::int64_t line = reader_.line_number();
    if (check->inputs != digest_.value() && !changed_inputs_)
      changed_inputs_ = {.after_line = check_line_, .before_line = line};
    check_line_ = line;
  }
  if (const auto* ended = std::get_if<Ended>(&event.what)) {
    complete_ = ended->reason == kEndedComplete;
    if (complete_ && later)
      return wrong_line(reader_.line_number(), "a complete ending has the time of the line above");
    return false;
  }
  return !std::holds_alternative<Mark>(event.what);
}

}  // namespace understudy
