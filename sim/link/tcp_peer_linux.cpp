// sock_diag(7): the kernel tells of any TCP socket of this machine how much it received and how
// much of that still waits to be read. One question is two system calls.
#include <linux/inet_diag.h>
#include <linux/netlink.h>
#include <linux/sock_diag.h>
#include <linux/sockios.h>
#include <linux/tcp.h>
#include <netinet/in.h>
#include <poll.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/socket.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "sim/link/tcp_peer.h"

namespace understudy {
namespace {

struct Question {
  nlmsghdr header;
  inet_diag_req_v2 about;
};

// The game's socket: its own end is our far end.
Question question_about(const TcpPeer::Ends& ends) {
  Question question{};
  question.header.nlmsg_len = sizeof question;
  question.header.nlmsg_type = SOCK_DIAG_BY_FAMILY;
  question.header.nlmsg_flags = NLM_F_REQUEST;
  inet_diag_req_v2& about = question.about;
  about.sdiag_family = ends.theirs.v6 ? AF_INET6 : AF_INET;
  about.sdiag_protocol = IPPROTO_TCP;
  about.idiag_ext = 1U << (INET_DIAG_INFO - 1);
  about.idiag_states = ~0U;
  about.id.idiag_sport = htons(ends.theirs.port);
  about.id.idiag_dport = htons(ends.ours.port);
  memcpy(about.id.idiag_src, ends.theirs.address.data(), sizeof about.id.idiag_src);
  memcpy(about.id.idiag_dst, ends.ours.address.data(), sizeof about.id.idiag_dst);
  about.id.idiag_cookie[0] = about.id.idiag_cookie[1] = INET_DIAG_NOCOOKIE;
  return question;
}

// The tcp_info among the attributes behind `message`; as much of it as this kernel fills in.
std::optional<TcpPeerState> state_in(const nlmsghdr& header) {
  if (header.nlmsg_type != SOCK_DIAG_BY_FAMILY) return std::nullopt;
  const auto* message = static_cast<const inet_diag_msg*>(NLMSG_DATA(&header));
  const auto* attribute = reinterpret_cast<const nlattr*>(message + 1);
  std::size_t left = header.nlmsg_len - NLMSG_LENGTH(sizeof *message);
  while (left >= sizeof *attribute && attribute->nla_len >= sizeof *attribute &&
         attribute->nla_len <= left) {
    if (attribute->nla_type == INET_DIAG_INFO) {
      tcp_info info{};
      memcpy(&info, attribute + 1,
             std::min<std::size_t>(sizeof info, attribute->nla_len - sizeof *attribute));
      const std::uint64_t unread = message->idiag_rqueue;
      const std::uint64_t received = info.tcpi_bytes_received;
      return TcpPeerState{received - std::min(received, unread), message->idiag_inode};
    }
    const std::size_t step = NLA_ALIGN(attribute->nla_len);
    if (step >= left) break;
    left -= step;
    attribute = reinterpret_cast<const nlattr*>(reinterpret_cast<const char*>(attribute) + step);
  }
  return std::nullopt;
}

}  // namespace

TcpPeer::TcpPeer(const Ends& ends)
    : ends_(ends),
      netlink_(socket(AF_NETLINK, SOCK_DGRAM | SOCK_CLOEXEC | SOCK_NONBLOCK, NETLINK_SOCK_DIAG)) {}

std::optional<TcpPeerState> TcpPeer::state() const {
  if (!netlink_.valid()) return std::nullopt;
  const Question question = question_about(ends_);
  if (send(netlink_.get(), &question, sizeof question, 0) < 0) return std::nullopt;
  // The kernel answers within send(), so the answer is there or never comes.
  alignas(nlmsghdr) char answer[4'096];
  const ssize_t length = recv(netlink_.get(), answer, sizeof answer, 0);
  const auto* header = reinterpret_cast<const nlmsghdr*>(answer);
  if (length < 0 || !NLMSG_OK(header, static_cast<unsigned>(length))) return std::nullopt;
  return state_in(*header);
}

void tcp_claim_port(int socket) {
  const int yes = 1;
  setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
}

std::size_t tcp_unconfirmed(int socket) {
  int bytes = 0;
  return ioctl(socket, SIOCOUTQ, &bytes) == 0 ? static_cast<std::size_t>(bytes) : 0;
}

bool tcp_ended(int socket) {
  pollfd ended{socket, POLLRDHUP, 0};
  return poll(&ended, 1, 0) > 0 && (ended.revents & (POLLRDHUP | POLLHUP | POLLERR)) != 0;
}

// Lines of /proc/net/tcp: "sl local_address rem_address st ... inode", addresses as HEX:PORT in
// hexadecimal, state 0A listening (proc_net_tcp in the kernel's documentation).
std::uint64_t tcp_listener_inode(std::uint16_t port) {
  for (const char* table : {"/proc/net/tcp", "/proc/net/tcp6"}) {
    std::ifstream file(table);
    std::string line;
    std::getline(file, line);
    while (std::getline(file, line)) {
      std::istringstream words(line);
      std::string number, local, remote, state, skipped;
      std::uint64_t inode = 0;
      words >> number >> local >> remote >> state;
      for (int i = 0; i < 5; ++i) words >> skipped;
      words >> inode;
      const std::size_t colon = local.rfind(':');
      if (state != "0A" || colon == std::string::npos) continue;
      if (std::stoul(local.substr(colon + 1), nullptr, 16) == port) return inode;
    }
  }
  return 0;
}

}  // namespace understudy
