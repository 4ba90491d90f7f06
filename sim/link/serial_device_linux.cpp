// Serial ports of Linux by their own ioctls (tty_ioctl(2), termios2), so that any speed can be
// asked for. Which ports there are: serial_list_linux.h; what is said of refusals:
// serial_refusals.h.
#include <asm/ioctls.h>
#include <asm/termbits.h>
#include <errno.h>
#include <fcntl.h>
#include <grp.h>
#include <limits.h>
#include <pwd.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>

#include <algorithm>

#include "sim/link/descriptor.h"
#include "sim/link/holders.h"
#include "sim/link/port_library/port_marks.h"
#include "sim/link/private_folder.h"
#include "sim/link/serial_list_linux.h"
#include "sim/link/serial_refusals.h"
#include "sim/link/watch.h"

namespace understudy {
namespace {

// Closing waits until what was taken is sent; more than so many bytes are thrown away instead.
constexpr std::size_t kUnsentAtCloseMax = 256;
constexpr unsigned kFirstPtsMajor = 136;  // to 143: Documentation/admin-guide/devices.txt
constexpr unsigned kLastPtsMajor = 143;

class LinuxSerialDevice final : public SerialDevice {
 public:
  LinuxSerialDevice(Pacer& pacer, Descriptor port, std::string path, const SerialSettings& settings)
      : port_(std::move(port)),
        path_(std::move(path)),
        settings_(settings),
        watch_(std::make_unique<Watch>(pacer, port_.get())) {}
  ~LinuxSerialDevice() override {
    if (unsent() > kUnsentAtCloseMax) ioctl(port_.get(), TCFLSH, TCOFLUSH);
    ioctl(port_.get(), TIOCNXCL);  // it would outlive us where somebody else has the port open too
  }

  bool ready() const override { return watch_->ready(); }
  std::string read(std::size_t space) override;
  std::size_t write(std::string_view bytes) override;
  std::size_t unsent() override;
  std::optional<SerialLines> lines() override;
  void raise(const ModemLines& lines) override;
  Result<Done> set(const SerialSettings& settings) override;
  bool gone() const override { return gone_; }

 private:
  void note_failure(int error);

  Descriptor port_;
  std::string path_;
  SerialSettings settings_;
  std::unique_ptr<Watch> watch_;  // before the descriptor is closed
  bool gone_ = false;
};

// A hung-up terminal answers EIO to everything; a device that is no more, ENXIO or ENODEV.
void LinuxSerialDevice::note_failure(int error) {
  gone_ = gone_ || error == EIO || error == ENXIO || error == ENODEV;
}

std::string LinuxSerialDevice::read(std::size_t space) {
  std::string bytes(std::min<std::size_t>(space, 4'096), '\0');
  const ssize_t got = ::read(port_.get(), bytes.data(), bytes.size());
  const int error = errno;
  const bool full = got > 0 && static_cast<std::size_t>(got) == bytes.size();
  bytes.resize(got > 0 ? static_cast<std::size_t>(got) : 0);
  if (full || space == 0) return bytes;
  if (got > 0) {  // what comes from now on rings again
    watch_->arm();
    return bytes;
  }
  // With VMIN at 1 and without waiting, no bytes are EAGAIN; 0 is a hang-up.
  if (got == 0) {
    gone_ = true;
  } else {
    note_failure(error);
  }
  if (!gone_) watch_->arm();
  return bytes;
}

std::size_t LinuxSerialDevice::write(std::string_view bytes) {
  const ssize_t written = ::write(port_.get(), bytes.data(), bytes.size());
  if (written < 0) note_failure(errno);
  return written > 0 ? static_cast<std::size_t>(written) : 0;
}

std::size_t LinuxSerialDevice::unsent() {
  int bytes = 0;
  if (ioctl(port_.get(), TIOCOUTQ, &bytes) != 0) {
    note_failure(errno);
    return 0;
  }
  return static_cast<std::size_t>(std::max(0, bytes));
}

std::optional<SerialLines> LinuxSerialDevice::lines() {
  int lines = 0;
  if (ioctl(port_.get(), TIOCMGET, &lines) != 0) {
    note_failure(errno);
    return std::nullopt;
  }
  return SerialLines{.cts = (lines & TIOCM_CTS) != 0, .dsr = (lines & TIOCM_DSR) != 0};
}

// Nothing is translated, echoed, made into a signal or held back; the modem lines don't matter to
// the kernel, and DTR falls when the port is closed. A break is no byte.
// `now`: as it is set; the places that carry modem lines on a pseudo-terminal of ours stay.
termios2 raw_settings(const SerialSettings& asked, const termios2& now) {
  constexpr tcflag_t kSizes[] = {CS5, CS6, CS7, CS8};
  termios2 settings{};
  settings.c_iflag = IGNBRK;
  settings.c_cflag = kSizes[std::clamp(asked.data_bits, 5, 8) - 5] | CREAD | CLOCAL | HUPCL |
                     BOTHER | BOTHER << IBSHIFT;
  if (asked.stop_bits == 2) settings.c_cflag |= CSTOPB;
  if (asked.parity != Parity::kNone) settings.c_cflag |= PARENB;
  if (asked.parity == Parity::kOdd) settings.c_cflag |= PARODD;
  settings.c_ispeed = settings.c_ospeed = static_cast<speed_t>(asked.baud);
  settings.c_cc[VMIN] = 1;
  for (const int slot : {UNDERSTUDY_SLOT_TO_PANEL, UNDERSTUDY_SLOT_TO_GAME})
    settings.c_cc[slot] = now.c_cc[slot];
  return settings;
}

SerialSettings written_back(const termios2& settings) {
  const tcflag_t flags = settings.c_cflag;
  const tcflag_t size = flags & CSIZE;
  SerialSettings taken;
  taken.baud = settings.c_ospeed;
  taken.data_bits = size == CS5 ? 5 : size == CS6 ? 6 : size == CS7 ? 7 : 8;
  if ((flags & PARENB) != 0) taken.parity = (flags & PARODD) != 0 ? Parity::kOdd : Parity::kEven;
  taken.stop_bits = (flags & CSTOPB) != 0 ? 2 : 1;
  return taken;
}

// Sets the port and looks whether it took that.
std::optional<Error> put_settings(int port, const std::string& path,
                                  const SerialSettings& settings) {
  termios2 now{};
  bool set = ioctl(port, TCGETS2, &now) == 0;
  const termios2 wanted = raw_settings(settings, now);
  set = set && ioctl(port, TCSETS2, &wanted) == 0 && ioctl(port, TCGETS2, &now) == 0;
  if (!set) return refused_otherwise(path, strerror(errno));
  return refused_settings(path, settings, written_back(now));
}

// A pseudo-terminal has no modem lines; one of ours has two places for them (port_marks.h).
void put_lines_into_slots(int port, const ModemLines& lines) {
  termios2 settings{};
  if (ioctl(port, TCGETS2, &settings) != 0) return;
  const unsigned mark = settings.c_cc[UNDERSTUDY_SLOT_TO_GAME] & UNDERSTUDY_MARK_BITS;
  if (mark != UNDERSTUDY_MARK_TO_GAME) return;
  const int slot = UNDERSTUDY_MARK_TO_PANEL | (lines.dtr ? UNDERSTUDY_LINE_DTR : 0) |
                   (lines.rts ? UNDERSTUDY_LINE_RTS : 0);
  settings.c_cc[UNDERSTUDY_SLOT_TO_PANEL] = static_cast<cc_t>(slot);
  ioctl(port, TCSETS2, &settings);
}

void LinuxSerialDevice::raise(const ModemLines& lines) {
  const int up = (lines.dtr ? TIOCM_DTR : 0) | (lines.rts ? TIOCM_RTS : 0);
  const int down = (TIOCM_DTR | TIOCM_RTS) & ~up;
  const bool has_lines =
      ioctl(port_.get(), TIOCMBIS, &up) == 0 && ioctl(port_.get(), TIOCMBIC, &down) == 0;
  if (!has_lines) put_lines_into_slots(port_.get(), lines);
}

Result<Done> LinuxSerialDevice::set(const SerialSettings& settings) {
  if (const auto refused = put_settings(port_.get(), path_, settings)) {
    put_settings(port_.get(), path_, settings_);
    return *refused;
  }
  settings_ = settings;
  return Done{};
}

std::string name_of_user(uid_t user) {
  const passwd* entry = getpwuid(user);
  return entry != nullptr ? entry->pw_name : "user " + std::to_string(user);
}

std::string name_of_group(gid_t group) {
  const struct group* entry = getgrgid(group);
  return entry != nullptr ? entry->gr_name : std::to_string(group);
}

// As the list of users says, which a login reads once.
bool is_member(const std::string& user, gid_t group) {
  const passwd* entry = getpwnam(user.c_str());
  if (entry == nullptr) return false;
  int count = 256;
  std::vector<gid_t> groups(static_cast<std::size_t>(count));
  if (getgrouplist(user.c_str(), entry->pw_gid, groups.data(), &count) < 0) return false;
  return std::find(groups.begin(), groups.begin() + count, group) != groups.begin() + count;
}

PortRights rights_of(const struct stat& port) {
  const std::string user = name_of_user(geteuid());
  return {.owner = name_of_user(port.st_uid),
          .group = name_of_group(port.st_gid),
          .user = user,
          .group_may = (port.st_mode & (S_IRGRP | S_IWGRP)) == (S_IRGRP | S_IWGRP),
          .user_in_group = is_member(user, port.st_gid)};
}

bool is_pts(const struct stat& port) {
  return major(port.st_rdev) >= kFirstPtsMajor && major(port.st_rdev) <= kLastPtsMajor;
}

// What else than a serial port this is; empty where it may be one. Devices of other kinds are told
// by the system's table, without opening them: some do things when opened.
std::string other_kind(const struct stat& port) {
  if (S_ISDIR(port.st_mode)) return "a folder";
  if (S_ISREG(port.st_mode)) return "a file";
  if (S_ISFIFO(port.st_mode)) return "a pipe";
  if (S_ISSOCK(port.st_mode)) return "a socket";
  if (S_ISBLK(port.st_mode)) return "a disk";
  if (is_pts(port)) return "";
  const unsigned kind = major(port.st_rdev);
  const unsigned place = minor(port.st_rdev);
  const bool screen = (kind == 4 && place < 64) || (kind == 5 && place <= 2);
  if (screen) return "a terminal";
  const std::string entry =
      "/sys/dev/char/" + std::to_string(kind) + ":" + std::to_string(place) + "/subsystem";
  char subsystem[PATH_MAX];
  const ssize_t length = readlink(entry.c_str(), subsystem, sizeof subsystem);
  if (length <= 0) return "";
  const std::string_view whole(subsystem, static_cast<std::size_t>(length));
  const std::string name(whole.substr(whole.rfind('/') + 1));
  return name == "tty" ? "" : "a device of another kind (" + name + ")";
}

// Whoever made a pseudo-terminal may keep both ends of it open and is no rival.
std::vector<Holder> rivals_at(const std::string& path, const struct stat& port) {
  std::vector<Holder> rivals = holders_of_path(path);
  if (rivals.empty() || !is_pts(port)) return rivals;
  for (const char* master : {"/dev/ptmx", "/dev/pts/ptmx"}) {
    const std::vector<Holder> makers = holders_of_path(master);
    std::erase_if(rivals, [&](const Holder& rival) {
      return std::find(makers.begin(), makers.end(), rival) != makers.end();
    });
  }
  return rivals;
}

// Opened, ours alone and set; an Error otherwise.
Result<Descriptor> opened(const std::string& path, const struct stat& port,
                          const SerialSettings& settings) {
  const int flags = O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC;
  Descriptor descriptor(::open(path.c_str(), flags));
  const int error = errno;
  if (!descriptor.valid()) {
    if (error == EACCES || error == EPERM) return refused_rights(path, rights_of(port));
    if (error == EBUSY) return refused_busy(path, holders_of_path(path));
    return refused_otherwise(path, strerror(error));
  }
  const int fd = descriptor.get();
  termios2 taken{};
  if (ioctl(fd, TCGETS2, &taken) != 0) {
    if (errno == ENOTTY) return refused_kind(path, "a device of another kind");
    return refused_otherwise(path, strerror(errno));
  }
  // Root is let in past others' locks, and some programs lock by flock(2) alone.
  int locked = 0;
  const bool theirs = ioctl(fd, TIOCGEXCL, &locked) == 0 && locked != 0;
  if (theirs || flock(fd, LOCK_EX | LOCK_NB) != 0) {
    return refused_busy(path, holders_of_path(path));
  }
  ioctl(fd, TIOCEXCL);
  if (const auto refused = put_settings(fd, path, settings)) {
    ioctl(fd, TIOCNXCL);
    return *refused;
  }
  ioctl(fd, TCFLSH, TCIOFLUSH);  // what came before anybody listened
  return descriptor;
}

class LinuxSerialPorts final : public SerialPorts {
 public:
  std::vector<SerialPortInfo> list() override { return list_linux_ports(); }

  std::string path_of(const std::string& name) override {
    struct stat there {};
    if (stat(name.c_str(), &there) == 0) return name;
    const std::string device = "/dev/" + name;
    if (stat(device.c_str(), &there) == 0) return device;
    const Result<std::string> folder = private_folder();
    const std::string named = folder.ok() ? folder.value() + "/" + name : name;
    return lstat(named.c_str(), &there) == 0 ? named : name;
  }

  std::string canonical(const std::string& path) override {
    char real[PATH_MAX];
    return realpath(path.c_str(), real) != nullptr ? real : path;
  }

  Result<std::unique_ptr<SerialDevice>> open(Pacer& pacer, const std::string& path,
                                             const SerialSettings& settings) override {
    struct stat port {};
    if (stat(path.c_str(), &port) != 0) {
      const int error = errno;
      if (error != ENOENT && error != ENOTDIR) return refused_otherwise(path, strerror(error));
      char leads_to[PATH_MAX];
      const ssize_t length = readlink(path.c_str(), leads_to, sizeof leads_to);
      return refused_absent(
          path, std::string(leads_to, static_cast<std::size_t>(std::max<ssize_t>(0, length))),
          list());
    }
    const std::string other = other_kind(port);
    if (!other.empty()) return refused_kind(path, other);
    const std::string real = canonical(path);
    const std::vector<Holder> rivals = rivals_at(real, port);
    if (!rivals.empty()) return refused_busy(path, rivals);
    Result<Descriptor> descriptor = opened(path, port, settings);
    if (!descriptor.ok()) return descriptor.error();
    auto device =
        std::make_unique<LinuxSerialDevice>(pacer, std::move(descriptor).value(), path, settings);
    device->raise({.dtr = true, .rts = true});
    return std::unique_ptr<SerialDevice>(std::move(device));
  }
};

}  // namespace

SerialPorts& system_serial_ports() {
  static LinuxSerialPorts ports;
  return ports;
}

}  // namespace understudy
