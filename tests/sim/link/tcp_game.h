// The game's end of a TCP connection, played with plain system calls that never block.
#pragma once

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <sys/socket.h>

#include <string>

#include "sim/link/descriptor.h"

namespace understudy {

inline sockaddr_in loopback_place(std::uint16_t port) {
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(port);
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  return address;
}

inline std::uint16_t port_in(const std::string& where) {
  return static_cast<std::uint16_t>(std::stoi(where.substr(where.rfind(':') + 1)));
}

// A connection on loopback is complete as soon as the listener's queue has it.
inline Descriptor connect_to(const std::string& where) {
  Descriptor game(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0));
  const sockaddr_in address = loopback_place(port_in(where));
  if (::connect(game.get(), reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) {
    return {};
  }
  ::fcntl(game.get(), F_SETFL, O_NONBLOCK);
  return game;
}

// Closes with a reset instead of an orderly end: unread and unsent bytes are thrown away
// (socket(7), SO_LINGER with time 0).
inline void reset_connection(Descriptor& game) {
  const linger at_once{.l_onoff = 1, .l_linger = 0};
  ::setsockopt(game.get(), SOL_SOCKET, SO_LINGER, &at_once, sizeof at_once);
  game.reset();
}

}  // namespace understudy
