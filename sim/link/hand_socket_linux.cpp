// A stream socket in the private folder, named for the process: one line in, one line back ("done",
// or "no: " and why). A file beside it holds a line about the session.
#include "sim/link/hand_socket.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>

#include "sim/link/descriptor.h"
#include "sim/link/private_folder.h"
#include "sim/link/watch.h"

namespace understudy {
namespace {

constexpr std::string_view kPrefix = "session-";
constexpr int kAnswerWait_ms = 2'000;

std::string socket_path(const std::string& folder, std::int64_t pid) {
  return folder + "/" + std::string(kPrefix) + std::to_string(pid);
}

std::string about_path(const std::string& folder, std::int64_t pid) {
  return folder + "/about-" + std::to_string(pid);
}

// What a session says of itself; empty where it says nothing.
std::string about_session(std::int64_t pid) {
  const Result<std::string> folder = private_folder();
  std::string line;
  if (folder.ok()) {
    std::ifstream file(about_path(folder.value(), pid));
    std::getline(file, line);
  }
  return line;
}

bool put_path(const std::string& path, sockaddr_un& address) {
  address.sun_family = AF_UNIX;
  if (path.size() >= sizeof address.sun_path) return false;
  memcpy(address.sun_path, path.c_str(), path.size() + 1);
  return true;
}

// An unconnected socket with the address to use it with.
struct Place {
  Descriptor socket;
  sockaddr_un address{};
  bool fits = false;
};

Place place_at(const std::string& path, int flags) {
  Place place;
  place.fits = put_path(path, place.address);
  place.socket = Descriptor(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | flags, 0));
  return place;
}

Descriptor connected_to(const std::string& path) {
  Place place = place_at(path, 0);
  if (!place.fits || connect(place.socket.get(), reinterpret_cast<sockaddr*>(&place.address),
                             sizeof place.address) != 0) {
    return {};
  }
  return std::move(place.socket);
}

// The lines of an error travel as one, parted by the record separator of ASCII.
std::string with_line_ends_as(char end, std::string_view text) {
  std::string changed(text);
  std::replace(changed.begin(), changed.end(), end == '\n' ? '\x1e' : '\n', end);
  return changed;
}

}  // namespace

struct HandSocket::State {
  struct Caller {
    std::uint64_t number = 0;
    Descriptor socket;
    std::unique_ptr<Watch> watch;
    std::string part;
  };
  explicit State(Pacer& p) : pacer(p) {}
  void accept_callers();
  bool read_lines(Caller& caller, std::vector<Asked>& asked);

  Pacer& pacer;
  std::string path;
  std::string about_path;
  Descriptor listener;
  std::unique_ptr<Watch> calling;
  std::vector<Caller> callers;
  std::uint64_t next_number = 1;
};

HandSocket::HandSocket() = default;

HandSocket::~HandSocket() {
  if (!state_) return;
  unlink(state_->path.c_str());
  unlink(state_->about_path.c_str());
}

Result<std::unique_ptr<HandSocket>> HandSocket::open(Pacer& pacer, std::string_view about) {
  const Result<std::string> folder = private_folder();
  if (!folder.ok()) return folder.error();
  auto state = std::make_shared<State>(pacer);
  state->path = socket_path(folder.value(), getpid());
  state->about_path = about_path(folder.value(), getpid());
  unlink(state->path.c_str());  // a dead process had our number
  Place place = place_at(state->path, SOCK_NONBLOCK);
  if (!place.fits ||
      bind(place.socket.get(), reinterpret_cast<sockaddr*>(&place.address), sizeof place.address) !=
          0 ||
      listen(place.socket.get(), static_cast<int>(kHandCallersMax)) != 0) {
    return Error{ErrorCode::kLinkFailed,
                 "cannot listen for hands at " + state->path + ": " +
                     (place.fits ? strerror(errno) : "the path is too long; set TMPDIR shorter")};
  }
  state->listener = std::move(place.socket);
  state->calling = std::make_unique<Watch>(pacer, state->listener.get());
  unlink(state->about_path.c_str());
  if (!about.empty()) std::ofstream(state->about_path) << about << "\n";
  std::unique_ptr<HandSocket> hands(new HandSocket);
  hands->state_ = std::move(state);
  return hands;
}

void HandSocket::State::accept_callers() {
  if (!calling->ready()) return;
  for (;;) {
    Descriptor socket(accept4(listener.get(), nullptr, nullptr, SOCK_NONBLOCK | SOCK_CLOEXEC));
    if (!socket.valid()) break;
    if (callers.size() == kHandCallersMax) continue;
    Caller caller{next_number++, std::move(socket), nullptr, {}};
    caller.watch = std::make_unique<Watch>(pacer, caller.socket.get());
    callers.push_back(std::move(caller));
  }
  calling->arm();
}

// False when the caller is gone or says too much.
bool HandSocket::State::read_lines(Caller& caller, std::vector<Asked>& asked) {
  char buffer[1'024];
  for (;;) {
    const ssize_t got = recv(caller.socket.get(), buffer, sizeof buffer, 0);
    if (got == 0 || (got < 0 && errno != EAGAIN)) return false;
    if (got < 0) break;
    caller.part.append(buffer, static_cast<std::size_t>(got));
    std::size_t end = 0;
    while ((end = caller.part.find('\n')) != std::string::npos) {
      asked.push_back({caller.number, caller.part.substr(0, end)});
      caller.part.erase(0, end + 1);
    }
    if (caller.part.size() > kHandLineBytesMax || asked.size() > kHandCallersMax) return false;
  }
  caller.watch->arm();
  return true;
}

std::vector<HandSocket::Asked> HandSocket::take() {
  std::vector<Asked> asked;
  state_->accept_callers();
  std::erase_if(state_->callers, [&](State::Caller& caller) {
    if (!caller.watch->ready()) return false;
    if (state_->read_lines(caller, asked)) return false;
    caller.watch.reset();
    return true;
  });
  return asked;
}

void HandSocket::answer(const Asked& asked, const std::optional<Error>& error) {
  const std::string line =
      error ? "no: " + with_line_ends_as('\x1e', error->text) + "\n" : "done\n";
  for (State::Caller& caller : state_->callers) {
    if (caller.number != asked.caller) continue;
    // Whoever does not read its answers loses them.
    (void)!send(caller.socket.get(), line.data(), line.size(), MSG_NOSIGNAL | MSG_DONTWAIT);
  }
}

std::vector<std::int64_t> running_sessions() {
  std::vector<std::int64_t> sessions;
  const Result<std::string> folder = private_folder();
  DIR* entries = folder.ok() ? opendir(folder.value().c_str()) : nullptr;
  if (entries == nullptr) return sessions;
  while (const dirent* entry = readdir(entries)) {
    const std::string_view name = entry->d_name;
    if (!name.starts_with(kPrefix)) continue;
    const std::int64_t pid = strtoll(entry->d_name + kPrefix.size(), nullptr, 10);
    const std::string path = socket_path(folder.value(), pid);
    if (connected_to(path).valid()) {
      sessions.push_back(pid);
    } else if (errno == ECONNREFUSED) {
      unlink(path.c_str());
      unlink(about_path(folder.value(), pid).c_str());
    }
  }
  closedir(entries);
  std::sort(sessions.begin(), sessions.end());
  return sessions;
}

namespace {

Result<std::int64_t> session_to_ask(std::optional<std::int64_t> pid) {
  if (pid) return *pid;
  const std::vector<std::int64_t> sessions = running_sessions();
  if (sessions.size() == 1) return sessions.front();
  if (sessions.empty()) {
    return Error{ErrorCode::kUnusable,
                 "no session of yours is running: start one with panel or serve"};
  }
  std::string list;
  for (const std::int64_t session : sessions) {
    list += "\n  --process " + std::to_string(session) + "  " + about_session(session);
  }
  return Error{ErrorCode::kUnusable, "several sessions are running: say which one by" + list};
}

// Waits for one line. Empty: none came.
std::string line_from(int socket) {
  std::string line;
  pollfd readable{socket, POLLIN, 0};
  while (line.find('\n') == std::string::npos && poll(&readable, 1, kAnswerWait_ms) > 0) {
    char buffer[4'096];
    const ssize_t got = recv(socket, buffer, sizeof buffer, 0);
    if (got <= 0) break;
    line.append(buffer, static_cast<std::size_t>(got));
  }
  return line.substr(0, line.find('\n'));
}

}  // namespace

Result<Done> send_hand(std::string_view line, std::optional<std::int64_t> pid) {
  const Result<std::int64_t> session = session_to_ask(pid);
  if (!session.ok()) return session.error();
  const Result<std::string> folder = private_folder();
  if (!folder.ok()) return folder.error();
  if (line.size() > kHandLineBytesMax || line.find('\n') != std::string_view::npos) {
    return Error{ErrorCode::kUnusable,
                 "cannot send this to a session: one line of at most 1024 "
                 "bytes goes at a time"};
  }
  const Descriptor socket = connected_to(socket_path(folder.value(), session.value()));
  const std::string number = std::to_string(session.value());
  if (!socket.valid()) {
    return Error{ErrorCode::kUnusable, "no session " + number + " of yours is running"};
  }
  const std::string whole = std::string(line) + "\n";
  if (send(socket.get(), whole.data(), whole.size(), MSG_NOSIGNAL) < 0) {
    return Error{ErrorCode::kLinkFailed, "session " + number + " hung up: " + strerror(errno)};
  }
  const std::string answer = line_from(socket.get());
  if (answer == "done") return Done{};
  if (answer.starts_with("no: ")) {
    return Error{ErrorCode::kUnusable, with_line_ends_as('\n', answer.substr(4))};
  }
  return Error{ErrorCode::kLinkFailed,
               "session " + number + " does not answer: it may be stopped in a debugger"};
}

}  // namespace understudy
