// Panel reader for C++17 on Linux and macOS: one header to copy into a game that is played on a
// panel of buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over a serial port
// or TCP; other line shapes are left to the game. The same reader exists in Python and C#.
// SPDX-License-Identifier: 0BSD  (use, change and pass on freely; no notice needed, no warranty)
//
//   understudy::PanelReader panel(5, "/dev/ttyACM0");  // 5 numbers a line; or "127.0.0.1:7000";
//   while (running) {                 // or no address: UNDERSTUDY_PORT, else UNDERSTUDY_TCP
//     panel.poll();                   // once a frame; takes all lines that came, never waits
//     if (panel.state() != understudy::PanelState::fresh) speed = 0;  // stale or silent: neutral
//     else speed = panel.value(0) / 1023.0;                // the newest value of the first field
//     for (int n = panel.pressed(2); n > 0; --n) ring();   // a press between frames is not lost
//     panel.set_lamps({255, door_open ? 255 : 0});         // sent on change and every 0.5 s
//   }                                 // the destructor sends all lamps 0 and closes
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
enum class PanelState { silent, stale, fresh };  // silent: no good line on this connection yet
class PanelReader {
 public:
  speed_t baud = B115200;              // change both before the first poll, if at all
  int stale_after_ms = 250;            // a hung box keeps its port open: stale means hands off
  long good_lines = 0, bad_lines = 0;  // bad: wrong field count, or not whole numbers
  std::string trouble;                 // why there is no connection; empty when there is one
  explicit PanelReader(size_t fields, const char* where = "")
      : values_(fields), pressed_(fields), released_(fields), active_low_(fields), where_(where) {
    for (const char* name : {"UNDERSTUDY_PORT", "UNDERSTUDY_TCP"})
      if (const char* set = std::getenv(name); set && where_.empty()) where_ = set;
    if (where_.empty()) where_ = "no address and no UNDERSTUDY_PORT";
  }
  ~PanelReader() { close(); }
  PanelReader(PanelReader&&) = delete;
  void active_low(size_t field) { active_low_.at(field) = 1; }  // a button that sends 0 when down
  int value(size_t field) const { return values_.at(field); }   // 0 until the first good line
  bool down(size_t field) const { return (value(field) == 0) == (active_low_[field] == 1); }
  int pressed(size_t field) const { return pressed_.at(field); }    // edges in all the lines
  int released(size_t field) const { return released_.at(field); }  // that the last poll took
  void set_lamps(const std::vector<int>& lamps) { lamps_ = lamps; }
  PanelState state() const {
    if (last_good_ == 0) return PanelState::silent;
    return now_ms() - last_good_ > stale_after_ms ? PanelState::stale : PanelState::fresh;
  }
  void poll() {  // connects if need be, takes all that arrived, sends lamps
    pressed_ = released_ = std::vector<int>(values_.size());
    if (file_ < 0 && now_ms() - last_try_ >= kRetryMs) open();
    for (int reads = 0; file_ >= 0 && reads < kReadsMax; ++reads) {
      char bytes[4096];
      const ssize_t got = ::read(file_, bytes, sizeof bytes);
      if (got < 0 && errno == EAGAIN) break;
      if (got > 0) feed({bytes, static_cast<size_t>(got)});
      else drop(got == 0 ? ENOTCONN : errno);
    }
    if (file_ >= 0) send_lamps();
  }
  void feed(std::string_view bytes) {  // takes bytes that came another way than by the port
    for (const char byte : bytes) {
      if (byte != '\n') line_.append(line_.size() <= kLineMax, byte);  // one too many: a bad line
      else if (!joining_) ++(line_.size() <= kLineMax && take_line() ? good_lines : bad_lines);
      if (byte == '\n') joining_ = false, line_.clear();  // of the first line we have but the end
    }
  }
  void close() {
    lamps_.assign(lamps_.size(), 0);
    if (state() == PanelState::fresh) send_lamps();
    else tcflush(file_, TCOFLUSH);  // a hung box would hold closing up
    drop(ENOTCONN);
  }

 private:
  using Clock = std::chrono::steady_clock;
  static constexpr int kLineMax = 255, kRetryMs = 500, kRefreshMs = 500, kReadsMax = 16;
  static long now_ms() { return Clock::now().time_since_epoch() / std::chrono::milliseconds(1); }
  void drop(int error) {
    trouble = where_ + ": " + std::strerror(error);
    ::close(file_), file_ = -1, last_good_ = 0;
  }
  void open() {
    const size_t colon = where_.rfind(':');
    socket_ = colon != std::string::npos && where_.find('/') == std::string::npos;
    last_try_ = now_ms(), joining_ = true;
    trouble.clear(), line_.clear(), outgoing_.clear(), sent_.clear();
    socket_ ? open_tcp(where_.substr(0, colon), where_.c_str() + colon + 1) : open_serial();
  }
  void open_serial() {
    file_ = ::open(where_.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    termios raw{};
    if (file_ < 0 || tcgetattr(file_, &raw) != 0) return drop(errno);
    cfmakeraw(&raw), cfsetspeed(&raw, baud), raw.c_cflag |= CLOCAL | CREAD;
    if (tcflush(file_, TCIFLUSH) != 0 || tcsetattr(file_, TCSANOW, &raw) != 0) return drop(errno);
    const int modem_lines = TIOCM_DTR | TIOCM_RTS;
    ioctl(file_, TIOCMBIS, &modem_lines);  // many boards wait for DTR; fails where there is none
  }
  void open_tcp(const std::string& host, const char* port) {  // numbers: a name could take seconds
    sockaddr_in to{};
    std::from_chars(port, port + std::strlen(port), to.sin_port);
    to.sin_family = AF_INET, to.sin_port = htons(to.sin_port);
    to.sin_addr.s_addr = host == "localhost" ? htonl(INADDR_LOOPBACK) : inet_addr(host.c_str());
    file_ = socket(AF_INET, SOCK_STREAM, 0);
    const int one = 1;
    setsockopt(file_, IPPROTO_TCP, TCP_NODELAY, &one, sizeof one);
    fcntl(file_, F_SETFD, FD_CLOEXEC), fcntl(file_, F_SETFL, O_NONBLOCK);
    const int status = connect(file_, reinterpret_cast<sockaddr*>(&to), sizeof to);
    if (status != 0 && errno != EINPROGRESS) drop(errno);  // until it stands, reads say EAGAIN
  }
  bool take_line() {
    std::vector<int> numbers;
    if (!line_.empty() && line_.back() == '\r') line_.pop_back();
    line_ += ',';
    for (const char *at = line_.data(), *end = at + line_.size(); at != end; ++at) {
      const auto [stop, error] = std::from_chars(at, end, numbers.emplace_back());
      if (error != std::errc() || *stop != ',') return false;
      at = stop;
    }
    if (numbers.size() != values_.size()) return false;
    last_good_ = now_ms();
    values_.swap(numbers);
    for (size_t i = 0; good_lines > 0 && i < values_.size(); ++i)
      if ((values_[i] == 0) != (numbers[i] == 0)) ++(down(i) ? pressed_[i] : released_[i]);
    return true;
  }
  void send_lamps() {
    std::string line;
    for (int lamp : lamps_) line += (line.empty() ? "" : ",") + std::to_string(lamp);
    const bool due = !line.empty() && (line != sent_ || now_ms() - last_sent_ >= kRefreshMs);
    const bool may = last_good_ != 0 && outgoing_.empty();  // bytes can upset a board that boots
    if (due && may) sent_ = line, outgoing_ = line + '\n', last_sent_ = now_ms();
    const ssize_t sent = socket_ ? ::send(file_, outgoing_.data(), outgoing_.size(), MSG_NOSIGNAL)
                                 : ::write(file_, outgoing_.data(), outgoing_.size());
    if (sent > 0) outgoing_.erase(0, static_cast<size_t>(sent));
    if (sent < 0 && errno != EAGAIN) drop(errno);
  }
  std::vector<int> values_, pressed_, released_, active_low_, lamps_;
  std::string where_, line_, outgoing_, sent_;
  int file_ = -1;
  bool socket_ = false, joining_ = false;
  long last_try_ = -kRetryMs, last_good_ = 0, last_sent_ = 0;  // 0: none yet
};
}  // namespace understudy
