// The one place that asks the machine for the time.
#include "sim/link/pacer.h"

#include <algorithm>
#include <chrono>

#include "sim/base/check.h"
#include "sim/link/timer_precision.h"
#include "sim/link/wait_engine.h"

namespace understudy {
namespace {

constexpr Duration kStampStep = microseconds(1);

Instant rounded_up_to_us(Instant t) {
  return {(t.ns + 999) / 1'000 * 1'000};
}

}  // namespace

Pacer::Pacer(const PacerOptions& options)
    : engine_(std::make_unique<WaitEngine>()),
      speed_per_mille_(options.speed_per_mille),
      origin_(options.begin),
      last_(options.begin),
      held_(options.held) {
  CHECK(speed_per_mille_ > 0, "the speed of virtual time must be above zero");
  ask_for_precise_timers();
  origin_real_ns_ = real_ns();
}

Pacer::~Pacer() = default;

std::int64_t Pacer::real_ns() const {
  return std::chrono::duration_cast<std::chrono::nanoseconds>(
             std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

Instant Pacer::clock() const {
  if (held_) return origin_;
  // Split so that a product with the speed cannot overflow: 2^63 ns are 292 years.
  const std::int64_t elapsed = real_ns() - origin_real_ns_;
  const std::int64_t whole = elapsed / 1'000 * speed_per_mille_;
  return origin_ + nanoseconds(whole + elapsed % 1'000 * speed_per_mille_ / 1'000);
}

Instant Pacer::next() {
  last_ = later(last_ + kStampStep, rounded_up_to_us(clock()));
  return last_;
}

void Pacer::hold() {
  origin_ = later(clock(), last_);
  held_ = true;
}

void Pacer::go() {
  if (!held_) return;
  held_ = false;
  origin_real_ns_ = real_ns();
}

Wake Pacer::wait(Instant due, std::span<Link* const> links) {
  Instant until = due;
  for (const Link* link : links) until = earlier(until, link->look_again());
  wait_for_timer_or_touch(until);

  Wake wake;
  wake.touched = std::exchange(engine_->touched, false);
  wake.now = later(clock(), last_);
  wake.due_reached = due != kNever && wake.now >= due;
  if (wake.due_reached) wake.late = wake.now - due;
  if (wake.late > kCatchUpMax) {
    wake.slipped = wake.late;
    // A stamp already given out stays in the past: the clock is never set back before it.
    origin_ = later(due, last_);
    origin_real_ns_ = real_ns();
    wake.now = origin_;
  }
  last_ = wake.now;
  return wake;
}

// Returns when the clock has reached `until` (kNever: never by itself) or something became ready;
// whatever else is ready then is found in the same wake-up. Each call to the system counts here: a
// tap's bytes wait for them.
void Pacer::wait_for_timer_or_touch(Instant until) {
  const bool timed = until != kNever && !held_;
  // An idle context must still wait: there is always somebody who may be armed by a handler.
  const auto work = asio::make_work_guard(engine_->context);
  engine_->context.restart();
  // A clock that is held may be there already, too.
  while (!engine_->touched && clock() < until) {
    if (timed) ring_by(until);
    engine_->context.run_one();
  }
  engine_->context.poll();
}

// A timer that rings sooner already stays: too early costs one look more, and most are never waited
// for, as something comes in before.
void Pacer::ring_by(Instant until) {
  // Rounded up: a timer that rings a nanosecond early would only ring twice.
  const std::int64_t real_left = (until.ns - clock().ns) * 1'000 / speed_per_mille_ + 1;
  const std::int64_t at_ns = real_ns() + real_left;
  if (engine_->rings_at_ns && *engine_->rings_at_ns <= at_ns) return;
  engine_->rings_at_ns = at_ns;
  engine_->timer.expires_after(std::chrono::nanoseconds(real_left));
  engine_->timer.async_wait([engine = engine_.get()](const asio::error_code& error) {
    if (error != asio::error::operation_aborted) engine->rings_at_ns.reset();
  });
}

}  // namespace understudy
