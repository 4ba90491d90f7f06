// By an event object of the system. Asio's own waiting is a read of no bytes here, which a socket
// that listens refuses at once.
#include "sim/link/tcp_ready.h"

#include <asio/windows/object_handle.hpp>

namespace understudy {
namespace {

// The system sets the event at once where something of `kinds` is there already.
std::shared_ptr<TcpReady> arm(WaitEngine& engine, SOCKET socket, long kinds) {
  auto state = std::make_shared<TcpReady>();
  const WSAEVENT event = WSACreateEvent();
  WSAEventSelect(socket, event, kinds);
  auto watch = std::make_shared<asio::windows::object_handle>(engine.context, event);
  watch->async_wait([state, watch, &engine](const asio::error_code& error) {
    if (error == asio::error::operation_aborted) return;
    state->ready = true;
    engine.touched = true;
  });
  return state;
}

}  // namespace

std::shared_ptr<TcpReady> tcp_arm(WaitEngine& engine, asio::ip::tcp::socket& socket) {
  return arm(engine, socket.native_handle(), FD_READ | FD_CLOSE);
}

std::shared_ptr<TcpReady> tcp_arm(WaitEngine& engine, asio::ip::tcp::acceptor& acceptor) {
  return arm(engine, acceptor.native_handle(), FD_ACCEPT);
}

}  // namespace understudy
