// What Windows tells about the game's end: not what it has taken. A process is known by its number
// here, where Linux knows the number of its socket.
#include <winsock2.h>
// Needs what winsock2.h defines.
#include <iphlpapi.h>

#include <vector>

#include "sim/link/tcp_peer.h"

namespace understudy {
namespace {

// A table of the system that says itself how large it is.
template <class Table>
std::uint64_t listener_in(ULONG family, std::uint16_t port) {
  std::vector<char> room(65'536);
  auto size = static_cast<DWORD>(room.size());
  DWORD said =
      GetExtendedTcpTable(room.data(), &size, FALSE, family, TCP_TABLE_OWNER_PID_LISTENER, 0);
  if (said == ERROR_INSUFFICIENT_BUFFER) {
    room.resize(size);
    said = GetExtendedTcpTable(room.data(), &size, FALSE, family, TCP_TABLE_OWNER_PID_LISTENER, 0);
  }
  if (said != NO_ERROR) return 0;
  const auto* table = reinterpret_cast<const Table*>(room.data());
  for (DWORD i = 0; i < table->dwNumEntries; ++i) {
    if (ntohs(static_cast<u_short>(table->table[i].dwLocalPort)) == port)
      return table->table[i].dwOwningPid;
  }
  return 0;
}

}  // namespace

TcpPeer::TcpPeer(const Ends& ends) : ends_(ends) {}

std::optional<TcpPeerState> TcpPeer::state() const {
  return std::nullopt;
}

// Here the option that Linux calls "reuse" would let two programs share a port.
void tcp_claim_port(int socket) {
  const BOOL yes = TRUE;
  setsockopt(static_cast<SOCKET>(socket), SOL_SOCKET, SO_EXCLUSIVEADDRUSE,
             reinterpret_cast<const char*>(&yes), sizeof yes);
}

// The system confirms by itself and doesn't say how far it is.
std::size_t tcp_unconfirmed(int) {
  return 0;
}

bool tcp_ended(int socket) {
  WSAPOLLFD ended{static_cast<SOCKET>(socket), POLLRDNORM, 0};
  return WSAPoll(&ended, 1, 0) > 0 && (ended.revents & (POLLHUP | POLLERR)) != 0;
}

std::uint64_t tcp_listener_inode(std::uint16_t port) {
  const std::uint64_t found = listener_in<MIB_TCPTABLE_OWNER_PID>(AF_INET, port);
  return found != 0 ? found : listener_in<MIB_TCP6TABLE_OWNER_PID>(AF_INET6, port);
}

}  // namespace understudy
