// A game as a process group: posix_spawn tells at once whether it could be started, a pidfd wakes
// the pacer when it ends, and its process number stays taken until the whole group is gone.
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include "sim/link/descriptor.h"
#include "sim/link/game_words.h"
#include "sim/link/lines_in.h"
#include "sim/link/wait_engine.h"
#include "sim/link/watch.h"

namespace understudy {
namespace {

constexpr int kTermGrace_ms = 2'000;
constexpr int kGroupLook_ms = 10;

struct Pipe {
  Descriptor read_end;
  Descriptor write_end;
};

Pipe make_pipe() {
  int ends[2] = {-1, -1};
  if (pipe2(ends, O_CLOEXEC) != 0) return {};
  return {Descriptor(ends[0]), Descriptor(ends[1])};
}

std::vector<char*> pointers_to(std::vector<std::string>& texts) {
  std::vector<char*> pointers;
  for (std::string& text : texts) pointers.push_back(text.data());
  pointers.push_back(nullptr);
  return pointers;
}

// What posix_spawn is told besides the program; freed with it.
class SpawnSettings {
 public:
  SpawnSettings(const Pipe& output, const Pipe& errors) {
    posix_spawn_file_actions_init(&actions_);
    posix_spawn_file_actions_addopen(&actions_, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_adddup2(&actions_, output.write_end.get(), STDOUT_FILENO);
    posix_spawn_file_actions_adddup2(&actions_, errors.write_end.get(), STDERR_FILENO);
    posix_spawnattr_init(&attributes_);
    posix_spawnattr_setpgroup(&attributes_, 0);
    // Signals that we hold back or ignore are none of the game's business.
    sigset_t none;
    sigemptyset(&none);
    posix_spawnattr_setsigmask(&attributes_, &none);
    sigset_t standard;
    sigemptyset(&standard);
    sigaddset(&standard, SIGPIPE);
    posix_spawnattr_setsigdefault(&attributes_, &standard);
    posix_spawnattr_setflags(
        &attributes_, POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF);
  }
  ~SpawnSettings() {
    posix_spawn_file_actions_destroy(&actions_);
    posix_spawnattr_destroy(&attributes_);
  }
  SpawnSettings(const SpawnSettings&) = delete;
  SpawnSettings& operator=(const SpawnSettings&) = delete;
  [[nodiscard]] const posix_spawn_file_actions_t* actions() const { return &actions_; }
  [[nodiscard]] const posix_spawnattr_t* attributes() const { return &attributes_; }

 private:
  posix_spawn_file_actions_t actions_;
  posix_spawnattr_t attributes_;
};

// How the process ended; nothing while it runs. Does not take its number away from it.
std::optional<GameEnd> end_of(pid_t pid) {
  siginfo_t info{};
  if (waitid(P_PID, static_cast<id_t>(pid), &info, WEXITED | WNOHANG | WNOWAIT) != 0 ||
      info.si_pid == 0) {
    return std::nullopt;
  }
  if (info.si_code == CLD_EXITED) return GameEnd{.status = info.si_status, .signal = ""};
  const char* name = sigabbrev_np(info.si_status);
  return GameEnd{.status = 0,
                 .signal = name != nullptr ? std::string("SIG") + name
                                           : "signal " + std::to_string(info.si_status)};
}

// Whether any process of the group is left. Buries those that have ended: a zombie would answer to
// kill() too. The group's number stays its own as long as it has a member.
bool group_lives(pid_t leader) {
  siginfo_t info{};
  while (waitid(P_PGID, static_cast<id_t>(leader), &info, WEXITED | WNOHANG) == 0 &&
         info.si_pid != 0) {
    info = {};
  }
  return kill(-leader, 0) == 0;
}

// Rings once and wakes the pacer. The bell is shared with the handler, which may come late.
class Alarm {
 public:
  explicit Alarm(Pacer& pacer) : engine_(&pacer.engine()), timer_(engine_->context) {}
  void set(int after_ms) {
    rang_ = std::make_shared<bool>(false);
    timer_.expires_after(std::chrono::milliseconds(after_ms));
    timer_.async_wait([rang = rang_, engine = engine_](const asio::error_code& error) {
      if (error) return;
      *rang = true;
      engine->touched = true;
    });
  }
  [[nodiscard]] bool set_before() const { return rang_ != nullptr; }
  [[nodiscard]] bool rang() const { return rang_ != nullptr && *rang_; }

 private:
  WaitEngine* engine_;
  asio::steady_timer timer_;
  std::shared_ptr<bool> rang_;
};

}  // namespace

struct GameProcess::State {
  State(Pacer& pacer, Pipe out, Pipe err)
      : output_pipe(std::move(out.read_end)),
        error_pipe(std::move(err.read_end)),
        output(pacer, output_pipe.get()),
        errors(pacer, error_pipe.get()),
        grace(pacer),
        look(pacer) {}
  void ask_by_signal() const {
    kill(-pid, SIGTERM);
    kill(-pid, SIGCONT);  // a stopped process would not hear of it
  }
  pid_t pid = -1;
  std::optional<GameEnd> end;
  bool stopped = false;
  Descriptor output_pipe;
  Descriptor error_pipe;
  Descriptor process;
  LinesIn output;
  LinesIn errors;
  std::unique_ptr<Watch> process_watch;
  Alarm grace;  // set by ask_to_end()
  Alarm look;   // for children that outlive the game
  bool killed = false;
};

GameProcess::GameProcess() = default;

Result<std::unique_ptr<GameProcess>> GameProcess::start(Pacer& pacer, const GameOptions& options) {
  Result<std::vector<std::string>> words = words_for(options);
  if (!words.ok()) return words.error();
  if (words.value().empty() || words.value().front().empty()) {
    return Error{ErrorCode::kUnusable, "no game stands behind --: name a program"};
  }
  Pipe output = make_pipe();
  Pipe errors = make_pipe();
  if (!output.read_end.valid() || !errors.read_end.valid()) {
    return Error{ErrorCode::kGameFailed,
                 std::string("cannot make pipes for the game: ") + strerror(errno)};
  }
  // A game's orphans come to us, not to the system's first process, which may not bury them.
  prctl(PR_SET_CHILD_SUBREAPER, 1UL, 0UL, 0UL, 0UL);
  std::vector<std::string> environment = environment_for(options);
  const std::string& game = words.value().front();
  pid_t pid = -1;
  {
    const SpawnSettings settings(output, errors);
    const int reason =
        posix_spawnp(&pid, game.c_str(), settings.actions(), settings.attributes(),
                     pointers_to(words.value()).data(), pointers_to(environment).data());
    if (reason != 0) return cannot_start(game, reason);
  }
  std::unique_ptr<GameProcess> process(new GameProcess);
  process->state_ = std::make_unique<State>(pacer, std::move(output), std::move(errors));
  State& state = *process->state_;
  state.pid = pid;
  state.process = Descriptor(static_cast<int>(syscall(SYS_pidfd_open, pid, 0)));
  if (state.process.valid()) {
    state.process_watch = std::make_unique<Watch>(pacer, state.process.get());
  }
  return process;
}

GameProcess::~GameProcess() {
  if (state_) stop();
}

std::int64_t GameProcess::pid() const {
  return state_->pid;
}

std::vector<GameLine> GameProcess::take_lines() {
  std::vector<GameLine> lines;
  // Once it has ended, all it wrote is in the pipes.
  const bool ended = state_->end.has_value();
  for (std::string& text : ended ? state_->output.take_now() : state_->output.take()) {
    lines.push_back({false, std::move(text)});
  }
  for (std::string& text : ended ? state_->errors.take_now() : state_->errors.take()) {
    lines.push_back({true, std::move(text)});
  }
  return lines;
}

std::optional<GameEnd> GameProcess::end() {
  State& state = *state_;
  if (state.grace.rang() && !state.stopped && !std::exchange(state.killed, true))
    kill(-state.pid, SIGKILL);
  if (!state.end) state.end = end_of(state.pid);
  return state.end;
}

void GameProcess::ask_to_end() {
  State& state = *state_;
  if (state.stopped || state.grace.set_before()) return;
  state.ask_by_signal();
  state.grace.set(kTermGrace_ms);
}

bool GameProcess::all_gone() {
  State& state = *state_;
  if (state.stopped) return true;
  if (!state.grace.set_before() || !end()) return false;
  if (group_lives(state.pid) && !state.killed) {
    if (!state.look.set_before() || state.look.rang()) state.look.set(kGroupLook_ms);
    return false;
  }
  state.stopped = true;
  return true;
}

GameEnd GameProcess::stop() {
  State& state = *state_;
  if (state.stopped) return *state.end;
  if (!end()) {
    state.ask_by_signal();
    pollfd ended{state.process.get(), POLLIN, 0};
    poll(&ended, 1, kTermGrace_ms);
  } else {
    kill(-state.pid, SIGTERM);
  }
  if (!end()) {
    kill(-state.pid, SIGKILL);
    siginfo_t info{};
    waitid(P_PID, static_cast<id_t>(state.pid), &info, WEXITED | WNOWAIT);
  }
  end();
  for (int waited = 0; group_lives(state.pid); waited += kGroupLook_ms) {
    if (waited >= kTermGrace_ms) {
      kill(-state.pid, SIGKILL);
      break;
    }
    poll(nullptr, 0, kGroupLook_ms);
  }
  state.stopped = true;
  return *state.end;
}

}  // namespace understudy
