// A mechanical contact: open or closed, with the chatter that follows each change.
//
//   hand     ____/~~~~~~~~~~~~~~~~~~~
//   contact  ____/\/\_/~~~~~~~~~~~~~~    the last edge comes within bounce_max of the first
//
// Model: bounce lasts min(exponential with bounce_mean, bounce_max); Ganssle's measurements of
// switches give a mean of 1.557 ms and a longest of 6.2 ms. Edges fall anywhere within.
#pragma once

#include <cstdint>

#include "sim/base/random.h"
#include "sim/base/time.h"
#include "sim/model/panel_description.h"

namespace understudy {

inline constexpr int kBounceEdgesMax = 16;

// How long the chatter of one change lasts, and when its edges fall; pure in its key.
struct Bounce {
  Duration edges[kBounceEdgesMax] = {};  // after the change, ascending; an even number of them
  int edge_count = 0;
};
Bounce bounce_of(const ContactPart& part, Stream stream);
// Every change takes as many draws as the longest chatter needs, so that later ones never shift.
inline constexpr std::uint64_t kDrawsPerChange = kBounceEdgesMax + 2;
// The level at t of a contact that went to `closed` at `changed_at`, chatter included.
bool level_in_chatter(bool closed, Instant changed_at, Instant t, const ContactPart& part,
                      Stream stream);

// A regular value: which way the contact goes, and since when.
class Contact {
 public:
  Contact() = default;
  explicit Contact(bool closed) : closed_(closed) {}

  // The hand makes it closed or open at `t`; the chatter's draws are taken from `stream`.
  // Nothing happens, and nothing is drawn, if it is so already; a contact that does not bounce
  // draws nothing either.
  void change(Instant t, bool closed, const ContactPart& part, Stream& stream);

  // Whether it conducts at t, chatter included; `stream` is the one that its changes drew from.
  // REQUIRES: t not before the last change.
  [[nodiscard]] bool closed_at(Instant t, const ContactPart& part, const Stream& stream) const {
    if ((t - changed_at_).ns >= part.bounce_max_ns) return closed_;
    return level_in_chatter(closed_, changed_at_, t, part, stream.after(drawn_before_));
  }
  // Where the hand holds it, chatter aside.
  [[nodiscard]] bool closed() const { return closed_; }

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(closed_);
    digest.add(changed_at_.ns);
    digest.add(drawn_before_);
  }

 private:
  bool closed_ = false;
  Instant changed_at_{-3'600'000'000'000};  // long before power-on: at rest
  std::uint64_t drawn_before_ = 0;          // what its stream had drawn before this change
};

}  // namespace understudy
