// Bookkeeping between what was written and what the kernel says is unread.
#include "sim/link/host_queue.h"

#include <algorithm>

namespace understudy {

std::size_t HostQueue::hand_over(std::string_view bytes, Instant now, const Kernel& kernel) {
  const std::size_t room = options_.kernel_max - std::min(options_.kernel_max, in_kernel_);
  const std::string_view fitting = bytes.substr(0, room);
  const std::size_t handed = fitting.empty() ? 0 : kernel(fitting);
  in_kernel_ += handed;
  if (handed > 0 && options_.settling > Duration{}) fresh_.push_back({now, handed});
  return handed;
}

WriteOutcome HostQueue::put(std::string_view bytes, Instant now, const Kernel& kernel) {
  WriteOutcome outcome;
  const std::size_t used = in_kernel_ + waiting_.size();
  const std::size_t room = options_.bytes_max - std::min(options_.bytes_max, used);
  outcome.dropped = bytes.size() - std::min(bytes.size(), room);
  bytes = bytes.substr(0, room);
  if (waiting_.empty()) outcome.handed = hand_over(bytes, now, kernel);
  outcome.waiting = bytes.size() - outcome.handed;
  waiting_.append(bytes.substr(outcome.handed));
  return outcome;
}

std::size_t HostQueue::taken(std::optional<std::size_t> unread, Instant now) {
  while (!fresh_.empty() && now - fresh_.front().at >= options_.settling) fresh_.pop_front();
  std::size_t may_be_there = unread.value_or(0);
  if (may_be_there == 0) {
    fresh_.clear();  // 0 is exact
  } else {
    for (const Fresh& fresh : fresh_) may_be_there += fresh.bytes;
  }
  const std::size_t left = std::min(in_kernel_, may_be_there);
  const std::size_t taken = in_kernel_ - left;
  in_kernel_ = left;
  return taken;
}

std::size_t HostQueue::move_up(Instant now, const Kernel& kernel) {
  if (waiting_.empty()) return 0;
  const std::size_t handed = hand_over(waiting_, now, kernel);
  waiting_.erase(0, handed);
  return handed;
}

std::size_t HostQueue::drop_all() {
  const std::size_t dropped = in_kernel_ + waiting_.size();
  waiting_.clear();
  fresh_.clear();
  in_kernel_ = 0;
  return dropped;
}

}  // namespace understudy
