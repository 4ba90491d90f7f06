// The pacer: the only reader of the real clock. Waits until virtual time may go on, or something
// comes in from outside, and gives each outside event its stamp.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "sim/base/time.h"
#include "sim/link/link.h"

namespace understudy {

struct WaitEngine;

// Behind by more than this, the clock slips instead of catching up.
inline constexpr Duration kCatchUpMax = milliseconds(250);

// How a wait ended.
struct Wake {
  Instant now;               // what the clock allows: step the session to it. Never before a stamp
  bool due_reached = false;  // now >= the due that was waited for
  bool touched = false;      // a link or a watched descriptor woke it
  Duration late = {};        // how long after the due; zero where it was not reached
  std::optional<Duration> slipped;  // the clock was set back by so much, to the due
};

struct PacerOptions {
  // Virtual time per real time, in thousandths; other than 1000 is for looking only.
  std::int64_t speed_per_mille = 1'000;
  // Where virtual time begins: a session that has gone so far already.
  Instant begin = {};
  // It stands still there until go().
  bool held = false;
};

// Use, once per wake-up:
//
//   const Wake wake = pacer.wait(due, links);
//   for (Link* link : links) link->read_events(pacer, space, inputs);   // in the order opened
//   session.step(later(wake.now, pacer.last_stamp()), inputs, outputs);
//   ... write outputs to the links ...
//
// The clock starts at `begin` when the pacer is made. Thread: one.
class Pacer final : public Stamps {
 public:
  explicit Pacer(const PacerOptions& options = {});
  ~Pacer() override;
  Pacer(const Pacer&) = delete;
  Pacer& operator=(const Pacer&) = delete;

  // Waits for the earliest of: the clock reaching `due`; a link's look_again(); a link or watched
  // descriptor becoming ready. Returns at once where one of them is so already. kNever as due waits
  // for events alone.
  Wake wait(Instant due, std::span<Link* const> links);

  // max(last stamp + 1 us, now + 1 us, the clock rounded up to the next microsecond), where now is
  // the end of the last wait.
  Instant next() override;
  [[nodiscard]] Instant last_stamp() const { return last_; }

  // The clock as it is, in whole nanoseconds of virtual time.
  [[nodiscard]] Instant clock() const;

  // Holds virtual time where it is until go(): a session that waits for its game.
  void hold();
  void go();
  [[nodiscard]] bool held() const { return held_; }

  // What watches and links hang on; for the files of this folder.
  [[nodiscard]] WaitEngine& engine() { return *engine_; }

 private:
  [[nodiscard]] std::int64_t real_ns() const;
  void wait_for_timer_or_touch(Instant until);
  void ring_by(Instant until);

  std::unique_ptr<WaitEngine> engine_;
  std::int64_t speed_per_mille_;
  std::int64_t origin_real_ns_ = 0;  // the real time at which virtual time was origin_
  Instant origin_;
  Instant last_;  // no stamp and no now was given out beyond it
  bool held_ = false;
};

}  // namespace understudy
