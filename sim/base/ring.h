// A bounded first-in first-out ring of fixed size, without allocation; a regular value.
#pragma once

#include <array>
#include <cstddef>

#include "sim/base/check.h"

namespace understudy {

// Holds at most N values. Full: push() says no; the owner decides what is dropped and counts it.
template <class T, std::size_t N>
class Ring {
 public:
  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] bool empty() const { return size_ == 0; }
  [[nodiscard]] bool full() const { return size_ == N; }
  static constexpr std::size_t capacity() { return N; }

  // False, and nothing changed, when full.
  bool push(const T& value) {
    if (full()) return false;
    slots_[wrapped(first_ + size_)] = value;
    ++size_;
    return true;
  }
  // REQUIRES: !empty()
  [[nodiscard]] const T& front() const {
    CHECK(!empty(), "the front of an empty ring was asked for");
    return slots_[first_];
  }
  [[nodiscard]] T& front() { return const_cast<T&>(static_cast<const Ring*>(this)->front()); }
  // REQUIRES: !empty()
  [[nodiscard]] T& back() {
    CHECK(!empty(), "the back of an empty ring was asked for");
    return slots_[wrapped(first_ + size_ - 1)];
  }
  // i = 0 is the front. REQUIRES: i < size()
  [[nodiscard]] const T& at(std::size_t i) const {
    CHECK(i < size_, "a place beyond the end of a ring was asked for");
    return slots_[wrapped(first_ + i)];
  }
  // REQUIRES: !empty()
  void pop() {
    CHECK(!empty(), "an empty ring was popped");
    first_ = wrapped(first_ + 1);
    --size_;
  }
  void clear() { first_ = size_ = 0; }

 private:
  static std::size_t wrapped(std::size_t i) { return i >= N ? i - N : i; }
  std::array<T, N> slots_{};
  std::size_t first_ = 0;
  std::size_t size_ = 0;
};

}  // namespace understudy
