// What every kind of link works with in one call of read_events(), and its queue's way out. For the
// files of this folder that make a Link.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/link/host_queue.h"
#include "sim/link/link.h"

namespace understudy {

// Borrowed for the time of one read_events().
struct LinkReading {
  Stamps& stamps;
  std::size_t space;  // for bytes from the game
  std::vector<Input>& out;
  Instant now;

  template <class What>
  void put(What what) {
    out.push_back({stamps.next(), std::move(what)});
  }
  // What the game sent, counted.
  void put_bytes(std::string bytes, LinkCounts& counts) {
    space -= bytes.size();
    counts.bytes_to_panel += bytes.size();
    if (!bytes.empty()) put(BytesFromGame{std::move(bytes)});
  }
};

// A queue's way into a device (by pointer) that takes what fits; counted. Both outlive the call
// that it is made for.
template <class DevicePointer>
HostQueue::Kernel kernel_of(DevicePointer& device, LinkCounts& counts) {
  return [&device, &counts](std::string_view bytes) {
    const std::size_t handed = device->write(bytes);
    counts.bytes_to_game += handed;
    return handed;
  };
}

}  // namespace understudy
