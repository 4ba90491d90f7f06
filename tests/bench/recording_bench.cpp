// Writing, reading and measuring events of a recording, ns per event: our canonical form against a
// general JSON library's stream of documents over the same bytes in one run.
#include <benchmark/benchmark.h>
#include <simdjson.h>

#include <cstdio>
#include <cstring>
#include <filesystem>
#include <string>

#include "sim/base/random.h"
#include "sim/measure/measurement.h"
#include "sim/panel/panel_file.h"
#include "sim/record/event_json.h"
#include "sim/record/event_text.h"
#include "sim/record/reader.h"
#include "sim/record/writer.h"

namespace understudy {
namespace {

constexpr int kEvents = 200'000;

RecordingHeader header() {
  RecordingHeader header;
  header.program = "bench";
  header.seats.push_back({.name = "tram", .panel = "", .resolved = "", .links = {"pty"}});
  return header;
}

// What a session gives: mostly chunks, some of them late, some answers, the game's reading.
RecordedEvent event_at(int i) {
  const Instant at{1'502'000'000 + std::int64_t{i} * 4'000'000};
  switch (i % 8) {
    case 0:
      return {at, 0, recorded::FromGame{"255,0,0,90\n"}};
    case 1:
      return {at, 0, Taken{15}};
    case 2:
      return {at, 0, recorded::ToGame{"512,300,1,0,0\n", 120}};
    default:
      return {at, 0, recorded::ToGame{"512,300,1,0,0\n"}};
  }
}

const std::string& recording() {
  static const std::string text = [] {
    std::string all = header_line(header());
    EventText lines(header());
    for (int i = 0; i < kEvents; ++i) all += lines.line(event_at(i));
    return all;
  }();
  return text;
}

// The same mix of the tram desk, whose two pots tremble, so that hardly a line is the one before.
const std::string& recording_of_play() {
  static const std::string text = [] {
    const auto panel =
        load_panel(std::string(UNDERSTUDY_SOURCE_ROOT) + "/scenarios/tram/tram.panel.toml");
    RecordingHeader played = header();
    played.seats[0].resolved = resolved_toml(panel.value()->description);
    std::string all = header_line(played);
    EventText lines(played);
    Stream chance(1, "bench.measure");
    for (int i = 0; i < kEvents; ++i) {
      RecordedEvent event = event_at(i);
      std::string text;
      if (auto* chunk = std::get_if<recorded::ToGame>(&event.what)) {
        text = std::to_string(510 + chance.below(4)) + "," + std::to_string(298 + chance.below(4)) +
               "," + std::to_string(i / 60 % 2) + ",0,0\n";
        chunk->bytes = text;
      } else if (auto* written = std::get_if<recorded::FromGame>(&event.what)) {
        text = std::to_string(i / 100 % 2 * 255) + ",0,0,90," + std::to_string(i % 60) + ",130\n";
        written->bytes = text;
      }
      all += lines.line(event);
    }
    return all;
  }();
  return text;
}

void per_event(benchmark::State& state) {
  state.SetItemsProcessed(state.iterations() * kEvents);
  state.counters["ns_per_event"] = benchmark::Counter(
      static_cast<double>(kEvents) * 1e-9,
      benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

void format_events(benchmark::State& state) {
  EventText lines(header());
  for (auto _ : state)
    for (int i = 0; i < kEvents; ++i) benchmark::DoNotOptimize(lines.line(event_at(i)).size());
  per_event(state);
}
BENCHMARK(format_events);

// What the recording thread pays: formatting and the ring; the disk is the writer thread's.
void write_events(benchmark::State& state) {
  const char* const path = "recording_bench.jsonl";
  for (auto _ : state) {
    state.PauseTiming();
    auto writer = RecordingWriter::open({.path = path,
                                         .force = true,
                                         .when_full = WhenRingFull::kWaits,
                                         .ring_bytes = 64 * 1024 * 1024},
                                        header());
    state.ResumeTiming();
    for (int i = 0; i < kEvents; ++i) writer.value()->write(event_at(i));
    state.PauseTiming();
    if (!writer.value()->close().ok()) state.SkipWithError("the disk is full");
    state.ResumeTiming();
  }
  std::filesystem::remove(path);
  per_event(state);
}
BENCHMARK(write_events);

void read_events(benchmark::State& state) {
  for (auto _ : state) {
    state.PauseTiming();
    auto reader = RecordingReader::from_bytes(recording(), "bench");
    state.ResumeTiming();
    RecordedEvent event;
    std::int64_t count = 0;
    while (reader.value().next(event) == RecordingReader::Got::kEvent) ++count;
    if (count != kEvents) state.SkipWithError("events are missing");
  }
  per_event(state);
}
BENCHMARK(read_events);

void read_events_thoroughly(benchmark::State& state) {
  const SeatNames seats(header());
  EventRoom room;
  RecordedEvent event;
  std::string_view text = recording();
  text.remove_prefix(text.find('\n') + 1);
  for (auto _ : state) {
    std::string_view left = text;
    while (!left.empty()) {
      const std::size_t size = left.find('\n');
      if (read_event(left.substr(0, size), seats, room, event).kind != JsonLine::Kind::kEvent)
        state.SkipWithError("a line was not read");
      left.remove_prefix(size + 1);
    }
  }
  per_event(state);
}
BENCHMARK(read_events_thoroughly);

// The general library, asked for the same members of each line.
void read_text_by_simdjson(benchmark::State& state, std::string_view text) {
  text.remove_prefix(text.find('\n') + 1);
  const simdjson::padded_string padded(text);
  simdjson::ondemand::parser parser;
  for (auto _ : state) {
    simdjson::ondemand::document_stream lines;
    if (parser.iterate_many(padded, 1'000'000).get(lines) != simdjson::SUCCESS)
      state.SkipWithError("the text was not taken");
    std::int64_t count = 0;
    std::size_t bytes = 0;
    for (auto line : lines) {
      const std::int64_t ns = line["ns"].get_int64();
      const std::string_view seat = line["seat"].get_string();
      const std::string_view from = line["from"].get_string();
      benchmark::DoNotOptimize(ns + static_cast<std::int64_t>(seat.size()));
      if (from == "link") {
        const std::string_view event = line["event"].get_string();
        const std::int64_t taken = line["bytes"].get_int64();
        benchmark::DoNotOptimize(taken + static_cast<std::int64_t>(event.size()));
      } else {
        const std::string_view payload = line["text"].get_string();
        bytes += payload.size();
      }
      ++count;
    }
    benchmark::DoNotOptimize(bytes);
    if (count != kEvents) state.SkipWithError("lines are missing");
  }
  per_event(state);
}

void read_by_simdjson(benchmark::State& state) {
  read_text_by_simdjson(state, recording());
}
BENCHMARK(read_by_simdjson);

void read_play_by_simdjson(benchmark::State& state) {
  read_text_by_simdjson(state, recording_of_play());
}
BENCHMARK(read_play_by_simdjson);

void read_play(benchmark::State& state) {
  for (auto _ : state) {
    state.PauseTiming();
    auto reader = RecordingReader::from_bytes(recording_of_play(), "bench");
    state.ResumeTiming();
    RecordedEvent event;
    std::int64_t count = 0;
    while (reader.value().next(event) == RecordingReader::Got::kEvent) ++count;
    if (count != kEvents) state.SkipWithError("events are missing");
  }
  per_event(state);
}
BENCHMARK(read_play);

// The whole pass of `measure`: reading, splitting, matching, counting. It uses two threads: the
// time is that of a clock, the processor's time that of both.
void measure_play(benchmark::State& state) {
  const std::size_t spans_max = static_cast<std::size_t>(state.range(0));
  for (auto _ : state) {
    state.PauseTiming();
    auto source = memory_source(recording_of_play());
    state.ResumeTiming();
    const auto measured =
        measure_source(std::move(source), "bench", {.trace_spans_max = spans_max});
    if (!measured.ok() || measured.value().events != kEvents)
      state.SkipWithError("events are missing");
  }
  per_event(state);
}
BENCHMARK(measure_play)->Arg(0)->Arg(12'288)->MeasureProcessCPUTime()->UseRealTime();

void find_line_feeds_alone(benchmark::State& state) {
  const std::string& text = recording();
  for (auto _ : state) {
    std::int64_t count = 0;
    const char* at = text.data();
    const char* const end = at + text.size();
    while ((at = static_cast<const char*>(
                std::memchr(at, '\n', static_cast<std::size_t>(end - at)))) != nullptr)
      ++at, ++count;
    benchmark::DoNotOptimize(count);
  }
  per_event(state);
}
BENCHMARK(find_line_feeds_alone);

}  // namespace
}  // namespace understudy
