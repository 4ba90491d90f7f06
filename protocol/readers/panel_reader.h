// Panel reader for C++17 on Linux and macOS: one header to copy into a game that is played on a
// panel of buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over a serial port
// or TCP; other line shapes are left to the game. The same reader exists in Python and C#.
// SPDX-License-Identifier: 0BSD  (use, change and pass on freely; no notice needed, no warranty)
//
//   understudy::PanelReader panel(5, "/dev/ttyACM0");  // 5 numbers a line; or "127.0.0.1:7000";
//   while (running) {                    // or no address: UNDERSTUDY_PORT, else UNDERSTUDY_TCP
//     panel.poll();                      // once a frame; takes all lines that came, never waits
//     if (panel.state() != understudy::PanelState::fresh) speed = 0;  // stale or silent: neutral
//     else speed = panel.value(0) / 1023.0;                // the newest value of the first field
//     for (int n = panel.pressed(2); n > 0; --n) ring();      // a press between frames is not lost
//     panel.set_lamps({255, door_open ? 255 : 0});            // sent on change and every 0.5 s
//   }                                    // the destructor sends all lamps 0 and closes
#pragma once
#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/tcp.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

#include <cerrno>
#include <charconv>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <string>
#include <vector>

namespace understudy {
// silent: no connection, or no good line on it yet. stale: none for stale_after_ms.
enum class PanelState { silent, stale, fresh };

class PanelReader {
 public:
  speed_t baud = B115200;    // change both before the first poll, if at all
  int stale_after_ms = 250;  // a hung box keeps its port open: stale input means hands off
  long good_lines = 0, bad_lines = 0;  // bad: wrong field count, or not whole numbers
  std::string trouble = "no address given, UNDERSTUDY_PORT not set";  // empty when connected

  explicit PanelReader(size_t fields, const std::string& where = "") : fields_(fields) {
    for (const char* name : {"UNDERSTUDY_PORT", "UNDERSTUDY_TCP"})
      if (const char* set = std::getenv(name); where.empty() && set && *set)
        addresses_.push_back(set);
    if (!where.empty()) addresses_.push_back(where);
  }
  PanelReader(PanelReader&&) = delete;
  ~PanelReader() { close(); }

  void active_low(size_t field) { fields_.at(field).low = 1; }  // a button that sends 0 pressed
  int value(size_t field) const { return fields_.at(field).value; }  // 0 until the first good line
  bool down(size_t field) const { return (value(field) == 0) == (fields_[field].low == 1); }
  int pressed(size_t field) const { return fields_.at(field).pressed; }    // edges in all lines
  int released(size_t field) const { return fields_.at(field).released; }  // the last poll took
  void set_lamps(const std::vector<int>& lamps) { lamps_ = lamps; }
  PanelState state() const {
    if (!heard_) return PanelState::silent;
    return now_ms() - last_good_ > stale_after_ms ? PanelState::stale : PanelState::fresh;
  }
  // Connects if need be, takes all that arrived, sends lamps. Returns how many good lines came.
  long poll() {
    for (Field& field : fields_) field.pressed = field.released = 0;
    const long before = good_lines;
    if (file_ < 0 && !addresses_.empty() && now_ms() - last_try_ >= kRetryMs) open();
    char bytes[4096];
    for (int reads = 0; file_ >= 0 && reads < kReadsMax; ++reads) {
      const ssize_t got = ::read(file_, bytes, sizeof bytes);
      if (got < 0 && errno == EAGAIN) break;
      if (got > 0) feed(bytes, static_cast<size_t>(got));
      else drop(got == 0 ? ENOTCONN : errno);
    }
    if (file_ >= 0) send_lamps();
    return good_lines - before;
  }
  // Takes bytes that came another way than by the reader's own port; poll() uses it too.
  void feed(const char* bytes, size_t size) {
    for (const char* at = bytes; at != bytes + size; ++at) {
      if (*at != '\n' && line_.size() <= kLineMax) line_ += *at;  // one too many marks it bad
      if (*at != '\n') continue;
      if (!joining_) ++(line_.size() <= kLineMax && take_line() ? good_lines : bad_lines);
      joining_ = false;  // we had come in the middle of the first line
      line_.clear();
    }
  }
  void close() {
    if (file_ < 0) return;
    lamps_.assign(lamps_.size(), 0);
    if (state() == PanelState::fresh) send_lamps();
    else tcflush(file_, TCOFLUSH);  // else it may wait
    if (file_ >= 0) drop(ENOTCONN);
  }

 private:
  struct Field {
    int value = 0, pressed = 0, released = 0, low = 0;
  };
  static constexpr int kLineMax = 255, kRetryMs = 500, kRefreshMs = 500, kReadsMax = 16;
  static long now_ms() {
    return std::chrono::steady_clock::now().time_since_epoch() / std::chrono::milliseconds(1);
  }
  void drop(int error) {
    trouble = addresses_.front() + ": " + std::strerror(error);
    if (file_ >= 0) ::close(file_);
    file_ = -1, heard_ = false;
    addresses_.push_back(addresses_.front()), addresses_.erase(addresses_.begin());
  }
  void open() {
    const std::string where = addresses_.front();
    const size_t colon = where.rfind(':');
    socket_ = colon != std::string::npos && where.find('/') == std::string::npos;
    last_try_ = now_ms(), joining_ = true;
    trouble.clear(), line_.clear(), outgoing_.clear(), sent_.clear();
    if (!(socket_ ? open_tcp(where.substr(0, colon), where.c_str() + colon + 1)
                  : open_serial(where)))
      drop(errno);
  }
  bool open_serial(const std::string& path) {
    file_ = ::open(path.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    termios raw{};
    if (file_ < 0 || tcgetattr(file_, &raw) != 0) return false;
    cfmakeraw(&raw), cfsetspeed(&raw, baud);
    raw.c_cflag |= CLOCAL | CREAD;
    const int modem_lines = TIOCM_DTR | TIOCM_RTS;
    ioctl(file_, TIOCMBIS, &modem_lines);  // many boards wait for DTR; fails where there is none
    return tcflush(file_, TCIFLUSH) == 0 && tcsetattr(file_, TCSANOW, &raw) == 0;
  }
  bool open_tcp(const std::string& host, const char* port) {
    sockaddr_in to{};
    to.sin_family = AF_INET, to.sin_port = htons(static_cast<uint16_t>(std::atoi(port)));
    errno = EDESTADDRREQ;  // an address in numbers only: looking a name up could take seconds
    if (inet_pton(AF_INET, host == "localhost" ? "127.0.0.1" : host.c_str(), &to.sin_addr) != 1)
      return false;
    file_ = socket(AF_INET, SOCK_STREAM, 0);
    const int one = 1;
    fcntl(file_, F_SETFD, FD_CLOEXEC), fcntl(file_, F_SETFL, O_NONBLOCK);
    setsockopt(file_, IPPROTO_TCP, TCP_NODELAY, &one, sizeof one);
    // Until the connection stands, reads and writes answer EAGAIN, or why it failed.
    return connect(file_, reinterpret_cast<sockaddr*>(&to), sizeof to) == 0 || errno == EINPROGRESS;
  }
  bool take_line() {
    if (!line_.empty() && line_.back() == '\r') line_.pop_back();
    line_ += ',';
    std::vector<int> numbers;
    for (const char *at = line_.data(), *end = at + line_.size(); at != end; ++at) {
      const auto [stop, error] = std::from_chars(at, end, numbers.emplace_back());
      if (error != std::errc() || *stop != ',') return false;
      at = stop;
    }
    if (numbers.size() != fields_.size()) return false;
    for (size_t i = 0; i < numbers.size(); ++i) {
      const bool edge = known_ && (numbers[i] == 0) != (fields_[i].value == 0);
      fields_[i].value = numbers[i];
      if (edge) ++(down(i) ? fields_[i].pressed : fields_[i].released);
    }
    last_good_ = now_ms();
    return heard_ = known_ = true;
  }
  void send_lamps() {
    std::string line;
    for (int lamp : lamps_) line += (line.empty() ? "" : ",") + std::to_string(lamp);
    const bool due = line != sent_ || now_ms() - last_sent_ >= kRefreshMs;
    // Not before the board's first line: bytes can keep a booting board in its loader.
    if (due && heard_ && outgoing_.empty() && !line.empty())
      outgoing_ = line + '\n', sent_ = line, last_sent_ = now_ms();
    const ssize_t sent = socket_ ? ::send(file_, outgoing_.data(), outgoing_.size(), MSG_NOSIGNAL)
                                 : ::write(file_, outgoing_.data(), outgoing_.size());
    if (sent >= 0) outgoing_.erase(0, static_cast<size_t>(sent));
    else if (errno != EAGAIN) drop(errno);
  }

  std::vector<Field> fields_;
  std::vector<int> lamps_;
  std::vector<std::string> addresses_;  // the first is in use; one that fails goes to the end
  std::string line_, outgoing_, sent_;
  int file_ = -1;
  bool socket_ = false, joining_ = false, heard_ = false, known_ = false;
  long last_try_ = -kRetryMs, last_good_ = 0, last_sent_ = 0;
};
}  // namespace understudy
