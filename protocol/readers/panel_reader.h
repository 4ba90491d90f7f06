// Panel reader for C++17 and newer on Linux and macOS: one header to copy into a game that is played
// on a panel of buttons, pots and lamps. It speaks lines of integers ("512,300,1\n") over a serial
// port or TCP. The same reader exists in Python and C#. Other line shapes are left to the game.
// SPDX-License-Identifier: 0BSD  (use, change and pass on freely; no notice needed, no warranty)
//
//   understudy::PanelReader panel(5, "/dev/ttyACM0");  // 5 numbers a line; or "127.0.0.1:7000";
//   while (running) {                    // or no address: UNDERSTUDY_PORT, else UNDERSTUDY_TCP
//     panel.poll();                      // once a frame; takes all lines that came, never waits
//     if (panel.state() != understudy::PanelState::fresh) speed = 0;  // stale or silent: neutral
//     else speed = panel.value(0) / 1023.0;                   // the newest value of the first field
//     for (int n = panel.pressed(2); n > 0; --n) ring();      // a press between frames is not lost
//     panel.set_lamps({255, door_open ? 255 : 0});            // sent on change and every 0.5 s
//   }                                    // the destructor sends all lamps 0 and closes
#pragma once

#include <fcntl.h>
#include <netdb.h>
#include <netinet/tcp.h>
#include <sys/ioctl.h>
#include <sys/socket.h>
#include <termios.h>
#include <unistd.h>

#include <algorithm>
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
    int baud = 115200;         // change both before the first poll, if at all
    int stale_after_ms = 250;  // a hung box keeps its port open: take stale input for hands off

    explicit PanelReader(int fields, const std::string& where = "") : fields_(fields) {
        if (!where.empty()) return addresses_.push_back(where);
        for (const char* name : {"UNDERSTUDY_PORT", "UNDERSTUDY_TCP"})
            if (const char* set = std::getenv(name); set && *set) addresses_.push_back(set);
    }
    ~PanelReader() { close(); }
    PanelReader(const PanelReader&) = delete;
    PanelReader& operator=(const PanelReader&) = delete;

    void active_low(int field) { fields_.at(field).low = true; }  // this button sends 0 when pressed
    int value(int field) const { return fields_.at(field).value; }  // 0 before the first good line
    bool down(int field) const { return (value(field) != 0) != fields_[field].low; }
    int pressed(int field) const { return fields_.at(field).pressed; }    // edges in all lines that
    int released(int field) const { return fields_.at(field).released; }  // the last poll took
    long good_lines() const { return good_lines_; }
    long bad_lines() const { return bad_lines_; }  // wrong field count or not whole numbers
    const std::string& trouble() const { return trouble_; }  // why not connected, else empty
    void set_lamps(const std::vector<int>& lamps) { lamps_ = lamps; }
    PanelState state() const {
        if (!heard_) return PanelState::silent;
        return ms_since(last_good_) > stale_after_ms ? PanelState::stale : PanelState::fresh;
    }

    // Connects if need be, takes all that arrived, sends lamps. Returns the good lines taken.
    int poll() {
        for (Field& field : fields_) field.pressed = field.released = 0;
        const long before = good_lines_;
        if (file_ < 0) open();
        for (int reads = 0; file_ >= 0 && reads < kReadsMax && receive(); ++reads) {}
        if (file_ >= 0) send_lamps();
        return static_cast<int>(good_lines_ - before);
    }

    // Takes bytes that came another way than by the reader's own port; poll() uses it too.
    void feed(const char* data, size_t size) {
        for (const char* next = data; next != data + size; ++next) {
            if (*next != '\n' && line_.size() <= kLineMax) line_ += *next;  // one too many marks it
            if (*next != '\n') continue;
            if (joining_) joining_ = false;  // we came in the middle of this line
            else if (take_line()) heard_ = true, last_good_ = Clock::now(), ++good_lines_;
            else ++bad_lines_;
            line_.clear();
        }
    }

    void close() {
        std::fill(lamps_.begin(), lamps_.end(), 0);
        for (int part = 0; part < 2 && file_ >= 0; ++part) send_lamps();  // the pending one, zeros
        if (file_ >= 0 && !outgoing_.empty()) tcflush(file_, TCOFLUSH);   // else closing may wait
        drop("closed");
    }

  private:
    struct Field { int value = 0, pressed = 0, released = 0; bool low = false; };
    using Clock = std::chrono::steady_clock;
    static constexpr size_t kLineMax = 255;
    static constexpr int kRetryMs = 500, kRefreshMs = 500, kReadsMax = 16;

    static long ms_since(Clock::time_point then) {
        return std::chrono::duration_cast<std::chrono::milliseconds>(Clock::now() - then).count();
    }

    void drop(const std::string& why) {
        if (file_ >= 0) ::close(file_);
        file_ = -1;
        heard_ = false;
        trouble_ = why;
        line_.clear(), outgoing_.clear(), sent_.clear();
        if (!addresses_.empty()) addresses_.push_back(addresses_[0]), addresses_.erase(addresses_.begin());
    }

    void open() {
        if (addresses_.empty()) trouble_ = "no address given, and UNDERSTUDY_PORT is not set";
        if (addresses_.empty() || (tried_ && ms_since(last_try_) < kRetryMs)) return;
        tried_ = joining_ = true;
        last_try_ = Clock::now();
        const std::string where = addresses_.front();
        const size_t colon = where.rfind(':');
        socket_ = colon != std::string::npos && where.find('/') == std::string::npos;
        errno = 0;
        const bool opened = socket_ ? open_tcp(where.substr(0, colon), where.substr(colon + 1)) : open_serial(where);
        trouble_.clear();
        if (!opened) drop("cannot open " + where + ": " + (errno ? std::strerror(errno) : "no such address or baud"));
    }

    bool open_serial(const std::string& path) {
        struct { int baud; speed_t code; } const speeds[] = {{9600, B9600}, {19200, B19200}, {38400, B38400}, {57600, B57600}, {115200, B115200}, {230400, B230400}};
        file_ = ::open(path.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
        termios raw{};
        if (file_ < 0 || tcgetattr(file_, &raw) != 0) return false;
        cfmakeraw(&raw);
        raw.c_cflag |= CLOCAL | CREAD;
        const auto* speed = std::find_if(std::begin(speeds), std::end(speeds), [this](auto& s) { return s.baud == baud; });
        if (speed == std::end(speeds)) return false;
        cfsetspeed(&raw, speed->code);
        int modem_lines = TIOCM_DTR | TIOCM_RTS;
        ioctl(file_, TIOCMBIS, &modem_lines);  // many boards wait for DTR; a port without it refuses
        tcflush(file_, TCIFLUSH);              // what waited before us is old
        return tcsetattr(file_, TCSANOW, &raw) == 0;
    }

    bool open_tcp(const std::string& host, const std::string& port) {
        addrinfo hints{}, *found = nullptr;
        hints.ai_flags = AI_NUMERICHOST | AI_NUMERICSERV;  // looking a name up could wait for seconds
        hints.ai_socktype = SOCK_STREAM;
        const char* number = host == "localhost" ? "127.0.0.1" : host.c_str();
        if (getaddrinfo(number, port.c_str(), &hints, &found) != 0) return false;
        file_ = socket(found->ai_family, SOCK_STREAM, 0);
        const int one = 1;
        fcntl(file_, F_SETFD, FD_CLOEXEC), fcntl(file_, F_SETFL, O_NONBLOCK);
        setsockopt(file_, IPPROTO_TCP, TCP_NODELAY, &one, sizeof one);
        const bool begun = connect(file_, found->ai_addr, found->ai_addrlen) == 0 || errno == EINPROGRESS;
        freeaddrinfo(found);
        return begun;  // until it is done reads and writes answer EAGAIN, or the reason it failed
    }

    bool receive() {
        char bytes[4096];
        const ssize_t got = ::read(file_, bytes, sizeof bytes);
        if (got > 0) feed(bytes, static_cast<size_t>(got));
        else if (got == 0 || (errno != EAGAIN && errno != EINTR))
            drop(addresses_[0] + ": " + (got == 0 ? "closed by the panel" : std::strerror(errno)));
        return got > 0;
    }

    bool take_line() {
        if (line_.size() > kLineMax) return false;
        if (!line_.empty() && line_.back() == '\r') line_.pop_back();
        std::vector<int>& numbers = numbers_;
        numbers_.clear();
        for (const char *at = line_.data(), *end = at + line_.size();; ++at) {
            const auto parsed = std::from_chars(at, end, numbers_.emplace_back());
            if (parsed.ec != std::errc()) return false;
            at = parsed.ptr;
            if (at == end) break;
            if (*at != ',') return false;
        }
        if (numbers_.size() != fields_.size()) return false;
        for (size_t i = 0; i < fields_.size(); ++i) {
            Field& field = fields_[i];
            const bool was = field.value != 0, is = numbers_[i] != 0;
            field.value = numbers_[i];
            if (known_ && was != is) ++(is != field.low ? field.pressed : field.released);
        }
        return known_ = true;
    }

    void send_lamps() {
        const bool due = lamps_ != sent_ || ms_since(last_sent_) >= kRefreshMs;
        if (outgoing_.empty() && due && heard_) {  // a booting board must not be written to
            for (int lamp : lamps_) outgoing_ += (outgoing_.empty() ? "" : ",") + std::to_string(lamp);
            if (!lamps_.empty()) outgoing_ += '\n';
            sent_ = lamps_;
            last_sent_ = Clock::now();
        }
        if (outgoing_.empty()) return;
        const ssize_t sent = socket_ ? ::send(file_, outgoing_.data(), outgoing_.size(), MSG_NOSIGNAL) : ::write(file_, outgoing_.data(), outgoing_.size());
        if (sent >= 0) outgoing_.erase(0, static_cast<size_t>(sent));
        else if (errno != EAGAIN && errno != EINTR) drop(addresses_[0] + ": " + std::strerror(errno));
    }

    std::vector<Field> fields_;
    std::vector<int> numbers_, lamps_, sent_;
    std::vector<std::string> addresses_;  // the first is in use; a failed one goes to the end
    std::string line_, outgoing_, trouble_;
    int file_ = -1;
    bool socket_ = false, tried_ = false, joining_ = false, heard_ = false, known_ = false;
    long good_lines_ = 0, bad_lines_ = 0;
    Clock::time_point last_try_, last_good_, last_sent_;
};

}  // namespace understudy
