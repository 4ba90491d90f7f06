// A bounded ring of bytes between one thread that puts and one that takes, without locks.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <cstring>
#include <memory>
#include <span>
#include <string_view>

namespace understudy {

// Allocates when made, never later. Threads: put() and room() from one, ready() and taken() from
// one.
class BytePipe {
 public:
  // REQUIRES: size > 0
  explicit BytePipe(std::size_t size)
      : size_(size), bytes_(std::make_unique_for_overwrite<char[]>(size)) {}

  [[nodiscard]] std::size_t size() const { return size_; }
  // How many bytes put() would take now; may be more by the time it is called.
  [[nodiscard]] std::size_t room() const {
    return size_ - static_cast<std::size_t>(put_.load(std::memory_order_relaxed) -
                                            taken_.load(std::memory_order_acquire));
  }
  // REQUIRES: bytes.size() <= room()
  void put(std::string_view bytes) {
    const std::size_t put = put_.load(std::memory_order_relaxed);
    const std::size_t place = put % size_;
    const std::size_t first = std::min(bytes.size(), size_ - place);
    std::memcpy(bytes_.get() + place, bytes.data(), first);
    std::memcpy(bytes_.get(), bytes.data() + first, bytes.size() - first);
    put_.store(put + bytes.size(), std::memory_order_release);
  }

  // What waits, up to the ring's seam; empty when nothing does. Valid until taken().
  [[nodiscard]] std::span<const char> ready() const {
    const std::size_t taken = taken_.load(std::memory_order_relaxed);
    const std::size_t waiting = put_.load(std::memory_order_acquire) - taken;
    const std::size_t place = taken % size_;
    return {bytes_.get() + place, std::min(waiting, size_ - place)};
  }
  // The front `size` bytes of ready() are done with.
  void taken(std::size_t size) {
    taken_.store(taken_.load(std::memory_order_relaxed) + size, std::memory_order_release);
  }

 private:
  const std::size_t size_;
  std::unique_ptr<char[]> bytes_;
  std::atomic<std::size_t> put_{0};  // counted since the beginning
  std::atomic<std::size_t> taken_{0};
};

}  // namespace understudy
