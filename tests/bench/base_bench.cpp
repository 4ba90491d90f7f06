// What the inner loop asks of chance: draws per second of each kind.
#include <benchmark/benchmark.h>

#include "sim/base/random.h"

namespace understudy {
namespace {

void draw_bits(benchmark::State& state) {
  Stream stream(1, "bench.bits");
  for (auto _ : state) benchmark::DoNotOptimize(stream.bits());
}
BENCHMARK(draw_bits);

void draw_below(benchmark::State& state) {
  Stream stream(1, "bench.below");
  for (auto _ : state) benchmark::DoNotOptimize(stream.below(2000));
}
BENCHMARK(draw_below);

void draw_gaussian(benchmark::State& state) {
  Stream stream(1, "bench.gaussian");
  for (auto _ : state) benchmark::DoNotOptimize(stream.gaussian_micro());
}
BENCHMARK(draw_gaussian);

}  // namespace
}  // namespace understudy
