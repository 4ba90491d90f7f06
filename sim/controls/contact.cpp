// Chatter is worked out anew from its stream whenever somebody looks within it: nothing to store.
#include "sim/controls/contact.h"

#include <algorithm>

namespace understudy {

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

bool level_in_chatter(bool closed, Instant changed_at, Instant t, const ContactPart& part,
                      Stream stream) {
  if (part.bounce_mean_ns == 0) return closed;
  const Bounce bounce = bounce_of(part, stream);
  bool level = closed;
  for (int i = 0; i < bounce.edge_count && changed_at + bounce.edges[i] <= t; ++i) level = !level;
  return level;
}

void Contact::change(Instant t, bool closed, const ContactPart& part, Stream& stream) {
  if (closed == closed_) return;
  closed_ = closed;
  changed_at_ = t;
  if (part.bounce_mean_ns == 0) return;
  drawn_before_ = stream.count();
  stream = stream.skipped(kDrawsPerChange);
}

}  // namespace understudy
