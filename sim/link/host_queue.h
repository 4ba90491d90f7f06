// What waits on its way to the game: part of it in the kernel, the rest here in front of it. Keeps
// count of what the game has taken. Knows no descriptor and no clock.
#pragma once

#include <cstddef>
#include <cstdint>
#include <deque>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "sim/base/time.h"
#include "sim/link/link.h"

namespace understudy {

struct HostQueueOptions {
  std::size_t bytes_max = 4'096;   // in kernel and queue together: the host buffer
  std::size_t kernel_max = 4'095;  // of them in the kernel: as far as the kernel's count goes
  Duration settling = {};          // how long written bytes may be missing from that count
};

class HostQueue {
 public:
  // Hands bytes to the kernel; gives how many it took.
  using Kernel = std::function<std::size_t(std::string_view)>;

  explicit HostQueue(const HostQueueOptions& options) : options_(options) {}

  // REQUIRES: calls come in the order of their time.
  WriteOutcome put(std::string_view bytes, Instant now, const Kernel& kernel);

  // Works out what the game took since the last call, from what the kernel says is unread now
  // (absent: it cannot say, and all counts as taken). Never counts a byte that may still be there.
  std::size_t taken(std::optional<std::size_t> unread, Instant now);

  // Moves what waits here to the kernel, as far as there is room. Gives how many bytes moved.
  std::size_t move_up(Instant now, const Kernel& kernel);

  // Forgets everything; gives how many bytes were neither taken nor moved up.
  std::size_t drop_all();

  [[nodiscard]] std::size_t in_kernel() const { return in_kernel_; }
  [[nodiscard]] std::size_t waiting() const { return waiting_.size(); }
  // Bytes are in the kernel that its count may not show yet.
  [[nodiscard]] bool settling() const { return !fresh_.empty(); }

 private:
  std::size_t hand_over(std::string_view bytes, Instant now, const Kernel& kernel);
  struct Fresh {
    Instant at;
    std::size_t bytes = 0;
  };

  HostQueueOptions options_;
  std::string waiting_;
  std::size_t in_kernel_ = 0;
  std::deque<Fresh> fresh_;
};

}  // namespace understudy
