// Wakes the pacer when a TCP socket has something to read: bytes, the end of the stream, or, where
// it listens, somebody who connects. For the files of this folder that include Asio.
#pragma once

#include <asio/ip/tcp.hpp>
#include <memory>

#include "sim/link/wait_engine.h"

namespace understudy {

// Shared with the handler under way, which may come after the socket is gone.
struct TcpReady {
  bool ready = false;  // since it was armed
};

// One-shot: read or accept until that would block, then arm again.
std::shared_ptr<TcpReady> tcp_arm(WaitEngine& engine, asio::ip::tcp::socket& socket);
std::shared_ptr<TcpReady> tcp_arm(WaitEngine& engine, asio::ip::tcp::acceptor& acceptor);

}  // namespace understudy
