// Games come and go at the far end of a cable: what the modem lines say of that, bytes both ways, a
// port that goes away and returns. The system's calls are behind serial_device.h.
#include "sim/link/serial_link.h"

#include <algorithm>

#include "sim/link/host_queue.h"
#include "sim/link/link_reading.h"
#include "sim/link/returning_port.h"

namespace understudy {
namespace {

// How often the modem lines are asked for: USB adapters take about a millisecond to answer.
constexpr Duration kLinesPeriod = milliseconds(20);
// How often bytes that wait are handed on, and what is unsent is asked for.
constexpr Duration kMovePeriod = milliseconds(5);
// Adapters tell a modem line at once and bytes up to a latency timer (16 ms by default) later, so
// the last bytes of a game come after its DTR fell.
constexpr Duration kLastBytes = milliseconds(60);
constexpr Duration kClosingMax = seconds(2);
constexpr Duration kReturnPeriod = milliseconds(500);
constexpr std::size_t kReadBytesMax = 65'536;

class SerialLink final : public Link {
 public:
  SerialLink(Pacer& pacer, const SerialOptions& options)
      : pacer_(pacer),
        options_(options),
        queue_({.bytes_max = static_cast<std::size_t>(options.host_buffer_bytes),
                .kernel_max = static_cast<std::size_t>(options.host_buffer_bytes)}),
        port_(options.port, "the port", *options.ports) {}

  Result<Done> begin();
  Result<Done> plug_in() override;
  void unplug() override;
  std::string_view name() const override { return "serial"; }
  std::string where() const override { return port_.path(); }
  bool open() const override { return visit_ != Visit::kNone; }
  bool sees_taken() const override { return false; }
  WriteOutcome write(std::string_view bytes) override;
  void read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out) override;
  Instant look_again() const override { return look_at_; }
  void admit(bool admitting) override { admitting_ = admitting; }
  std::vector<Holder> who() const override { return {}; }  // beyond the cable
  const LinkCounts& counts() const override { return counts_; }
  std::vector<std::string> take_notices() override;

 private:
  enum class Visit {
    kNone,
    kTaken,   // as there: DSR was never up
    kSeen,    // DSR is up
    kDtrLow,  // DSR is down, and bytes come
  };
  using Reading = LinkReading;

  HostQueue::Kernel kernel() { return kernel_of(device_, counts_); }
  void drop(DropReason reason, std::size_t bytes) {
    counts_.dropped[static_cast<std::size_t>(reason)] += bytes;
  }
  bool usable() const { return device_ && plugged_; }
  void look_for_return(Instant now);
  void lose(Reading& reading);
  void read_lines(Reading& reading);
  void read_dsr(Reading& reading, bool dsr);
  void read_unwired(Reading& reading, bool has_lines);
  void begin_visit(Reading& reading, Visit visit);
  void end_visit(Reading& reading);
  void end_fallen_visit(Reading& reading);
  void turn_away(std::size_t bytes);
  void count_sent(Instant now);
  void read_bytes(Reading& reading);
  std::string fetch(std::size_t space);
  void plan_next_look(Instant now);

  Pacer& pacer_;
  SerialOptions options_;
  HostQueue queue_;
  LinkCounts counts_;
  std::vector<std::string> notices_;

  std::unique_ptr<SerialDevice> device_;  // absent: it went away
  ReturningPort port_;
  bool plugged_ = true;
  bool admitting_ = true;

  Visit visit_ = Visit::kNone;
  bool dsr_wired_ = false;  // seen up at least once
  bool cts_wired_ = false;
  std::optional<Instant> fell_at_;  // DSR, while the game it belongs to is still in
  ModemLines reported_;
  bool bytes_left_ = false;  // in the system: the device had no room
  bool taken_told_ = false;
  bool stranger_told_ = false;
  Instant lines_at_;
  Instant look_at_;
};

Result<Done> SerialLink::begin() {
  Result<std::unique_ptr<SerialDevice>> device = port_.open(pacer_, options_.settings);
  if (!device.ok()) return device.error();
  device_ = std::move(device).value();
  look_at_ = lines_at_ = pacer_.clock();
  return Done{};
}

std::vector<std::string> SerialLink::take_notices() {
  for (std::string& notice : port_.take_notices()) notices_.push_back(std::move(notice));
  return std::exchange(notices_, {});
}

Result<Done> SerialLink::plug_in() {
  if (plugged_) return Done{};
  plugged_ = true;
  if (device_) device_->raise({.dtr = true, .rts = true});
  look_at_ = lines_at_ = pacer_.clock();
  return Done{};
}

// The port stays ours; only the cable is out.
void SerialLink::unplug() {
  if (!plugged_) return;
  plugged_ = false;
  if (device_) device_->raise({.dtr = false, .rts = false});
  drop(DropReason::kUnplugged, queue_.drop_all());
  look_at_ = pacer_.clock();
}

WriteOutcome SerialLink::write(std::string_view bytes) {
  if (!usable() || !open() || fell_at_) {
    drop(usable() ? DropReason::kNobodyOpen : DropReason::kUnplugged, bytes.size());
    return {.dropped = bytes.size()};
  }
  const Instant now = pacer_.clock();
  count_sent(now);
  const WriteOutcome outcome = queue_.put(bytes, now, kernel());
  drop(DropReason::kQueueFull, outcome.dropped);
  look_at_ = earlier(look_at_, now + kMovePeriod);
  return outcome;
}

void SerialLink::read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out) {
  Reading reading{stamps, space, out, pacer_.clock()};
  if (!device_ && reading.now >= look_at_) look_for_return(reading.now);
  if (!device_) return;
  const bool more_wanted = bytes_left_ && space > 0;
  if (!device_->ready() && !more_wanted && reading.now < look_at_) return;
  if (plugged_) {
    // A game that was not there tells by a line that it is, before its first bytes.
    if (reading.now >= lines_at_ || !open()) read_lines(reading);
    count_sent(reading.now);
    queue_.move_up(reading.now, kernel());
  } else if (open()) {
    end_visit(reading);
  }
  read_bytes(reading);
  if (fell_at_) end_fallen_visit(reading);
  if (device_->gone()) return lose(reading);
  plan_next_look(reading.now);
}

void SerialLink::lose(Reading& reading) {
  drop(DropReason::kUnplugged, queue_.drop_all());
  if (open()) end_visit(reading);
  device_.reset();
  port_.went();
  bytes_left_ = false;
  look_at_ = reading.now + kReturnPeriod;
}

void SerialLink::look_for_return(Instant now) {
  look_at_ = now + kReturnPeriod;
  device_ = port_.look(pacer_, now, options_.settings);
  if (!device_) return;
  if (!plugged_) device_->raise({.dtr = false, .rts = false});
  lines_at_ = now;
}

void SerialLink::read_lines(Reading& reading) {
  lines_at_ = reading.now + kLinesPeriod;
  const std::optional<SerialLines> lines = device_->lines();
  if (device_->gone()) return;
  if (lines && lines->dsr && !dsr_wired_) {
    dsr_wired_ = true;
    if (visit_ == Visit::kTaken) {
      notices_.push_back("DSR came up at " + port_.path() +
                         ", so it is wired: from now on it tells when the game opens and closes");
      end_visit(reading);
    }
  }
  cts_wired_ = cts_wired_ || (lines && lines->cts);
  if (dsr_wired_ && lines) {
    read_dsr(reading, lines->dsr);
  } else {
    read_unwired(reading, lines.has_value());
  }
  if (!open() || !lines || fell_at_) return;
  const ModemLines now{.dtr = visit_ != Visit::kDtrLow, .rts = !cts_wired_ || lines->cts};
  if (now == reported_) return;
  reported_ = now;
  reading.put(now);
}

void SerialLink::read_dsr(Reading& reading, bool dsr) {
  if (!dsr) {
    stranger_told_ = false;
    if (visit_ == Visit::kSeen && !fell_at_) fell_at_ = reading.now;
    return;
  }
  if (fell_at_) end_visit(reading);  // it closed the port and opened it again
  if (visit_ == Visit::kDtrLow) visit_ = Visit::kSeen;
  if (visit_ != Visit::kNone) return;
  if (admitting_) return begin_visit(reading, Visit::kSeen);
  turn_away(0);
}

void SerialLink::read_unwired(Reading& reading, bool has_lines) {
  if (open() || !admitting_) return;
  begin_visit(reading, Visit::kTaken);
  if (std::exchange(taken_told_, true)) return;
  const std::string why =
      has_lines ? "DSR is down at " + port_.path() + " (not wired, or nobody there yet)"
                : port_.path() + " has no line that tells when a game opens its end";
  notices_.push_back(why + ": the game counts as there from the start, with DTR raised");
}

void SerialLink::begin_visit(Reading& reading, Visit visit) {
  visit_ = visit;
  stranger_told_ = false;
  ++counts_.opens;
  const bool dtr = visit != Visit::kDtrLow;
  reported_ = {.dtr = dtr, .rts = true};
  reading.put(LinkOpened{.dtr = dtr, .takes_at_once = true});
}

void SerialLink::end_visit(Reading& reading) {
  drop(DropReason::kUnreadAtClose, queue_.drop_all());
  visit_ = Visit::kNone;
  fell_at_.reset();
  reading.put(LinkClosed{});
}

// Once its last bytes have come and found room.
void SerialLink::end_fallen_visit(Reading& reading) {
  const Duration fallen = reading.now - *fell_at_;
  if (fallen < kLastBytes) return;
  if (bytes_left_) {
    if (fallen < kClosingMax) return;
    drop(DropReason::kNeverFetched, fetch(kReadBytesMax).size());
  }
  end_visit(reading);
}

void SerialLink::turn_away(std::size_t bytes) {
  drop(DropReason::kStranger, bytes);
  if (std::exchange(stranger_told_, true)) return;
  ++counts_.strangers;
  notices_.push_back("turned away at " + port_.path() +
                     ": whoever is at its other end; another game has this seat");
}

void SerialLink::count_sent(Instant now) {
  counts_.bytes_taken += queue_.taken(device_->unsent(), now);
}

void SerialLink::read_bytes(Reading& reading) {
  if (!plugged_) return drop(DropReason::kUnplugged, fetch(kReadBytesMax).size());
  if (!open() && !admitting_) {
    const std::size_t bytes = fetch(kReadBytesMax).size();
    if (bytes > 0) turn_away(bytes);
    return;
  }
  std::string bytes = fetch(reading.space);
  if (bytes.empty()) return;
  if (!open()) begin_visit(reading, Visit::kDtrLow);
  reading.put_bytes(std::move(bytes), counts_);
}

// Up to `space` bytes that arrived; notes whether there may be more.
std::string SerialLink::fetch(std::size_t space) {
  std::string bytes;
  if (!device_->ready() && !bytes_left_) return bytes;
  bytes_left_ = true;
  while (bytes_left_ && bytes.size() < space) {
    const std::string some = device_->read(space - bytes.size());
    bytes_left_ = !some.empty();
    bytes += some;
  }
  return bytes;
}

void SerialLink::plan_next_look(Instant now) {
  // On a grid, so that the looks of many links fall into one wake-up.
  const auto next = [now](Duration period) {
    return grid_at_or_after(now + nanoseconds(1), Instant{}, period);
  };
  look_at_ = plugged_ ? next(kLinesPeriod) : kNever;
  lines_at_ = earlier(lines_at_, look_at_);
  if (queue_.in_kernel() + queue_.waiting() > 0) look_at_ = earlier(look_at_, next(kMovePeriod));
}

}  // namespace

Result<std::unique_ptr<Link>> open_serial(Pacer& pacer, const SerialOptions& options) {
  auto link = std::make_unique<SerialLink>(pacer, options);
  Result<Done> begun = link->begin();
  if (!begun.ok()) return begun.error();
  return std::unique_ptr<Link>(std::move(link));
}

}  // namespace understudy
