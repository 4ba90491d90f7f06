// There is no such thing here: what games open as a serial port needs a driver in the system.
#include "sim/link/pty_link.h"

namespace understudy {

bool has_ptys() {
  return false;
}

Result<std::unique_ptr<Link>> open_pty(Pacer&, const PtyOptions&) {
  return Error{ErrorCode::kUnusable,
               "a pseudo-terminal is not there on Windows; use --tcp or --serial"};
}

}  // namespace understudy
