// A day of the tram panel in virtual time: what `emit` and replay cost, without the writing.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <cstdlib>
#include <memory>

#include "sim/panel/panel_file.h"
#include "sim/session/session.h"

namespace understudy {
namespace {

std::shared_ptr<const Panel> tram() {
  auto panel = load_panel(UNDERSTUDY_SOURCE_ROOT "/scenarios/tram/tram.panel.toml");
  if (panel.ok()) return panel.value();
  std::fprintf(stderr, "%s\n", panel.error().text.c_str());
  std::abort();
}

constexpr Instant kEndOfDay{86'400'000'000'000};
constexpr Duration kStep = seconds(10);

// The device alone, outputs cleared every 10 s.
void day_of_the_device(benchmark::State& state) {
  const auto panel = tram();
  std::size_t bytes = 0;
  for (auto _ : state) {
    Device device(panel, {.seed = 1, .name = "tram", .whole_lines = false});
    StepOutputs outputs;
    const Input open{Instant{1}, LinkOpened{.dtr = true, .takes_at_once = true}};
    device.step(Instant{1}, {&open, 1}, outputs);
    for (Instant t = Instant{} + kStep; t <= kEndOfDay; t = t + kStep) {
      outputs.clear();
      device.step(t, {}, outputs);
      bytes += outputs.bytes.size();
    }
    benchmark::DoNotOptimize(device.fingerprint());
  }
  state.SetBytesProcessed(static_cast<std::int64_t>(bytes));
}
BENCHMARK(day_of_the_device)->Unit(benchmark::kMillisecond);

// A session with wandering hands and its checks; with an observer or without.
void day_of_the_session(benchmark::State& state) {
  const auto panel = tram();
  for (auto _ : state) {
    Session session(1);
    session.add_seat({.name = "tram",
                      .panel = panel,
                      .whole_lines = false,
                      .play = PlayKind::kWander,
                      .observed = state.range(0) != 0});
    SessionOutputs outputs;
    const SeatInput open{0, {Instant{1}, LinkOpened{.dtr = true, .takes_at_once = true}}};
    session.step(Instant{1}, {&open, 1}, outputs);
    for (Instant t = Instant{} + kStep; t <= kEndOfDay; t = t + kStep) session.step(t, {}, outputs);
    benchmark::DoNotOptimize(session.fingerprint());
  }
}
BENCHMARK(day_of_the_session)->ArgName("observed")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void copy_a_device(benchmark::State& state) {
  const Device device(tram(), {.seed = 1, .name = "tram", .whole_lines = false});
  for (auto _ : state) {
    Device copy = device;
    benchmark::DoNotOptimize(copy);
  }
}
BENCHMARK(copy_a_device);

}  // namespace
}  // namespace understudy
