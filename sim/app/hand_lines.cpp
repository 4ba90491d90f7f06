// A stream of nonsense on standard input must not drown everything else: the first refusal is told
// at once, and of those within the next period the last, with the number of the rest.
#include "sim/app/hand_lines.h"

#include <fmt/format.h>
#include <unistd.h>

#include "sim/app/run_loop.h"

namespace understudy {
namespace {

constexpr Duration kRefusalPeriod = seconds(1);

}  // namespace

HandLines::HandLines(RunLoop& loop) : loop_(loop) {
  if (may_read_standard_input()) lines_ = std::make_unique<LinesIn>(loop.pacer(), STDIN_FILENO);
}

void HandLines::bring() {
  if (!lines_) return;
  for (const std::string& line : lines_->take()) {
    const auto wrong = loop_.obey(line);
    if (!wrong) continue;
    ++untold_;
    last_ = wrong->text;
    tell(false);
  }
}

void HandLines::tell(bool at_once) {
  const Instant now = loop_.session().now();
  if (untold_ == 0 || (!at_once && now < quiet_until_)) return;
  const std::int64_t more = untold_ - 1;
  loop_.say({.text = last_ + (more > 0 ? fmt::format("; and {} more", more) : "")});
  untold_ = 0;
  quiet_until_ = now + kRefusalPeriod;
}

Instant HandLines::next_due() const {
  return untold_ > 0 ? quiet_until_ : kNever;
}

}  // namespace understudy
