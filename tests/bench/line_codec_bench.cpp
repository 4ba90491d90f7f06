// Making and reading the tram line "512,300,1,0,1" in one run: through the run-time format, and as
// one would by hand with sscanf and snprintf, from_chars and to_chars, and fmt with a format that
// is known only when running.
#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include <array>
#include <charconv>
#include <cstdio>
#include <cstring>

#include "protocol/matcher.h"
#include "protocol/splitter.h"

namespace understudy::protocol {
namespace {

constexpr std::size_t kFields = 5;
using Values = std::array<std::int64_t, kFields>;

LineFormat tram_format(std::optional<CheckSpec> check = std::nullopt) {
  std::vector<Field> catalogue;
  for (const char* pot : {"power", "heater"}) catalogue.push_back({.name = pot, .max = 1023});
  for (const char* button : {"bell", "doors", "sander"}) {
    catalogue.push_back({.name = button, .max = 1});
  }
  return LineFormat::compile({.text = "{power},{heater},{bell},{doors},{sander}",
                              .catalogue = catalogue,
                              .check = check})
      .value();
}

// A thousand and one different sets of values, so that no branch is learnt by heart; the given
// line stands among them.
std::vector<Values> many_values() {
  std::vector<Values> all;
  std::uint32_t state = 1;
  const auto draw = [&](std::uint32_t below) {
    state = state * 1664525 + 1013904223;
    return static_cast<std::int64_t>((state >> 8) % below);
  };
  for (int set = 0; set < 1001; ++set)
    all.push_back({draw(1024), draw(1024), draw(2), draw(2), draw(2)});
  all[0] = {512, 300, 1, 0, 1};
  return all;
}

std::vector<std::string> many_lines() {
  std::vector<std::string> lines;
  const LineFormat format = tram_format();
  std::array<char, 64> line{};
  for (const Values& values : many_values()) {
    lines.emplace_back(line.data(), format.encode(values, {}, line));
  }
  return lines;
}

// Runs body(item) over all items in turn; or, with state.range(0) == 0, over the first alone.
template <class Items, class Body>
void run(benchmark::State& state, const Items& items, Body body) {
  const std::size_t count = state.range(0) == 0 ? 1 : items.size();
  std::size_t next = 0;
  for (auto _ : state) {
    body(items[next]);
    if (++next == count) next = 0;
  }
  state.SetLabel(count == 1 ? "512,300,1,0,1" : "many lines");
}

void make_by_line_format(benchmark::State& state) {
  const LineFormat format = tram_format();
  std::array<char, 64> line{};
  run(state, many_values(), [&](const Values& values) {
    benchmark::DoNotOptimize(format.encode(values, {}, line));
    benchmark::ClobberMemory();
  });
}
BENCHMARK(make_by_line_format)->Arg(0)->Arg(1);

void make_by_to_chars(benchmark::State& state) {
  std::array<char, 64> line{};
  run(state, many_values(), [&](const Values& values) {
    char* at = line.data();
    for (std::size_t field = 0; field < kFields; ++field) {
      if (field > 0) *at++ = ',';
      at = std::to_chars(at, line.data() + line.size(), values[field]).ptr;
    }
    benchmark::DoNotOptimize(at);
    benchmark::ClobberMemory();
  });
}
BENCHMARK(make_by_to_chars)->Arg(0)->Arg(1);

void make_by_runtime_fmt(benchmark::State& state) {
  std::array<char, 64> line{};
  const std::string format = "{},{},{},{},{}";
  run(state, many_values(), [&](const Values& v) {
    benchmark::DoNotOptimize(fmt::format_to_n(line.data(), line.size(), fmt::runtime(format), v[0],
                                              v[1], v[2], v[3], v[4]));
    benchmark::ClobberMemory();
  });
}
BENCHMARK(make_by_runtime_fmt)->Arg(0)->Arg(1);

void make_by_snprintf(benchmark::State& state) {
  std::array<char, 64> line{};
  run(state, many_values(), [&](const Values& v) {
    benchmark::DoNotOptimize(std::snprintf(
        line.data(), line.size(), "%d,%d,%d,%d,%d", static_cast<int>(v[0]), static_cast<int>(v[1]),
        static_cast<int>(v[2]), static_cast<int>(v[3]), static_cast<int>(v[4])));
    benchmark::ClobberMemory();
  });
}
BENCHMARK(make_by_snprintf)->Arg(0)->Arg(1);

void read_by_line_format(benchmark::State& state) {
  const LineFormat format = tram_format();
  Values values{};
  run(state, many_lines(), [&](const std::string& line) {
    benchmark::DoNotOptimize(format.decode(line, values).ok());
    benchmark::DoNotOptimize(values);
  });
}
BENCHMARK(read_by_line_format)->Arg(0)->Arg(1);

void read_by_from_chars(benchmark::State& state) {
  Values values{};
  run(state, many_lines(), [&](const std::string& line) {
    const char* at = line.data();
    const char* const end = at + line.size();
    for (std::size_t field = 0; field < kFields; ++field) {
      if (field > 0 && (at == end || *at++ != ',')) return;
      const auto result = std::from_chars(at, end, values[field]);
      if (result.ec != std::errc()) return;
      at = result.ptr;
    }
    benchmark::DoNotOptimize(values);
  });
}
BENCHMARK(read_by_from_chars)->Arg(0)->Arg(1);

void read_by_sscanf(benchmark::State& state) {
  std::array<int, kFields> v{};
  run(state, many_lines(), [&](const std::string& line) {
    benchmark::DoNotOptimize(
        std::sscanf(line.c_str(), "%d,%d,%d,%d,%d", &v[0], &v[1], &v[2], &v[3], &v[4]));
    benchmark::DoNotOptimize(v);
  });
}
BENCHMARK(read_by_sscanf)->Arg(0)->Arg(1);

// The whole way of a line in an observer: cut, told from a second format, read.
void split_and_match(benchmark::State& state) {
  std::vector<Field> catalogue{
      {.name = "ready", .max = 1}
  };
  const Matcher matcher =
      Matcher::compile(
          {tram_format(),
           LineFormat::compile({.text = "tram-desk {ready}", .catalogue = catalogue}).value()})
          .value();
  Splitter splitter{Framing{}};
  Values values{};
  std::vector<std::string> lines = many_lines();
  for (std::string& line : lines) line += '\n';
  run(state, lines, [&](const std::string& line) {
    splitter.push(line, [&](const SplitLine& cut) {
      benchmark::DoNotOptimize(matcher.match(cut.text, values).ok());
    });
  });
}
BENCHMARK(split_and_match)->Arg(0)->Arg(1);

void read_with_crc_16(benchmark::State& state) {
  const LineFormat format = tram_format(CheckSpec{.kind = CheckKind::kCrc16Modbus});
  std::array<char, 64> line{};
  Values values{512, 300, 1, 0, 1};
  const std::string_view text(line.data(), format.encode(values, {}, line));
  for (auto _ : state) benchmark::DoNotOptimize(format.decode(text, values).ok());
}
BENCHMARK(read_with_crc_16);

}  // namespace
}  // namespace understudy::protocol
