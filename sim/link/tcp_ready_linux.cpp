// Asio's own waiting, which asks the kernel for readiness.
#include "sim/link/tcp_ready.h"

namespace understudy {
namespace {

template <class Socket>
std::shared_ptr<TcpReady> arm(WaitEngine& engine, Socket& socket) {
  auto state = std::make_shared<TcpReady>();
  socket.async_wait(Socket::wait_read, [state, &engine](const asio::error_code& error) {
    if (error == asio::error::operation_aborted) return;
    state->ready = true;
    engine.touched = true;
  });
  return state;
}

}  // namespace

std::shared_ptr<TcpReady> tcp_arm(WaitEngine& engine, asio::ip::tcp::socket& socket) {
  return arm(engine, socket);
}

std::shared_ptr<TcpReady> tcp_arm(WaitEngine& engine, asio::ip::tcp::acceptor& acceptor) {
  return arm(engine, acceptor);
}

}  // namespace understudy
