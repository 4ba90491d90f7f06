// One listening socket and at most one game on it. Asio tells when something is there; reading and
// writing never wait.
#include "sim/link/tcp_link.h"

#include <algorithm>
#include <array>
#include <charconv>

#include "sim/link/holders.h"
#include "sim/link/host_queue.h"
#include "sim/link/link_reading.h"
#include "sim/link/tcp_peer.h"
#include "sim/link/tcp_ready.h"

namespace understudy {
namespace {

using asio::ip::tcp;

// How often the game's end is asked what it has taken, while anything is under way.
constexpr Duration kLookPeriod = milliseconds(5);
constexpr Duration kClosingMax = seconds(2);
constexpr Duration kNoticeGap = seconds(1);
// When the system cannot take another connection, asking again at once would only spin.
constexpr Duration kAcceptRetry = milliseconds(100);
constexpr std::size_t kReadBytesMax = 65'536;
// What the kernel keeps from a game that floods, before it pushes back; about a pseudo-terminal's.
constexpr int kReceiveBytes = 16'384;
constexpr int kAcceptsMax = 64;  // in one look

std::string written_place(const tcp::endpoint& place) {
  const std::string host = place.address().to_string();
  return (place.address().is_v6() ? "[" + host + "]" : host) + ":" + std::to_string(place.port());
}

TcpEnd end_of(const tcp::endpoint& place) {
  TcpEnd end{.v6 = place.address().is_v6(), .address = {}, .port = place.port()};
  if (end.v6) {
    end.address = place.address().to_v6().to_bytes();
  } else {
    const auto bytes = place.address().to_v4().to_bytes();
    std::copy(bytes.begin(), bytes.end(), end.address.begin());
  }
  return end;
}

TcpPeer peer_of(const tcp::socket& socket) {
  asio::error_code error;
  return TcpPeer({.ours = end_of(socket.local_endpoint(error)),
                  .theirs = end_of(socket.remote_endpoint(error))});
}

class TcpLink final : public Link {
 public:
  TcpLink(Pacer& pacer, const TcpOptions& options)
      : pacer_(pacer),
        options_(options),
        queue_({.bytes_max = static_cast<std::size_t>(options.settings.host_buffer_bytes),
                .kernel_max = static_cast<std::size_t>(options.settings.host_buffer_bytes)}) {}

  Result<Done> plug_in() override;
  void unplug() override;
  std::string_view name() const override { return "tcp"; }
  std::string where() const override { return written_place(place_); }
  bool open() const override { return game_.has_value(); }
  bool sees_taken() const override { return sees_taken_; }
  WriteOutcome write(std::string_view bytes) override;
  void read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out) override;
  Instant look_again() const override { return look_at_; }
  void admit(bool admitting) override { admitting_ = admitting; }
  FarEnd far_end() const override { return game_ ? far_end_ : FarEnd{}; }
  std::vector<Holder> who() const override;
  const LinkCounts& counts() const override { return counts_; }
  std::vector<std::string> take_notices() override { return std::exchange(notices_, {}); }

 private:
  using Reading = LinkReading;

  HostQueue::Kernel kernel();
  void drop(DropReason reason, std::size_t bytes) {
    counts_.dropped[static_cast<std::size_t>(reason)] += bytes;
  }
  Result<tcp::endpoint> wanted_place();
  void accept_games(Reading& reading);
  void begin_visit(Reading& reading, tcp::socket socket);
  void turn_away(Reading& reading, tcp::socket& socket);
  void end_visit(Reading& reading);
  void read_taken(Reading& reading);
  void read_bytes(Reading& reading);
  std::string fetch(std::size_t space);

  Pacer& pacer_;
  TcpOptions options_;
  HostQueue queue_;
  LinkCounts counts_;
  std::vector<std::string> notices_;
  tcp::endpoint place_;

  std::optional<tcp::acceptor> acceptor_;  // absent: unplugged
  std::shared_ptr<TcpReady> calling_;      // somebody connects
  std::optional<tcp::socket> game_;
  std::optional<TcpPeer> peer_;
  FarEnd far_end_;
  std::shared_ptr<TcpReady> readable_;
  bool admitting_ = true;
  bool closed_by_unplug_ = false;
  bool sees_taken_ = true;
  bool ended_ = false;        // the stream is read to its end, or broken
  bool bytes_left_ = false;   // in the kernel: the device had no room
  std::uint64_t handed_ = 0;  // to this game
  std::optional<Instant> closing_since_;
  std::optional<Instant> noticed_at_;
  Instant look_at_ = kNever;
};

HostQueue::Kernel TcpLink::kernel() {
  return [this](std::string_view bytes) {
    asio::error_code error;
    const std::size_t handed = game_->write_some(asio::buffer(bytes), error);
    handed_ += handed;
    counts_.bytes_to_game += handed;
    return handed;
  };
}

Result<tcp::endpoint> TcpLink::wanted_place() {
  // A link that was plugged in before comes back where it was.
  if (place_.port() != 0) return place_;
  asio::error_code error;
  const asio::ip::address address = asio::ip::make_address(options_.host, error);
  if (!error) return tcp::endpoint(address, options_.port);
  tcp::resolver resolver(pacer_.engine().context);
  const auto found = resolver.resolve(options_.host, std::to_string(options_.port), error);
  if (error || found.empty()) {
    return Error{ErrorCode::kUnusable, "cannot listen on " + options_.host + ": " +
                                           error.message() + "; give an address of this machine"};
  }
  return found.begin()->endpoint();
}

Result<Done> TcpLink::plug_in() {
  if (acceptor_) return Done{};
  const Result<tcp::endpoint> place = wanted_place();
  if (!place.ok()) return place.error();
  tcp::acceptor acceptor(pacer_.engine().context);
  asio::error_code error;
  acceptor.open(place.value().protocol(), error);
  if (!error) tcp_claim_port(acceptor.native_handle());
  if (!error) acceptor.set_option(asio::socket_base::receive_buffer_size(kReceiveBytes), error);
  if (!error) acceptor.bind(place.value(), error);
  if (!error) acceptor.listen(tcp::acceptor::max_listen_connections, error);
  if (!error) acceptor.non_blocking(true, error);
  if (error == asio::error::address_in_use) {
    const std::uint64_t inode = tcp_listener_inode(place.value().port());
    const auto holders = inode != 0 ? holders_of_socket(inode) : std::vector<Holder>{};
    return Error{ErrorCode::kBusy, "cannot listen on " + written_place(place.value()) + ": " +
                                       written(holders) +
                                       " has that port; give another one, or "
                                       "0 to let the system pick"};
  }
  if (error) {
    const bool no_right = error == asio::error::access_denied;
    return Error{no_right ? ErrorCode::kLinkFailed : ErrorCode::kUnusable,
                 "cannot listen on " + written_place(place.value()) + ": " + error.message() +
                     (no_right ? "; ports below 1024 are for administrators: give a higher one"
                               : "; give an address of this machine")};
  }
  place_ = acceptor.local_endpoint();
  if (!place_.address().is_loopback()) {
    notices_.push_back("listening beyond this machine on " + where() +
                       ": whoever reaches it can play the game's part");
  }
  acceptor_ = std::move(acceptor);
  calling_ = tcp_arm(pacer_.engine(), *acceptor_);
  return Done{};
}

void TcpLink::unplug() {
  if (!acceptor_) return;
  acceptor_.reset();
  if (!game_) return;
  drop(DropReason::kUnplugged, queue_.drop_all());
  game_.reset();
  readable_.reset();
  closing_since_.reset();
  closed_by_unplug_ = true;
  look_at_ = pacer_.clock();
}

WriteOutcome TcpLink::write(std::string_view bytes) {
  if (!game_ || ended_ || closing_since_) {
    drop(acceptor_ ? DropReason::kNobodyOpen : DropReason::kUnplugged, bytes.size());
    return {.dropped = bytes.size()};
  }
  const Instant now = pacer_.clock();
  const WriteOutcome outcome = queue_.put(bytes, now, kernel());
  drop(DropReason::kQueueFull, outcome.dropped);
  look_at_ = earlier(look_at_, now + kLookPeriod);
  return outcome;
}

void TcpLink::read_events(Stamps& stamps, std::size_t space, std::vector<Input>& out) {
  Reading reading{stamps, space, out, pacer_.clock()};
  if (std::exchange(closed_by_unplug_, false)) reading.put(LinkClosed{});
  if (!acceptor_) {
    look_at_ = kNever;
    return;
  }
  const bool touched = calling_->ready || (readable_ && readable_->ready);
  if (!touched && !(bytes_left_ && space > 0) && reading.now < look_at_) return;
  look_at_ = kNever;
  if (game_) {
    read_taken(reading);
    read_bytes(reading);
    end_visit(reading);
  }
  if (calling_->ready && !closing_since_) accept_games(reading);
  if (closing_since_) look_at_ = earlier(look_at_, *closing_since_ + kClosingMax);
  if (game_ && queue_.in_kernel() + queue_.waiting() > 0) {
    // On a grid, so that the looks of many links fall into one wake-up.
    look_at_ =
        earlier(look_at_, grid_at_or_after(reading.now + nanoseconds(1), Instant{}, kLookPeriod));
  }
}

void TcpLink::accept_games(Reading& reading) {
  for (int accepted = 0; accepted < kAcceptsMax; ++accepted) {
    asio::error_code error;
    tcp::socket socket(pacer_.engine().context);
    acceptor_->accept(socket, error);
    if (error == asio::error::would_block || error == asio::error::try_again) {
      calling_ = tcp_arm(pacer_.engine(), *acceptor_);
      return;
    }
    if (error == asio::error::connection_aborted) continue;
    if (error) break;
    if (game_ || !admitting_) {
      turn_away(reading, socket);
      continue;
    }
    begin_visit(reading, std::move(socket));
    read_bytes(reading);
    end_visit(reading);
    if (closing_since_) return;  // whoever calls next waits until this one's bytes are fetched
  }
  look_at_ = reading.now + kAcceptRetry;
}

void TcpLink::turn_away(Reading& reading, tcp::socket& socket) {
  ++counts_.strangers;
  if (noticed_at_ && reading.now - *noticed_at_ < kNoticeGap) return;
  noticed_at_ = reading.now;
  asio::error_code error;
  const tcp::endpoint theirs = socket.remote_endpoint(error);
  const auto state = peer_of(socket).state();
  notices_.push_back("turned away at " + where() + ": " +
                     written(state ? holders_of_socket(state->inode) : std::vector<Holder>{}) +
                     " from " + written_place(theirs) + "; another game has this seat");
}

void TcpLink::begin_visit(Reading& reading, tcp::socket socket) {
  asio::error_code error;
  socket.non_blocking(true, error);
  socket.set_option(tcp::no_delay(true), error);
  socket.set_option(asio::socket_base::keep_alive(true), error);
  peer_ = peer_of(socket);
  const auto state = peer_->state();
  sees_taken_ = state.has_value();
  const tcp::endpoint theirs = socket.remote_endpoint(error);
  far_end_ = {.place = error ? "" : written_place(theirs), .socket = state ? state->inode : 0};
  game_.emplace(std::move(socket));
  handed_ = 0;
  ended_ = bytes_left_ = false;
  ++counts_.opens;
  reading.put(LinkOpened{.dtr = !options_.dtr_low, .takes_at_once = !sees_taken_});
  if (options_.as_if_baud) reading.put(LineSettings{.baud = *options_.as_if_baud});
  readable_ = tcp_arm(pacer_.engine(), *game_);
}

// Once the stream has ended and its bytes are fetched, the game is gone.
void TcpLink::end_visit(Reading& reading) {
  if (!game_) return;
  if (!ended_ && bytes_left_ && tcp_ended(game_->native_handle())) {
    if (!closing_since_) closing_since_ = reading.now;
    if (reading.now - *closing_since_ >= kClosingMax) {
      while (!ended_) drop(DropReason::kNeverFetched, fetch(kReadBytesMax).size());
    }
  }
  if (!ended_) return;
  drop(DropReason::kUnreadAtClose, queue_.drop_all());
  closing_since_.reset();
  readable_.reset();
  peer_.reset();
  game_.reset();
  reading.put(LinkClosed{});
}

void TcpLink::read_taken(Reading& reading) {
  std::size_t unread = queue_.in_kernel();
  if (!sees_taken_) {
    unread = tcp_unconfirmed(game_->native_handle());
  } else if (const auto state = peer_->state()) {
    unread = static_cast<std::size_t>(handed_ - std::min(handed_, state->bytes_taken));
  }
  const std::size_t taken = queue_.taken(unread, reading.now);
  if (taken > 0) {
    counts_.bytes_taken += taken;
    // Where reading is not seen, what the other machine confirmed is no news of the game.
    if (sees_taken_) reading.put(Taken{static_cast<std::int64_t>(taken)});
  }
  if (!closing_since_) queue_.move_up(reading.now, kernel());
}

void TcpLink::read_bytes(Reading& reading) {
  reading.put_bytes(fetch(reading.space), counts_);
}

// Up to `space` bytes that arrived; notes whether there may be more, and the end of the stream.
std::string TcpLink::fetch(std::size_t space) {
  std::string bytes;
  if (!readable_->ready && !bytes_left_) return bytes;
  std::array<char, 4'096> buffer;
  asio::error_code error;
  while (!error && bytes.size() < space) {
    const std::size_t room = std::min(buffer.size(), space - bytes.size());
    const std::size_t got = game_->read_some(asio::buffer(buffer.data(), room), error);
    bytes.append(buffer.data(), got);
  }
  bytes_left_ = !error;
  if (error == asio::error::would_block || error == asio::error::try_again) {
    readable_ = tcp_arm(pacer_.engine(), *game_);
  } else if (error) {
    ended_ = true;
  }
  return bytes;
}

std::vector<Holder> TcpLink::who() const {
  const auto state = peer_ ? peer_->state() : std::nullopt;
  return state ? holders_of_socket(state->inode) : std::vector<Holder>{};
}

}  // namespace

Result<Done> read_tcp_place(std::string_view text, TcpOptions& into) {
  const std::size_t colon = text.rfind(':');
  const std::string_view port = colon == std::string_view::npos ? text : text.substr(colon + 1);
  std::string_view host = colon == std::string_view::npos ? into.host : text.substr(0, colon);
  if (host.size() > 2 && host.front() == '[' && host.back() == ']') {
    host = host.substr(1, host.size() - 2);
  }
  std::uint16_t number = 0;
  const auto [end, problem] = std::from_chars(port.data(), port.data() + port.size(), number);
  if (problem != std::errc() || end != port.data() + port.size() || host.empty()) {
    return Error{ErrorCode::kUnusable, "cannot read '" + std::string(text) +
                                           "' as a place to listen on: give a port such as 27425, "
                                           "or HOST:PORT; ports go up to 65535"};
  }
  into.port = number;
  into.host = std::string(host);
  return Done{};
}

Result<std::unique_ptr<Link>> open_tcp(Pacer& pacer, const TcpOptions& options) {
  auto link = std::make_unique<TcpLink>(pacer, options);
  Result<Done> plugged = link->plug_in();
  if (!plugged.ok()) return plugged.error();
  return std::unique_ptr<Link>(std::move(link));
}

}  // namespace understudy
