// Reading, writing and missing the box. The system's calls are behind serial_device.h; how it is
// known again is in returning_port.h.
#include "sim/link/box_port.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "sim/link/returning_port.h"

namespace understudy {
namespace {

// A hang-up wakes at once; where a driver keeps quiet about it, asking finds it. Adapters take
// about a millisecond to answer.
constexpr Duration kLinesPeriod = milliseconds(200);
constexpr Duration kReturnPeriod = milliseconds(200);
// How often bytes that wait are handed on.
constexpr Duration kMovePeriod = milliseconds(5);
constexpr std::size_t kReadBytesMax = 65'536;

}  // namespace

struct BoxPort::State {
  State(Pacer& pacer_of_all, const BoxOptions& options)
      : pacer(pacer_of_all),
        settings(options.settings),
        port(options.port, "the box", *options.ports) {}

  void read_lines(Stamps& stamps, std::vector<BoxEvent>& out);
  void read_bytes(Stamps& stamps, std::vector<BoxEvent>& out);
  void move_up();
  void lose(Stamps& stamps, Instant now, std::vector<BoxEvent>& out);
  void look_for_return(Stamps& stamps, Instant now, std::vector<BoxEvent>& out);

  Pacer& pacer;
  SerialSettings settings;
  ModemLines modem{.dtr = true, .rts = true};
  ReturningPort port;
  std::unique_ptr<SerialDevice> device;  // null: it is away
  std::optional<SerialLines> lines;      // as told last
  std::string waiting;                   // to the box
  BoxCounts counts;
  Instant lines_at;
  Instant look_at;
};

void BoxPort::State::read_lines(Stamps& stamps, std::vector<BoxEvent>& out) {
  const std::optional<SerialLines> now = device->lines();
  device->unsent();  // a port without lines shows by this that it is gone
  if (!now || now == lines) return;
  lines = now;
  out.push_back({stamps.next(), BoxLines{*now}});
}

void BoxPort::State::read_bytes(Stamps& stamps, std::vector<BoxEvent>& out) {
  std::string bytes;
  while (device->ready() && !device->gone() && bytes.size() < kReadBytesMax) {
    std::string some = device->read(kReadBytesMax - bytes.size());
    if (some.empty()) break;
    if (bytes.empty())
      bytes = std::move(some);
    else
      bytes += some;
  }
  if (bytes.empty()) return;
  counts.bytes_from_box += bytes.size();
  out.push_back({stamps.next(), BoxBytes{std::move(bytes)}});
}

void BoxPort::State::move_up() {
  if (waiting.empty()) return;
  const std::size_t taken = device->write(waiting);
  counts.bytes_to_box += taken;
  waiting.erase(0, taken);
}

void BoxPort::State::lose(Stamps& stamps, Instant now, std::vector<BoxEvent>& out) {
  device.reset();
  port.went();
  counts.dropped_gone += std::exchange(waiting, {}).size();
  ++counts.lost;
  lines.reset();
  look_at = now + kReturnPeriod;
  out.push_back({stamps.next(), BoxLost{}});
}

void BoxPort::State::look_for_return(Stamps& stamps, Instant now, std::vector<BoxEvent>& out) {
  look_at = now + kReturnPeriod;
  device = port.look(pacer, now, settings);
  if (!device) return;
  if (!modem.dtr || !modem.rts) device->raise(modem);
  lines_at = now;
  out.push_back({stamps.next(), BoxBack{port.path()}});
}

BoxPort::BoxPort(std::unique_ptr<State> state) : state_(std::move(state)) {}
BoxPort::~BoxPort() = default;

bool BoxPort::there() const {
  return state_->device != nullptr;
}

std::string BoxPort::where() const {
  return state_->port.path();
}

std::string BoxPort::words() const {
  return state_->port.words();
}

void BoxPort::read_events(Stamps& stamps, std::vector<BoxEvent>& out) {
  State& state = *state_;
  if (state.device && state.device->ready()) state.read_bytes(stamps, out);
  const Instant now = state.pacer.clock();
  if (!state.device && now >= state.look_at) state.look_for_return(stamps, now, out);
  if (!state.device) return;
  state.move_up();
  if (now >= state.lines_at) {
    state.read_lines(stamps, out);
    state.lines_at = now + kLinesPeriod;
  }
  if (state.device->gone()) return state.lose(stamps, now, out);
  state.look_at =
      state.waiting.empty() ? state.lines_at : earlier(state.lines_at, now + kMovePeriod);
}

Instant BoxPort::look_again() const {
  return state_->look_at;
}

std::size_t BoxPort::write(std::string_view bytes) {
  State& state = *state_;
  if (!state.device) {
    state.counts.dropped_gone += bytes.size();
    return 0;
  }
  state.move_up();
  const std::size_t sent = state.waiting.empty() ? state.device->write(bytes) : 0;
  state.counts.bytes_to_box += sent;
  const std::size_t queued =
      std::min(bytes.size() - sent, kBoxQueueBytesMax - state.waiting.size());
  state.waiting += bytes.substr(sent, queued);
  state.counts.dropped_full += bytes.size() - sent - queued;
  // Waiting bytes, and a port that is found to be gone, want a look.
  if (queued > 0 || state.device->gone())
    state.look_at = earlier(state.look_at, state.pacer.clock() + kMovePeriod);
  return sent + queued;
}

std::size_t BoxPort::room() const {
  return kBoxQueueBytesMax - state_->waiting.size();
}

Result<Done> BoxPort::set(const SerialSettings& settings) {
  if (settings == state_->settings) return Done{};
  if (state_->device) {
    Result<Done> set = state_->device->set(settings);
    if (!set.ok()) return set;
  }
  state_->settings = settings;
  return Done{};
}

const SerialSettings& BoxPort::settings() const {
  return state_->settings;
}

void BoxPort::raise_dtr(bool raised) {
  raise({.dtr = raised, .rts = state_->modem.rts});
}

void BoxPort::raise_rts(bool raised) {
  raise({.dtr = state_->modem.dtr, .rts = raised});
}

void BoxPort::raise(const ModemLines& lines) {
  if (lines == state_->modem) return;
  state_->modem = lines;
  if (state_->device) state_->device->raise(lines);
}

const BoxCounts& BoxPort::counts() const {
  return state_->counts;
}

std::vector<std::string> BoxPort::take_notices() {
  return state_->port.take_notices();
}

Result<std::unique_ptr<BoxPort>> open_box(Pacer& pacer, const BoxOptions& options) {
  auto state = std::make_unique<BoxPort::State>(pacer, options);
  Result<std::unique_ptr<SerialDevice>> device = state->port.open(pacer, options.settings);
  if (!device.ok()) return device.error();
  state->device = std::move(device).value();
  state->look_at = state->lines_at = pacer.clock();
  return std::unique_ptr<BoxPort>(new BoxPort(std::move(state)));
}

}  // namespace understudy
