// Linux pseudo-terminals through their own ioctls (tty_ioctl(2), termios2): any speed can be set
// and read, and the places of the table of control characters that glibc hides are reached.
#include <asm/ioctls.h>
#include <asm/termbits.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>

#include "sim/link/port_library/port_marks.h"
#include "sim/link/pty_device.h"

namespace understudy {
namespace {

Error no_pty(const char* step) {
  return {ErrorCode::kLinkFailed, std::string("cannot make a pseudo-terminal: ") + step +
                                      " said: " + strerror(errno) +
                                      "; serve over TCP alone with --no-pty"};
}

// Nothing is translated, echoed or made into a signal; 8 data bits; the modem lines don't matter.
termios2 raw_settings(const LineSettings& line) {
  termios2 settings{};
  settings.c_cflag = CS8 | CREAD | CLOCAL | BOTHER | BOTHER << IBSHIFT;
  if (line.stop_bits == 2) settings.c_cflag |= CSTOPB;
  settings.c_ispeed = settings.c_ospeed = static_cast<speed_t>(line.baud);
  settings.c_cc[VMIN] = 1;
  settings.c_cc[UNDERSTUDY_SLOT_TO_GAME] = UNDERSTUDY_MARK_TO_GAME;
  return settings;
}

bool take(int master, termios2& settings) {
  return ioctl(master, TCGETS2, &settings) == 0;
}

}  // namespace

Result<PtyDevice> PtyDevice::open(const LineSettings& line) {
  PtyDevice device;
  device.line_ = line;
  device.master_ = Descriptor(posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC));
  if (!device.master_.valid()) return no_pty("the system");
  const int master = device.master();
  if (grantpt(master) != 0 || unlockpt(master) != 0) return no_pty("unlocking it");
  device.put_settings_back();
  char path[64];
  if (ptsname_r(master, path, sizeof path) != 0) return no_pty("asking for its name");
  device.path_ = path;
  if (!device.keep()) return no_pty("opening its other end");
  return device;
}

void PtyDevice::put_settings_back() {
  const termios2 settings = raw_settings(line_);
  ioctl(master(), TCSETS2, &settings);
}

PtyState PtyDevice::state() const {
  PtyState state{line_, std::nullopt};
  termios2 settings{};
  if (!take(master(), settings)) return state;
  state.line.baud = settings.c_ospeed;
  state.line.stop_bits = (settings.c_cflag & CSTOPB) != 0 ? 2 : 1;
  const unsigned lines = settings.c_cc[UNDERSTUDY_SLOT_TO_PANEL];
  if ((lines & UNDERSTUDY_MARK_BITS) == UNDERSTUDY_MARK_TO_PANEL) {
    state.modem = ModemLines{.dtr = (lines & UNDERSTUDY_LINE_DTR) != 0,
                             .rts = (lines & UNDERSTUDY_LINE_RTS) != 0};
  }
  // Speed 0 asks for hanging up: a port drops both lines (termios(3), B0).
  if (state.line.baud == 0) state.modem = ModemLines{.dtr = false, .rts = false};
  if ((settings.c_cc[UNDERSTUDY_SLOT_TO_GAME] & UNDERSTUDY_MARK_BITS) != UNDERSTUDY_MARK_TO_GAME) {
    // The game built its settings from nothing; put back only what it cannot have meant.
    settings.c_cc[UNDERSTUDY_SLOT_TO_GAME] = UNDERSTUDY_MARK_TO_GAME;
    ioctl(master(), TCSETS2, &settings);
  }
  return state;
}

std::optional<std::size_t> PtyDevice::unread() const {
  if (!kept_.valid()) return std::nullopt;
  int bytes = 0;
  if (ioctl(kept_.get(), FIONREAD, &bytes) != 0) return std::nullopt;
  if (bytes == 0) {
    // Asking whether it is readable makes the kernel move what it still had on its way.
    pollfd readable{kept_.get(), POLLIN, 0};
    poll(&readable, 1, 0);
    ioctl(kept_.get(), FIONREAD, &bytes);
  }
  return static_cast<std::size_t>(bytes);
}

void PtyDevice::clear_unread() {
  if (!kept_.valid()) return;
  // Each round clears the line buffer and then moves up what was behind it; the buffers together
  // hold less than 8 line buffers.
  for (int round = 0; round < 16; ++round) {
    ioctl(kept_.get(), TCFLSH, TCIFLUSH);
    if (unread().value_or(0) == 0) return;
  }
}

std::size_t PtyDevice::write(std::string_view bytes) {
  const ssize_t written = ::write(master(), bytes.data(), bytes.size());
  return written > 0 ? static_cast<std::size_t>(written) : 0;
}

std::size_t PtyDevice::read(char* into, std::size_t space) {
  const ssize_t got = ::read(master(), into, space);
  return got > 0 ? static_cast<std::size_t>(got) : 0;
}

bool PtyDevice::locked() const {
  int is_locked = 0;  // the master would always say no
  return kept_.valid() && ioctl(kept_.get(), TIOCGEXCL, &is_locked) == 0 && is_locked != 0;
}

void PtyDevice::lock(bool locked) {
  if (kept_.valid()) ioctl(kept_.get(), locked ? TIOCEXCL : TIOCNXCL);
}

bool PtyDevice::held_by_others() {
  // The master hangs up exactly when no slave descriptor is open. A lock would keep us out too.
  const bool was_locked = locked();
  if (was_locked) lock(false);
  kept_.reset();
  pollfd hung_up{master(), 0, 0};
  poll(&hung_up, 1, 0);
  const bool held = (hung_up.revents & POLLHUP) == 0;
  keep();
  if (was_locked) lock(true);
  return held;
}

bool PtyDevice::keep() {
  if (!kept_.valid()) {
    kept_ = Descriptor(::open(path_.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC));
  }
  return kept_.valid();
}

}  // namespace understudy
