// Chatter is worked out anew from its stream whenever somebody looks within it: nothing to store.
#include "sim/controls/contact.h"

#include <algorithm>

namespace understudy {
namespace {

// Every change takes as many draws as the longest chatter needs, so that later ones never shift.
constexpr int kDrawsPerChange = kBounceEdgesMax + 2;

}  // namespace

Bounce bounce_of(const ContactPart& part, Stream stream) {
  Bounce bounce;
  const std::int64_t drawn = part.bounce_mean_ns * stream.exponential_micro() / 1'000'000;
  const std::int64_t length = std::min(drawn, part.bounce_max_ns);
  if (length <= 0) return bounce;
  bounce.edge_count = 2 * static_cast<int>(stream.between(1, kBounceEdgesMax / 2));
  for (int i = 0; i + 1 < bounce.edge_count; ++i) bounce.edges[i] = {stream.below(length)};
  bounce.edges[bounce.edge_count - 1] = {length};
  std::sort(bounce.edges, bounce.edges + bounce.edge_count);
  return bounce;
}

void Contact::change(Instant t, bool closed, const ContactPart& part, Stream& stream) {
  if (closed == closed_) return;
  closed_ = closed;
  changed_at_ = t;
  if (part.bounce_mean_ns == 0) return;
  chatter_ = stream;
  for (int i = 0; i < kDrawsPerChange; ++i) stream.bits();
}

bool Contact::closed_in_chatter(Instant t, const ContactPart& part) const {
  if (part.bounce_mean_ns == 0) return closed_;
  const Bounce bounce = bounce_of(part, chatter_);
  bool level = closed_;
  for (int i = 0; i < bounce.edge_count && changed_at_ + bounce.edges[i] <= t; ++i) level = !level;
  return level;
}

}  // namespace understudy
