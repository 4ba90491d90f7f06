// What the system knows about the game's end of a TCP connection, where that end is on this
// machine.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "sim/link/descriptor.h"

namespace understudy {

// One end of a connection. No Asio here: its headers and the kernel's exclude each other.
struct TcpEnd {
  bool v6 = false;
  std::array<unsigned char, 16> address{};  // the first 4 for version 4
  std::uint16_t port = 0;
};

struct TcpPeerState {
  std::uint64_t bytes_taken = 0;  // by the game, since it connected
  std::uint64_t inode = 0;        // the number of its socket
};

// Asks the system about one connection.
class TcpPeer {
 public:
  struct Ends {
    TcpEnd ours;
    TcpEnd theirs;
  };
  explicit TcpPeer(const Ends& ends);

  // Absent where the game runs on another machine, or its end is gone.
  [[nodiscard]] std::optional<TcpPeerState> state() const;

 private:
  Ends ends_;
  Descriptor netlink_;
};

// Before a socket listens: only one program may have its port, and one that has just gone does not
// keep it taken.
void tcp_claim_port(int socket);
// Bytes that the other end's system has not confirmed yet.
std::size_t tcp_unconfirmed(int socket);
// The game has ended its side of the stream, though bytes of it may still be there to read.
bool tcp_ended(int socket);
// The socket that listens on this port here; 0 where none is seen.
std::uint64_t tcp_listener_inode(std::uint16_t port);

}  // namespace understudy
