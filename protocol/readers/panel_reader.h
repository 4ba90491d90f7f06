// Panel reader for C++17 on Linux and macOS: one header to copy into a game that is played on a
// panel of buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over a serial port
// or TCP; other line shapes are left to the game. The same reader exists in Python, C#, GDScript,
// Lua and JavaScript.
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
//
// A pot, slide or stick as the game wants it; without these calls axis() is value / 1023:
//   panel.calibrate(0, 12, 1010);       // the numbers at its two ends; axis(0) is 0 to 1
//   panel.smooth(0);                    // calm at rest, quick in motion
//   speed = panel.axis(0);
#pragma once
#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/tcp.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>
#include <algorithm>
#include <cerrno>
#include <charconv>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <locale>
#include <sstream>
#include <string>
#include <vector>

namespace understudy {
// The One Euro filter (Casiez, Roussel and Vogel, CHI 2012): a low-pass filter whose cutoff rises
// with speed. Times in seconds; the first sample passes as it is.
struct OneEuro {
  double min_cutoff_hz = 1, beta = 0, rate_cutoff_hz = 1;  // beta: Hz more per unit a second
  double value = 0, rate = 0, time_s = -1;                 // -1: no sample yet
  double filter(double sample, double now_s) {
    const double step_s = now_s - time_s;
    if (time_s >= 0 && step_s <= 0) return value;
    if (time_s < 0) value = sample;
    else rate += share(rate_cutoff_hz, step_s) * ((sample - value) / step_s - rate);
    value += share(min_cutoff_hz + beta * std::abs(rate), step_s) * (sample - value);
    time_s = now_s;
    return value;
  }
  static double share(double cutoff_hz, double step_s) {
    return 1 / (1 + 1 / (2 * 3.141592653589793 * cutoff_hz * step_s));
  }
};
enum class PanelState { silent, stale, fresh };  // silent: no good line on this connection yet
class PanelReader {
 public:
  speed_t baud = B115200;              // change both before the first poll, if at all
  int stale_after_ms = 250;            // a hung box keeps its port open: stale means hands off
  long good_lines = 0, bad_lines = 0;  // bad: wrong field count, or not whole numbers
  std::string trouble;                 // why there is no connection; empty when there is one
  explicit PanelReader(size_t fields, const char* where = "") : fields_(fields), where_(where) {
    for (const char* name : {"UNDERSTUDY_PORT", "UNDERSTUDY_TCP"})
      if (const char* set = std::getenv(name); set && *set) {
        if (where_.empty()) where_ = set;
        witnessed_ = witnessed_ || where_ == set;  // no other address is surely a panel of ours
      }
    if (where_.empty()) where_ = "no address and no UNDERSTUDY_PORT";
  }
  ~PanelReader() { close(); }
  PanelReader(PanelReader&&) = delete;
  void active_low(size_t field) { fields_.at(field).active_low = true; }  // sends 0 when down
  int value(size_t field) const { return fields_.at(field).value; }  // 0 until the first good line
  bool down(size_t field) const { return (value(field) == 0) == fields_[field].active_low; }
  int pressed(size_t field) const { return fields_.at(field).pressed; }  // edges in all the lines
  int released(size_t field) const {
    return fields_.at(field).released;
  }  // that the last poll took
  void set_lamps(const std::vector<int>& lamps) { lamps_ = lamps; }
  // What axis() makes of a field: 0 to 1 between the numbers that the box gives at its two ends
  // (low above high: reversed), or, once it has a middle, -1 to 1 with 0 there. Before the first
  // good line it is 0.
  void calibrate(size_t field, int low, int high) {
    fields_.at(field).low = low, fields_[field].high = high;
  }
  void centre(size_t field, int middle, double dead = 0) {  // dead: this share each side is 0 too
    Field& f = fields_.at(field);
    f.middle = middle, f.dead = dead, f.centred = true;
  }
  void dead_ends(size_t field, double dead) { fields_.at(field).dead_ends = dead; }  // is full too
  void learn_ends(size_t field) { fields_.at(field).learns = true; }  // they widen to what comes
  void smooth(size_t field, double min_cutoff_hz = 1, double beta = 5) {  // beta: less lag
    Field& f = fields_.at(field);
    f.smooths = true, f.beta = beta, f.filter.min_cutoff_hz = min_cutoff_hz;
  }
  double axis(size_t field) const {
    const Field& f = fields_.at(field);
    if (good_lines == 0) return 0;
    if (!f.centred) return reach(f.now, f.low, f.high, f.dead_ends, f.dead_ends);
    return reach(f.now, f.middle, f.high, f.dead, f.dead_ends) -
           reach(f.now, f.middle, f.low, f.dead, f.dead_ends);
  }
  // Tells Understudy what the game makes of its input, for tests: a word for what it is doing and
  // the numbers it acts on. Call it once a frame; it speaks 4 times a second, and only to the
  // address in UNDERSTUDY_PORT or UNDERSTUDY_TCP, never to a box.
  template <class... Numbers>
  void witness(std::string state, Numbers... numbers) {
    const bool can = witnessed_ && file_ >= 0 && last_good_ >= 0 && outgoing_.empty();
    if (!can || now_s() - last_seen_ < kWitnessS) return;
    for (char& c : state) c = c > ' ' && c <= '~' ? c : '_';
    int waiting = 0;
    ioctl(file_, FIONREAD, &waiting);
    std::ostringstream line;
    line.imbue(std::locale::classic()), line.precision(10);
    line << "#seen " << std::lround((now_s() - last_good_) * 1000) << ' ' << waiting << ' '
         << (state.empty() ? "-" : state);
    ((line << ' ' << numbers), ...);
    outgoing_ = line.str() + '\n', last_seen_ = now_s();
    flush();
  }
  PanelState state() const {
    if (last_good_ < 0) return PanelState::silent;
    return now_s() - last_good_ > stale_after_ms / 1e3 ? PanelState::stale : PanelState::fresh;
  }
  void poll() {  // connects if need be, takes all that arrived, sends lamps
    for (Field& f : fields_) f.pressed = f.released = 0;
    if (file_ < 0 && now_s() - last_try_ >= kRetryS) open();
    for (int reads = 0; file_ >= 0 && reads < kReadsMax; ++reads) {
      char bytes[4096];
      const ssize_t got = ::read(file_, bytes, sizeof bytes);
      if (got < 0 && errno == EAGAIN) break;
      if (got > 0) feed({bytes, static_cast<size_t>(got)});
      else drop(got == 0 ? ENOTCONN : errno);
    }
    if (file_ >= 0) send_lamps();
  }
  void feed(std::string_view bytes) { feed(bytes, now_s()); }
  void feed(std::string_view bytes, double at_s) {  // takes bytes that came another way, and when
    const long before = good_lines;
    for (const char byte : bytes) {
      if (byte != '\n') line_.append(line_.size() <= kLineMax, byte);  // one too many: a bad line
      else if (!joining_) ++(line_.size() <= kLineMax && take_line() ? good_lines : bad_lines);
      if (byte == '\n') joining_ = false, line_.clear();  // of the first line we have but the end
    }
    if (good_lines > before) last_good_ = at_s, follow();
  }
  void close() {
    lamps_.assign(lamps_.size(), 0);
    if (state() == PanelState::fresh) send_lamps();
    else tcflush(file_, TCOFLUSH);  // a hung box would hold closing up
    drop(ENOTCONN);
  }

 private:
  struct Field {
    int value = 0, pressed = 0, released = 0, low = 0, high = 1023, middle = 0;
    double dead = 0, dead_ends = 0, beta = 0, now = 0;  // now: the value, smoothed where wanted
    bool active_low = false, centred = false, learns = false, smooths = false;
    OneEuro filter;
  };
  using Clock = std::chrono::steady_clock;
  static constexpr int kLineMax = 255, kReadsMax = 16;
  static constexpr double kRetryS = 0.5, kRefreshS = 0.5, kWitnessS = 0.25;
  static double now_s() {
    return std::chrono::duration<double>(Clock::now().time_since_epoch()).count();
  }
  static double reach(double at, double from, double to, double dead_from, double dead_to) {
    const double begin = from + dead_from * (to - from), end = to - dead_to * (to - from);
    return begin == end ? 0 : std::clamp((at - begin) / (end - begin), 0.0, 1.0);
  }
  void follow() {  // lines that came together count as one: the filter wants the time between
    for (Field& f : fields_) {
      f.filter.beta = f.beta / std::max(1.0, std::abs(double(f.high) - f.low));
      f.now = f.smooths ? f.filter.filter(f.value, last_good_) : f.value;
    }
  }
  void drop(int error) {
    trouble = where_ + ": " + std::strerror(error);
    ::close(file_), file_ = -1, last_good_ = -1;
  }
  void open() {
    const size_t colon = where_.rfind(':');
    socket_ = colon != std::string::npos && where_.find('/') == std::string::npos;
    last_try_ = now_s(), joining_ = true;
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
    if (numbers.size() != fields_.size()) return false;
    for (size_t i = 0; i < numbers.size(); ++i) {
      Field& f = fields_[i];
      const bool edge = good_lines > 0 && (f.value == 0) != (numbers[i] == 0);
      f.value = numbers[i];
      if (edge) ++(down(i) ? f.pressed : f.released);
      if (!f.learns) continue;
      int &least = f.low > f.high ? f.high : f.low, &most = f.low > f.high ? f.low : f.high;
      least = std::min(least, f.value), most = std::max(most, f.value);
    }
    return true;
  }
  void send_lamps() {
    std::string line;
    for (int lamp : lamps_) line += (line.empty() ? "" : ",") + std::to_string(lamp);
    flush();
    const bool due = !line.empty() && (line != sent_ || now_s() - last_sent_ >= kRefreshS);
    if (!due || last_good_ < 0 || !outgoing_.empty()) return;  // bytes can upset a booting board
    sent_ = line, outgoing_ = line + '\n', last_sent_ = now_s();
    flush();
  }
  void flush() {  // what the port does not take now goes another time
    if (outgoing_.empty()) return;
    const ssize_t sent = socket_ ? ::send(file_, outgoing_.data(), outgoing_.size(), MSG_NOSIGNAL)
                                 : ::write(file_, outgoing_.data(), outgoing_.size());
    if (sent > 0) outgoing_.erase(0, static_cast<size_t>(sent));
    if (sent < 0 && errno != EAGAIN) drop(errno);
  }
  std::vector<Field> fields_;
  std::vector<int> lamps_;
  std::string where_, line_, outgoing_, sent_;
  int file_ = -1;
  bool socket_ = false, joining_ = false, witnessed_ = false;
  double last_try_ = -kRetryS, last_good_ = -1, last_sent_ = 0, last_seen_ = 0;  // -1: none yet
};
}  // namespace understudy
