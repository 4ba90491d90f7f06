// A game and all that it starts, in one job object: whatever becomes of us, closing the job ends
// them.
#include <asio/steady_timer.hpp>
#include <asio/windows/object_handle.hpp>
// Asio must come before windows.h.
#include <fcntl.h>
#include <io.h>
#include <windows.h>

#include <utility>

#include "sim/base/wide_text.h"
#include "sim/link/descriptor.h"
#include "sim/link/game_words.h"
#include "sim/link/lines_in.h"
#include "sim/link/wait_engine.h"

namespace understudy {
namespace {

constexpr DWORD kEndGrace_ms = 2'000;
// How long the output of a game that has ended is waited for; children of it may keep it open.
constexpr std::chrono::milliseconds kOutputGrace(200);
constexpr DWORD kOutputLook_ms = 10;
constexpr int kOutputLooksMax = 50;
// Statuses from here on are exceptions that nobody caught (NTSTATUS, severity "error").
constexpr DWORD kExceptions = 0xC000'0000;

class Handle {
 public:
  Handle() = default;
  explicit Handle(HANDLE handle) : handle_(handle) {}
  ~Handle() {
    if (valid()) CloseHandle(handle_);
  }
  Handle(Handle&& other) noexcept : handle_(std::exchange(other.handle_, nullptr)) {}
  Handle& operator=(Handle&& other) noexcept {
    std::swap(handle_, other.handle_);
    return *this;
  }
  [[nodiscard]] HANDLE get() const { return handle_; }
  [[nodiscard]] bool valid() const { return handle_ != nullptr && handle_ != INVALID_HANDLE_VALUE; }

 private:
  HANDLE handle_ = nullptr;
};

// Our end as a descriptor of the C library, the game's as a handle that it inherits.
struct Pipe {
  Descriptor read_end;
  Handle write_end;
};

Pipe make_pipe() {
  HANDLE read_end = nullptr;
  HANDLE write_end = nullptr;
  if (!CreatePipe(&read_end, &write_end, nullptr, 0)) return {};
  SetHandleInformation(write_end, HANDLE_FLAG_INHERIT, HANDLE_FLAG_INHERIT);
  const int descriptor =
      _open_osfhandle(reinterpret_cast<intptr_t>(read_end), _O_RDONLY | _O_BINARY);
  return {Descriptor(descriptor), Handle(write_end)};
}

Handle nothing_to_read() {
  SECURITY_ATTRIBUTES inherited{sizeof inherited, nullptr, TRUE};
  return Handle(CreateFileW(L"NUL", GENERIC_READ, FILE_SHARE_READ | FILE_SHARE_WRITE, &inherited,
                            OPEN_EXISTING, 0, nullptr));
}

// One word so that the usual parser (CommandLineToArgvW) gives it back: backslashes count only
// before a quotation mark, where they are doubled.
std::wstring quoted(const std::wstring& word) {
  if (!word.empty() && word.find_first_of(L" \t\n\v\"") == std::wstring::npos) return word;
  std::wstring text = L"\"";
  std::size_t slashes = 0;
  for (const wchar_t c : word) {
    if (c == L'"') text.append(slashes + 1, L'\\');
    slashes = c == L'\\' ? slashes + 1 : 0;
    text += c;
  }
  return text.append(slashes, L'\\') + L"\"";
}

std::wstring command_line_of(const std::vector<std::string>& words) {
  std::wstring line;
  for (const std::string& word : words)
    line += (line.empty() ? L"" : L" ") + quoted(wide_text(word));
  return line;
}

std::wstring environment_block_of(const std::vector<std::string>& entries) {
  std::wstring block;
  for (const std::string& entry : entries) block += wide_text(entry) + L'\0';
  return block + L'\0';
}

// Which handles a game gets: its three streams and nothing else of ours.
class Inheritance {
 public:
  Inheritance(HANDLE in, HANDLE out, HANDLE err) : handles_{in, out, err} {
    SIZE_T size = 0;
    InitializeProcThreadAttributeList(nullptr, 1, 0, &size);
    room_.resize(size);
    list_ = reinterpret_cast<LPPROC_THREAD_ATTRIBUTE_LIST>(room_.data());
    InitializeProcThreadAttributeList(list_, 1, 0, &size);
    UpdateProcThreadAttribute(list_, 0, PROC_THREAD_ATTRIBUTE_HANDLE_LIST, handles_,
                              sizeof handles_, nullptr, nullptr);
    info_.StartupInfo.cb = sizeof info_;
    info_.StartupInfo.dwFlags = STARTF_USESTDHANDLES;
    info_.StartupInfo.hStdInput = in;
    info_.StartupInfo.hStdOutput = out;
    info_.StartupInfo.hStdError = err;
    info_.lpAttributeList = list_;
  }
  ~Inheritance() { DeleteProcThreadAttributeList(list_); }
  Inheritance(const Inheritance&) = delete;
  Inheritance& operator=(const Inheritance&) = delete;
  STARTUPINFOW* info() { return &info_.StartupInfo; }

 private:
  HANDLE handles_[3];
  std::vector<char> room_;
  LPPROC_THREAD_ATTRIBUTE_LIST list_ = nullptr;
  STARTUPINFOEXW info_{};
};

Handle make_job() {
  Handle job(CreateJobObjectW(nullptr, nullptr));
  JOBOBJECT_EXTENDED_LIMIT_INFORMATION limits{};
  limits.BasicLimitInformation.LimitFlags = JOB_OBJECT_LIMIT_KILL_ON_JOB_CLOSE;
  SetInformationJobObject(job.get(), JobObjectExtendedLimitInformation, &limits, sizeof limits);
  return job;
}

BOOL CALLBACK ask_to_close(HWND window, LPARAM pid) {
  DWORD owner = 0;
  GetWindowThreadProcessId(window, &owner);
  if (owner == static_cast<DWORD>(pid)) PostMessageW(window, WM_CLOSE, 0, 0);
  return TRUE;
}

GameEnd written_end(DWORD status) {
  if (status < kExceptions) return {.status = static_cast<int>(status), .signal = ""};
  char text[48];
  snprintf(text, sizeof text, "exception 0x%08lX (a crash)", status);
  return {.status = 0, .signal = text};
}

}  // namespace

struct GameProcess::State {
  State(Pacer& pacer, Descriptor out, Descriptor err)
      : output_pipe(std::move(out)),
        error_pipe(std::move(err)),
        output(pacer, output_pipe.get()),
        errors(pacer, error_pipe.get()),
        process_watch(pacer.engine().context),
        output_grace(pacer.engine().context),
        end_grace(pacer.engine().context) {}
  void collect();
  bool all_written() const { return output.ended() && errors.ended(); }
  bool ended() const { return WaitForSingleObject(process, 0) == WAIT_OBJECT_0; }
  void note_end();
  void ask_by_signal() const;
  // Rings after that time and wakes the pacer.
  struct Grace {
    bool over = false;
  };
  std::shared_ptr<Grace> ring(asio::steady_timer& timer, std::chrono::milliseconds after) const;

  WaitEngine* engine = nullptr;
  DWORD pid = 0;
  HANDLE process = nullptr;  // owned by the watch
  Handle job;
  std::optional<GameEnd> end;
  bool stopped = false;
  Descriptor output_pipe;
  Descriptor error_pipe;
  LinesIn output;
  LinesIn errors;
  std::vector<GameLine> lines;
  asio::windows::object_handle process_watch;
  asio::steady_timer output_grace;
  asio::steady_timer end_grace;
  // Shared with the timers' handlers; null before they are started.
  std::shared_ptr<Grace> grace;
  std::shared_ptr<Grace> asked;
};

void GameProcess::State::collect() {
  for (std::string& text : output.take_now()) lines.push_back({false, std::move(text)});
  for (std::string& text : errors.take_now()) lines.push_back({true, std::move(text)});
}

void GameProcess::State::note_end() {
  DWORD status = 0;
  GetExitCodeProcess(process, &status);
  end = written_end(status);
}

// Programs of the console hear the one, those with windows the other.
void GameProcess::State::ask_by_signal() const {
  GenerateConsoleCtrlEvent(CTRL_BREAK_EVENT, pid);
  EnumWindows(ask_to_close, static_cast<LPARAM>(pid));
}

std::shared_ptr<GameProcess::State::Grace> GameProcess::State::ring(
    asio::steady_timer& timer, std::chrono::milliseconds after) const {
  auto made = std::make_shared<Grace>();
  timer.expires_after(after);
  timer.async_wait([mine = made, to_touch = engine](const asio::error_code& error) {
    if (error) return;
    mine->over = true;
    to_touch->touched = true;
  });
  return made;
}

GameProcess::GameProcess() = default;

Result<std::unique_ptr<GameProcess>> GameProcess::start(Pacer& pacer, const GameOptions& options) {
  Result<std::vector<std::string>> words = words_for(options);
  if (!words.ok()) return words.error();
  if (words.value().empty() || words.value().front().empty())
    return Error{ErrorCode::kUnusable, "no game stands behind --: name a program"};
  Pipe output = make_pipe();
  Pipe errors = make_pipe();
  const Handle input = nothing_to_read();
  if (!output.read_end.valid() || !errors.read_end.valid())
    return Error{ErrorCode::kGameFailed,
                 "cannot make pipes for the game: " + system_words(GetLastError())};
  std::wstring line = command_line_of(words.value());
  std::wstring environment = environment_block_of(environment_for(options));
  Inheritance inheritance(input.get(), output.write_end.get(), errors.write_end.get());
  // Held until it is in the job, so that no child of its own escapes.
  const DWORD flags = CREATE_SUSPENDED | CREATE_NEW_PROCESS_GROUP | CREATE_UNICODE_ENVIRONMENT |
                      EXTENDED_STARTUPINFO_PRESENT;
  PROCESS_INFORMATION made{};
  if (!CreateProcessW(nullptr, line.data(), nullptr, nullptr, TRUE, flags, environment.data(),
                      nullptr, inheritance.info(), &made)) {
    return cannot_start(words.value().front(), static_cast<int>(GetLastError()));
  }
  const Handle thread(made.hThread);
  std::unique_ptr<GameProcess> process(new GameProcess);
  process->state_ =
      std::make_unique<State>(pacer, std::move(output.read_end), std::move(errors.read_end));
  State& state = *process->state_;
  state.engine = &pacer.engine();
  state.pid = made.dwProcessId;
  state.process = made.hProcess;
  state.job = make_job();
  AssignProcessToJobObject(state.job.get(), made.hProcess);
  ResumeThread(thread.get());
  state.process_watch.assign(made.hProcess);
  state.process_watch.async_wait([engine = &pacer.engine()](const asio::error_code& error) {
    if (!error) engine->touched = true;
  });
  return process;
}

GameProcess::~GameProcess() {
  if (state_) stop();
}

std::int64_t GameProcess::pid() const {
  return state_->pid;
}

std::vector<GameLine> GameProcess::take_lines() {
  state_->collect();
  return std::exchange(state_->lines, {});
}

// What it wrote comes through other threads, so its end is told once its streams have ended too.
std::optional<GameEnd> GameProcess::end() {
  State& state = *state_;
  if (state.asked && state.asked->over) TerminateJobObject(state.job.get(), 1);
  if (state.end || !state.ended()) return state.end;
  state.collect();
  if (state.all_written() || (state.grace && state.grace->over)) {
    state.note_end();
  } else if (!state.grace) {
    state.grace = state.ring(state.output_grace, kOutputGrace);
  }
  return state.end;
}

void GameProcess::ask_to_end() {
  State& state = *state_;
  if (state.stopped || state.asked) return;
  if (!state.ended()) state.ask_by_signal();
  state.asked = state.ring(state.end_grace, std::chrono::milliseconds(kEndGrace_ms));
}

// Its children end with it: closing the job would do the same.
bool GameProcess::all_gone() {
  State& state = *state_;
  if (state.stopped) return true;
  if (!state.asked || !end()) return false;
  TerminateJobObject(state.job.get(), 1);
  state.stopped = true;
  return true;
}

GameEnd GameProcess::stop() {
  State& state = *state_;
  if (state.stopped) return *state.end;
  if (!state.ended()) {
    state.ask_by_signal();
    WaitForSingleObject(state.process, kEndGrace_ms);
  }
  TerminateJobObject(state.job.get(), 1);
  WaitForSingleObject(state.process, kEndGrace_ms);
  state.collect();
  for (int looks = 0; !state.all_written() && looks < kOutputLooksMax; ++looks) {
    Sleep(kOutputLook_ms);
    state.collect();
  }
  if (!state.end) state.note_end();
  state.stopped = true;
  return *state.end;
}

}  // namespace understudy
