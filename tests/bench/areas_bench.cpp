// What the areas cost a frame of the window: taking in what passed in 20 ms at 1000 lines a second,
// and drawing all of them into ImGui's lists, with ten minutes of history behind. Rasterising is
// window_bench.cpp's.
#include <benchmark/benchmark.h>

#include <chrono>

#include "sim/window/areas.h"
#include "sim/window/offscreen.h"
#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

constexpr std::int64_t kHistoryMs = 600'000;

FeedPortion lines_of(std::int64_t from_ms, std::int64_t to_ms) {
  FeedPortion portion;
  for (std::int64_t ms = from_ms; ms < to_ms; ++ms) {
    const std::string text = std::to_string(ms * 7919 % 1'024) + "," +
                             std::to_string(ms * 104'729 % 1'024) + "," +
                             std::to_string(ms / 40 % 2) + ",0,1\n";
    portion.items.push_back({at_ms(ms), 0, FedBytes{true, text}});
    if (ms % 20 == 0) portion.items.push_back({at_ms(ms), 0, FedBytes{false, "255,0,0,9,34,1\n"}});
  }
  return portion;
}

void draw_areas(benchmark::State& state) {
  const std::shared_ptr<const Panel> panel = tram_panel();
  DeviceBench bench(panel);
  bench.open();
  bench.run(milliseconds(10));
  SessionView view;
  view.seats.push_back({.name = "tram",
                        .path = "",
                        .device = bench.device(),
                        .observer = Observer(panel),
                        .links = {{"tcp", "127.0.0.1:27425", false, {}}}});
  History history;
  std::int64_t ms = 0;
  for (; ms < kHistoryMs; ms += 1'000) {
    view.now = at_ms(ms + 1'000);
    history.take(view, lines_of(ms, ms + 1'000));
  }
  Offscreen sheet({.width = 700, .height = 700});
  Remembered remembered = {{"area.charts.span", "10 min"}};
  for (const char* name : {"power", "heater", "bell", "doors", "sander"})
    remembered[std::string("area.charts.chosen.Tram desk.") + name] = "1";
  std::vector<Wish> wishes;
  AreaContext context = {.view = view,
                         .seat = 0,
                         .history = history,
                         .type = sheet.type(),
                         .remembered = remembered,
                         .wishes = wishes};
  for (auto _ : state) {
    FeedPortion portion = lines_of(ms, ms + 20);
    ms += 20;
    view.now = at_ms(ms);
    double spent = 0;
    sheet.draw([&] {
      const auto begin = std::chrono::steady_clock::now();
      history.take(view, std::move(portion));
      float x = 0;
      for (const Area& area : areas()) {
        Offscreen::card(area.name.data(), {x, 0}, {420, 300}, [&] { area.draw(context); });
        x += 40;
      }
      spent = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    });
    state.SetIterationTime(spent);
  }
}
BENCHMARK(draw_areas)->UseManualTime()->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace understudy
