// A TCP socket as a link: listens, and takes one game at a time. For systems, languages and engines
// that cannot open a pseudo-terminal.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>

#include "sim/link/link.h"
#include "sim/link/pacer.h"

namespace understudy {

// Below the range from which systems hand out ports by themselves. Seat n listens on this + n.
inline constexpr std::uint16_t kTcpPort = 27'425;

struct TcpOptions {
  LinkSettings settings;
  std::string host = "127.0.0.1";  // an address to listen on; a name is looked up
  std::uint16_t port = kTcpPort;   // 0: the system picks one
  // As if the game had set this baud; absent: right by definition, and no LineSettings come out.
  std::optional<std::int64_t> as_if_baud;
  bool dtr_low = false;  // connecting does not raise DTR
};

// Reads "27425", "127.0.0.1:27425", "[::1]:0" or "0.0.0.0:4000" into host and port.
// Errors: kUnusable.
Result<Done> read_tcp_place(std::string_view text, TcpOptions& into);

// Connecting opens, the end of the stream (or an error on it) closes. A second connection is closed
// at once without a byte. `taken` is seen where the game runs on this machine under Linux.
// Errors: kBusy (the port is in use; says by whom where it can be seen), kLinkFailed, kUnusable (no
// such address here).
Result<std::unique_ptr<Link>> open_tcp(Pacer& pacer, const TcpOptions& options);

}  // namespace understudy
