// A pseudo-terminal as a link: looks to the game like a serial port. The panel's end is the master;
// the game opens the slave by its path, or by a symlink of ours. Linux.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "sim/link/link.h"
#include "sim/link/pacer.h"

namespace understudy {

struct PtyOptions {
  LinkSettings settings;
  // Absent: the path of the pseudo-terminal itself, such as /dev/pts/5. Without a slash: a symlink
  // of this name in the private folder of the user. With one: a symlink at that path.
  std::optional<std::string> name;
  // `port = "exclusive"`: while a game has it open, a second open fails with EBUSY (root excepted).
  bool exclusive = false;
  // What the game has taken is told the moment that it reads. Without, some milliseconds later, and
  // its reads wake nobody.
  bool tells_reads_at_once = true;
};

// Whether this system has pseudo-terminals at all.
bool has_ptys();

// Raw, without echo, at the panel's speed before its path is told, and put back so at each close.
// What its system cannot show: parity, data bits, breaks; DTR and RTS unless the game was started
// with the port library.
// Errors: kLinkFailed (no pseudo-terminal to be had); kUnusable (the name belongs to a real file,
// or its folder to somebody else).
Result<std::unique_ptr<Link>> open_pty(Pacer& pacer, const PtyOptions& options);

}  // namespace understudy
