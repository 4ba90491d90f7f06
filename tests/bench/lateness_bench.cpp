// How late the pacer wakes for a due, against the system's own absolute sleep in the same run:
// waits of 2 ms, taken in turns. The counters are microseconds at the median, the 99th percentile
// and the worst; percentiles beyond the 99th say more about the machine than about the program.
#include <benchmark/benchmark.h>
#include <time.h>

#include <algorithm>
#include <vector>

#include "sim/link/pacer.h"

namespace understudy {
namespace {

constexpr std::int64_t kWait_ns = 2'000'000;
constexpr int kWaits = 3'000;

std::int64_t now_ns() {
  timespec now{};
  clock_gettime(CLOCK_MONOTONIC, &now);
  return now.tv_sec * 1'000'000'000 + now.tv_nsec;
}

std::int64_t system_lateness_ns() {
  const std::int64_t due = now_ns() + kWait_ns;
  const timespec until{.tv_sec = due / 1'000'000'000, .tv_nsec = due % 1'000'000'000};
  clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &until, nullptr);
  return now_ns() - due;
}

std::int64_t pacer_lateness_ns(Pacer& pacer) {
  const Instant due = pacer.clock() + nanoseconds(kWait_ns);
  pacer.wait(due, {});
  return (pacer.clock() - due).ns;
}

void report(benchmark::State& state, const std::string& name, std::vector<std::int64_t> late) {
  std::sort(late.begin(), late.end());
  const auto at = [&](double share) {
    return static_cast<double>(
               late[static_cast<std::size_t>(share * static_cast<double>(late.size() - 1))]) /
           1'000.0;
  };
  state.counters[name + "_p50_us"] = at(0.5);
  state.counters[name + "_p99_us"] = at(0.99);
  state.counters[name + "_max_us"] = at(1.0);
}

void lateness(benchmark::State& state) {
  Pacer pacer;
  std::vector<std::int64_t> of_system, of_pacer;
  for (auto _ : state) {
    of_system.push_back(system_lateness_ns());
    of_pacer.push_back(pacer_lateness_ns(pacer));
  }
  report(state, "system", of_system);
  report(state, "pacer", of_pacer);
}
BENCHMARK(lateness)->Iterations(kWaits)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace understudy
