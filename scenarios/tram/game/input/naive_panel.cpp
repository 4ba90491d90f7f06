// Input as most first attempts have it, kept as a specimen: do not copy. On purpose it
//   waits inside the frame for one line, with a short time-out, and throws away the part it had
//     when the time is up, so the next call takes the tail for a line;
//   takes one line a frame, however many wait, so that a fast box runs ahead of the game;
//   believes whatever sscanf finds, however few fields that is;
//   compares buttons frame by frame, so that a short press between two frames is lost;
//   has no idea how old its values are, and never opens the port again;
//   sends the lamps every frame, changed or not, and leaves them lit at the end.
#include <arpa/inet.h>
#include <fcntl.h>
#include <poll.h>
#include <sys/socket.h>
#include <termios.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include "scenarios/tram/game/input/panel_input.h"

namespace understudy::tram {

namespace {

constexpr int kTimeout_ms = 1;

int open_tcp(const std::string& host, int port) {
  sockaddr_in to{};
  to.sin_family = AF_INET;
  to.sin_port = htons(static_cast<unsigned short>(port));
  to.sin_addr.s_addr = inet_addr(host.c_str());
  const int file = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
  if (connect(file, reinterpret_cast<sockaddr*>(&to), sizeof to) == 0) return file;
  const int error = errno;
  close(file);
  errno = error;
  return -1;
}

int open_serial(const std::string& path) {
  const int file = open(path.c_str(), O_RDWR | O_NOCTTY | O_CLOEXEC);
  termios settings{};
  if (file >= 0 && tcgetattr(file, &settings) == 0) {
    cfmakeraw(&settings);
    cfsetspeed(&settings, B115200);
    tcsetattr(file, TCSANOW, &settings);
  }
  return file;
}

class NaivePanel final : public PanelInput {
 public:
  explicit NaivePanel(const std::string& address) : where_(address) {
    const size_t colon = address.rfind(':');
    const bool tcp = colon != std::string::npos && address.find('/') == std::string::npos;
    file_ = tcp ? open_tcp(address.substr(0, colon), std::atoi(address.c_str() + colon + 1))
                : open_serial(address);
    if (file_ < 0) trouble_ = address + ": " + std::strerror(errno);
  }
  ~NaivePanel() override {
    if (file_ >= 0) close(file_);
  }
  NaivePanel(const NaivePanel&) = delete;
  NaivePanel& operator=(const NaivePanel&) = delete;

  PanelReading poll() override {
    if (file_ < 0) return {.where = where_, .trouble = trouble_};
    const std::string line = read_line();
    if (!line.empty()) {
      ++lines_;
      std::sscanf(line.c_str(), "%d,%d,%d,%d,%d", &power_, &heater_, &bell_, &doors_, &sander_);
    }
    const bool pressed = doors_ != 0 && doors_before_ == 0;
    doors_before_ = doors_;
    return {.controls = {.power = power_,
                         .heater = heater_,
                         .bell = bell_ != 0,
                         .sander = sander_ != 0,
                         .door_presses = pressed ? 1 : 0},
            .link = PanelLink::fresh,
            .where = where_,
            .good_lines = lines_};
  }

  void show(const Outputs& outputs, const char*) override {
    char line[96];
    const int length = std::snprintf(line, sizeof line, "%d,%d,%d,%d,%d,%d\n", outputs.signal_red,
                                     outputs.signal_amber, outputs.signal_green, outputs.door_lamp,
                                     outputs.speed_gauge, outputs.timetable);
    if (file_ >= 0 && write(file_, line, static_cast<size_t>(length)) < 0) trouble_ = "write";
  }

 private:
  // One line without its end, or nothing when the time was up: what came until then is lost.
  std::string read_line() {
    std::string line;
    pollfd waiting{.fd = file_, .events = POLLIN, .revents = 0};
    char byte = 0;
    while (::poll(&waiting, 1, kTimeout_ms) > 0 && read(file_, &byte, 1) == 1) {
      if (byte == '\n') return line;
      line += byte;
    }
    return "";
  }

  int file_ = -1;
  std::string where_;
  std::string trouble_;
  long lines_ = 0;
  int power_ = 0, heater_ = 0, bell_ = 0, doors_ = 0, sander_ = 0;
  int doors_before_ = 0;
};

}  // namespace

std::unique_ptr<PanelInput> naive_panel(const std::string& address) {
  return std::make_unique<NaivePanel>(address);
}

}  // namespace understudy::tram
