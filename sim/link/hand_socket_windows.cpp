// A named pipe for each session, named for its process: one line in, one line back ("done", or "no:
// " and why). The system lets only its owner write to it, and nobody from another machine. A file
// in the user's own folder holds a line about the session, by which sessions are found.
#include "sim/link/hand_socket.h"

#include <asio/windows/overlapped_ptr.hpp>
#include <asio/windows/stream_handle.hpp>
#include <asio/write.hpp>
// Asio must come before windows.h.
#include <windows.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <fstream>
#include <map>

#include "sim/base/wide_text.h"
#include "sim/link/wait_engine.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kPrefix = "session-";
constexpr DWORD kAnswerWait_ms = 2'000;
constexpr DWORD kPipeBytes = 4'096;

std::wstring pipe_name(std::int64_t pid) {
  return L"\\\\.\\pipe\\understudy-session-" + std::to_wstring(pid);
}

// Of this user; empty where the system names none.
fs::path folder_of_user() {
  wchar_t path[4'096];
  const DWORD length = GetEnvironmentVariableW(L"LOCALAPPDATA", path, 4'096);
  if (length == 0 || length >= 4'096) return {};
  return fs::path(std::wstring(path, length)) / "understudy";
}

fs::path about_path(std::int64_t pid) {
  return folder_of_user() / (std::string(kPrefix) + std::to_string(pid));
}

std::string about_session(std::int64_t pid) {
  std::ifstream file(about_path(pid));
  std::string line;
  std::getline(file, line);
  return line;
}

// The lines of an error travel as one, parted by the record separator of ASCII.
std::string with_line_ends_as(char end, std::string_view text) {
  std::string changed(text);
  std::replace(changed.begin(), changed.end(), end == '\n' ? '\x1e' : '\n', end);
  return changed;
}

Error refused(const std::string& what, DWORD reason) {
  return {ErrorCode::kLinkFailed, what + ": " + system_words(reason)};
}

}  // namespace

// Shared with reads, writes and connections under way, which may end after the session's end.
struct HandSocket::State : std::enable_shared_from_this<State> {
  struct Caller {
    Caller(WaitEngine& engine, HANDLE handle) : pipe(engine.context, handle) {}
    asio::windows::stream_handle pipe;
    std::array<char, 1'024> buffer{};
    std::string part;
  };
  explicit State(WaitEngine& e) : engine(&e) {}
  Result<Done> listen(bool first);
  void admit(std::shared_ptr<Caller> caller);
  void read_from(std::uint64_t number);
  void take_bytes(std::uint64_t number, std::size_t size);

  WaitEngine* engine;
  std::int64_t pid = static_cast<std::int64_t>(GetCurrentProcessId());
  bool over = false;
  std::map<std::uint64_t, std::shared_ptr<Caller>> callers;
  std::vector<Asked> asked;
  std::uint64_t next_number = 1;
};

// Makes one more end of the pipe and waits for whoever opens it.
Result<Done> HandSocket::State::listen(bool first) {
  const DWORD mode =
      PIPE_ACCESS_DUPLEX | FILE_FLAG_OVERLAPPED | (first ? FILE_FLAG_FIRST_PIPE_INSTANCE : 0);
  const HANDLE handle = CreateNamedPipeW(
      pipe_name(pid).c_str(), mode, PIPE_TYPE_BYTE | PIPE_WAIT | PIPE_REJECT_REMOTE_CLIENTS,
      PIPE_UNLIMITED_INSTANCES, kPipeBytes, kPipeBytes, 0, nullptr);
  if (handle == INVALID_HANDLE_VALUE) return refused("cannot listen for hands", GetLastError());
  auto caller = std::make_shared<Caller>(*engine, handle);
  asio::windows::overlapped_ptr connecting(
      engine->context,
      [state = shared_from_this(), caller](const asio::error_code& error, std::size_t) {
        if (state->over) return;
        const bool came = !error || error.value() == ERROR_PIPE_CONNECTED;
        if (came) state->admit(caller);
        (void)state->listen(false);
      });
  const bool at_once = ConnectNamedPipe(handle, connecting.get()) != 0;
  const DWORD reason = GetLastError();
  if (at_once || reason == ERROR_IO_PENDING) {
    connecting.release();
  } else {
    connecting.complete(asio::error_code(static_cast<int>(reason), asio::system_category()), 0);
  }
  return Done{};
}

void HandSocket::State::admit(std::shared_ptr<Caller> caller) {
  if (callers.size() == kHandCallersMax) return;  // closed unheard, with its last owner
  const std::uint64_t number = next_number++;
  callers.emplace(number, std::move(caller));
  read_from(number);
}

void HandSocket::State::read_from(std::uint64_t number) {
  const std::shared_ptr<Caller> caller = callers.at(number);
  caller->pipe.async_read_some(asio::buffer(caller->buffer),
                               [state = shared_from_this(), caller, number](
                                   const asio::error_code& error, std::size_t size) {
                                 if (state->over) return;
                                 if (error)
                                   state->callers.erase(number);
                                 else
                                   state->take_bytes(number, size);
                               });
}

// Whoever says too much is hung up on.
void HandSocket::State::take_bytes(std::uint64_t number, std::size_t size) {
  Caller& caller = *callers.at(number);
  caller.part.append(caller.buffer.data(), size);
  std::size_t end = 0;
  while ((end = caller.part.find('\n')) != std::string::npos) {
    asked.push_back({number, caller.part.substr(0, end)});
    caller.part.erase(0, end + 1);
  }
  engine->touched = true;
  if (caller.part.size() > kHandLineBytesMax || asked.size() > kHandCallersMax)
    callers.erase(number);
  else
    read_from(number);
}

HandSocket::HandSocket() = default;

HandSocket::~HandSocket() {
  if (!state_) return;
  state_->over = true;
  state_->callers.clear();
  std::error_code ignored;
  fs::remove(about_path(state_->pid), ignored);
}

Result<std::unique_ptr<HandSocket>> HandSocket::open(Pacer& pacer, std::string_view about) {
  auto state = std::make_shared<State>(pacer.engine());
  const Result<Done> listening = state->listen(true);
  if (!listening.ok()) return listening.error();
  std::error_code ignored;
  fs::create_directories(folder_of_user(), ignored);
  std::ofstream(about_path(state->pid)) << about << "\n";
  std::unique_ptr<HandSocket> hands(new HandSocket);
  hands->state_ = std::move(state);
  return hands;
}

std::vector<HandSocket::Asked> HandSocket::take() {
  return std::exchange(state_->asked, {});
}

void HandSocket::answer(const Asked& asked, const std::optional<Error>& error) {
  const auto found = state_->callers.find(asked.caller);
  if (found == state_->callers.end()) return;
  auto line = std::make_shared<std::string>(
      error ? "no: " + with_line_ends_as('\x1e', error->text) + "\n" : "done\n");
  asio::async_write(found->second->pipe, asio::buffer(*line),
                    [line, caller = found->second](const asio::error_code&, std::size_t) {});
}

std::vector<std::int64_t> running_sessions() {
  std::vector<std::int64_t> sessions;
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder_of_user(), error)) {
    const std::string name = narrow_text(entry.path().filename().native());
    if (!name.starts_with(kPrefix)) continue;
    std::int64_t pid = 0;
    std::from_chars(name.data() + kPrefix.size(), name.data() + name.size(), pid);
    const bool there = WaitNamedPipeW(pipe_name(pid).c_str(), 1) != 0;
    if (there || GetLastError() != ERROR_FILE_NOT_FOUND) {
      sessions.push_back(pid);
    } else {
      fs::remove(entry.path(), error);
    }
  }
  std::sort(sessions.begin(), sessions.end());
  return sessions;
}

namespace {

Result<std::int64_t> session_to_ask(std::optional<std::int64_t> pid) {
  if (pid) return *pid;
  const std::vector<std::int64_t> sessions = running_sessions();
  if (sessions.size() == 1) return sessions.front();
  if (sessions.empty())
    return Error{ErrorCode::kUnusable, "no session of yours is running: start one with serve"};
  std::string list;
  for (const std::int64_t session : sessions)
    list += "\n  --process " + std::to_string(session) + "  " + about_session(session);
  return Error{ErrorCode::kUnusable, "several sessions are running: say which one by" + list};
}

// A session's pipe with time limits. Whoever has put one there may not act in our name.
class Pipe {
 public:
  explicit Pipe(std::int64_t pid)
      : handle_(CreateFileW(
            pipe_name(pid).c_str(), GENERIC_READ | GENERIC_WRITE, 0, nullptr, OPEN_EXISTING,
            FILE_FLAG_OVERLAPPED | SECURITY_SQOS_PRESENT | SECURITY_IDENTIFICATION, nullptr)) {
    under_way_.hEvent = CreateEventW(nullptr, TRUE, FALSE, nullptr);
  }
  ~Pipe() {
    if (open()) CloseHandle(handle_);
    CloseHandle(under_way_.hEvent);
  }
  Pipe(const Pipe&) = delete;
  Pipe& operator=(const Pipe&) = delete;
  [[nodiscard]] bool open() const { return handle_ != INVALID_HANDLE_VALUE; }

  bool write(const std::string& text) {
    const auto size = static_cast<DWORD>(text.size());
    return finished(WriteFile(handle_, text.data(), size, nullptr, &under_way_)) == size;
  }
  // One line without its end; empty: none came.
  std::string line() {
    std::string text;
    while (text.find('\n') == std::string::npos) {
      char buffer[4'096];
      const DWORD got = finished(ReadFile(handle_, buffer, sizeof buffer, nullptr, &under_way_));
      if (got == 0) return "";
      text.append(buffer, got);
    }
    return text.substr(0, text.find('\n'));
  }

 private:
  // How many bytes went within the time; 0 where none did.
  DWORD finished(BOOL at_once) {
    if (!at_once && GetLastError() != ERROR_IO_PENDING) return 0;
    DWORD size = 0;
    if (WaitForSingleObject(under_way_.hEvent, kAnswerWait_ms) != WAIT_OBJECT_0) CancelIo(handle_);
    return GetOverlappedResult(handle_, &under_way_, &size, TRUE) ? size : 0;
  }
  HANDLE handle_;
  OVERLAPPED under_way_{};
};

}  // namespace

Result<Done> send_hand(std::string_view line, std::optional<std::int64_t> pid) {
  const Result<std::int64_t> session = session_to_ask(pid);
  if (!session.ok()) return session.error();
  if (line.size() > kHandLineBytesMax || line.find('\n') != std::string_view::npos)
    return Error{ErrorCode::kUnusable,
                 "cannot send this to a session: one line of at most 1024 bytes goes at a time"};
  const std::string number = std::to_string(session.value());
  WaitNamedPipeW(pipe_name(session.value()).c_str(), kAnswerWait_ms);
  Pipe pipe(session.value());
  if (!pipe.open())
    return Error{ErrorCode::kUnusable, "no session " + number + " of yours is running"};
  if (!pipe.write(std::string(line) + "\n"))
    return refused("session " + number + " hung up", GetLastError());
  const std::string answer = pipe.line();
  if (answer == "done") return Done{};
  if (answer.starts_with("no: "))
    return Error{ErrorCode::kUnusable, with_line_ends_as('\n', answer.substr(4))};
  return Error{ErrorCode::kLinkFailed,
               "session " + number + " does not answer: it may be stopped in a debugger"};
}

}  // namespace understudy
