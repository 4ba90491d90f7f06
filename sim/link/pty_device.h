// The system calls on one pseudo-terminal, each under the name of what it is for. Keeps no count
// and knows no game: that is the pty link's. Linux.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "sim/base/result.h"
#include "sim/link/descriptor.h"
#include "sim/model/inputs.h"

namespace understudy {

// What the slave's settings say at one moment.
struct PtyState {
  LineSettings line;
  std::optional<ModemLines> modem;  // only where the port library set them
};

// A master, and a slave descriptor of our own that is kept open: it shows how much the game has not
// read, lifts a lock that a game left behind, and keeps the master from hanging up.
class PtyDevice {
 public:
  // Raw, without echo, at `line`, and primed. Errors: kLinkFailed.
  static Result<PtyDevice> open(const LineSettings& line);

  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] int master() const { return master_.get(); }

  void put_settings_back();
  [[nodiscard]] PtyState state() const;

  // Bytes that the game has not read. May miss what was written within the last kSettling while it
  // is above 0; 0 is exact. Absent where the kept descriptor is lost.
  [[nodiscard]] std::optional<std::size_t> unread() const;
  void clear_unread();

  // The kernel's answer in numbers of bytes; 0 where it would block.
  std::size_t write(std::string_view bytes);
  std::size_t read(char* into, std::size_t space);

  // A game's lock (TIOCEXCL).
  [[nodiscard]] bool locked() const;
  void lock(bool locked);

  // Whether anybody but us has the slave open. Closes the kept descriptor for a moment, which makes
  // events on the path.
  bool held_by_others();
  // The kept descriptor is there; tries to get it back where it was lost.
  bool keep();

 private:
  LineSettings line_;
  std::string path_;
  Descriptor master_;
  Descriptor kept_;
};

// How long the kernel may take to move written bytes to where unread() sees them.
inline constexpr Duration kSettling = milliseconds(10);
// unread() counts no further than this (the kernel's line buffer, 4096, less one place).
inline constexpr std::size_t kUnreadBytesMax = 4'095;

}  // namespace understudy
