// How late chunks reach the links, in one run of one session, while a window asks for views 60
// times a second and takes the feed, and while it does not: half a second each, in turns. Counters
// are microseconds between a chunk's due and the moment when the links had it; the worst say more
// about the machine than about the program.
#include <benchmark/benchmark.h>
#include <poll.h>

#include <algorithm>
#include <atomic>
#include <string>
#include <thread>
#include <vector>

#include "sim/app/run_loop.h"
#include "sim/app/window_front.h"
#include "tests/sim/link/tcp_game.h"

namespace understudy {
namespace {

constexpr int kFrame_ms = 16;
constexpr int kFramesInTurn = 31;
constexpr Duration kBoardStarts = seconds(3);

// A window's front that notes how late each chunk was, apart by phase.
class Noting final : public Front {
 public:
  Noting(Exchange& exchange, const std::atomic<bool>& asking)
      : inner_(exchange, true), asking_(asking) {}
  void attach(RunLoop& loop) override { inner_.attach(loop); }
  void detach() override { inner_.detach(); }
  [[nodiscard]] bool outlives_game() const override { return true; }
  [[nodiscard]] Instant next_wake() const override { return inner_.next_wake(); }
  void bring() override { inner_.bring(); }
  void say(const Saying& saying) override { inner_.say(saying); }
  void say_of_game(const GameLine& line) override { inner_.say_of_game(line); }
  void turned(const Turn* turn) override {
    if (turn != nullptr) note(*turn);
    inner_.turned(turn);
  }
  void end() override { inner_.end(); }

  std::vector<std::int64_t> with_window, without;

 private:
  void note(const Turn& turn) {
    for (const StepOutputs& seat : turn.outputs.seats)
      for (const Chunk& chunk : seat.chunks) {
        if (chunk.due < Instant{kBoardStarts.ns}) continue;
        auto& late = asking_ ? with_window : without;
        late.push_back((turn.handed_over - chunk.due).ns);
      }
  }
  WindowFront inner_;
  const std::atomic<bool>& asking_;
};

void report(benchmark::State& state, const std::string& name, std::vector<std::int64_t> late) {
  if (late.empty()) return state.SkipWithError("no chunks passed");
  std::sort(late.begin(), late.end());
  const auto at = [&](double share) {
    return static_cast<double>(
               late[static_cast<std::size_t>(share * static_cast<double>(late.size() - 1))]) /
           1'000.0;
  };
  state.counters[name + "_p50_us"] = at(0.5);
  state.counters[name + "_p99_us"] = at(0.99);
  state.counters[name + "_max_us"] = at(1.0);
  state.counters[name + "_chunks"] = static_cast<double>(late.size());
}

// Reads as a game does, as soon as something is there.
void read_all(const std::string& where, const std::atomic<bool>& done) {
  const Descriptor game = connect_to(where);
  char buffer[4'096];
  while (!done) {
    pollfd readable{game.get(), POLLIN, 0};
    poll(&readable, 1, 100);
    while (::read(game.get(), buffer, sizeof buffer) > 0) {
    }
  }
}

// Seats and seconds of the run are the arguments.
void chunks_beside_a_window(benchmark::State& state) {
  for (auto _ : state) {
    ServeArguments arguments;
    arguments.session.panels = {UNDERSTUDY_SOURCE_ROOT "/scenarios/tram/tram.panel.toml"};
    arguments.session.copies = static_cast<int>(state.range(0));
    arguments.session.length = kBoardStarts + seconds(state.range(1));
    arguments.session.play = PlayKind::kWander;
    arguments.session.quiet = true;
    arguments.tcp = "0";
    arguments.no_pty = true;
    Exchange exchange;
    std::atomic<bool> asking = false;
    Noting front(exchange, asking);
    auto loop = RunLoop::make("panel", arguments, front);
    if (!loop.ok() || !loop.value()->open().ok())
      return state.SkipWithError("the session cannot be opened");
    std::atomic<bool> done = false;
    std::vector<std::thread> games;
    for (const SeatLinks& links : loop.value()->links())
      games.emplace_back(
          [&done, where = links.links().front()->where()] { read_all(where, done); });
    std::thread session([&] { loop.value()->run(); });
    std::int64_t views = 0;
    for (int frame = 0; !exchange.session_over(); ++frame) {
      asking = frame / kFramesInTurn % 2 == 0;
      poll(nullptr, 0, kFrame_ms);
      if (!asking) continue;
      exchange.ask_for_view();
      ++views;
      benchmark::DoNotOptimize(exchange.take_feed().items.size());
      benchmark::DoNotOptimize(exchange.view());
    }
    session.join();
    done = true;
    for (std::thread& game : games) game.join();
    state.counters["views"] = static_cast<double>(views);
    report(state, "with", front.with_window);
    report(state, "without", front.without);
  }
}
BENCHMARK(chunks_beside_a_window)
    ->ArgNames({"seats", "seconds"})
    ->Args({1, 10})
    ->Args({16, 10})
    ->Iterations(1)
    ->UseRealTime()
    ->Unit(benchmark::kSecond);

}  // namespace
}  // namespace understudy
