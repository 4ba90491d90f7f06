// What a frame of the window costs when it is drawn in memory, at 1280x720 in daylight: the whole
// desk with the tram's panel, and its parts alone.
#include <benchmark/benchmark.h>

#include "sim/panel/panel_file.h"
#include "sim/session/session.h"
#include "sim/window/desk.h"
#include "sim/window/offscreen.h"

namespace understudy {
namespace {

SessionView view_of(const Session& session) {
  SessionView view;
  view.now = session.now();
  view.seats.push_back({.name = "tram",
                        .path = "tram.panel.toml",
                        .device = session.device(0),
                        .observer = session.observer(0),
                        .links = {{.name = "pty", .where = "/dev/pts/7"}}});
  return view;
}

// A frame after each 16 ms of a session whose hands move by themselves.
void desk_of_the_tram(benchmark::State& state) {
  const auto panel =
      load_panel(std::string(UNDERSTUDY_SOURCE_ROOT) + "/scenarios/tram/tram.panel.toml");
  Session session(1);
  session.add_seat({.name = "tram", .panel = panel.value(), .play = PlayKind::kWander});
  Offscreen sheet({.width = 1'280, .height = 720});
  Remembered remembered;
  Desk desk(sheet.textures(), remembered);
  DeskState desk_state;
  SessionOutputs outputs;
  Instant now{1'000'000'000};
  const auto frame = [&] {
    desk.draw({.size = ImGui::GetIO().DisplaySize, .unit = 1, .type = sheet.type()}, desk_state);
  };
  for (auto _ : state) {
    state.PauseTiming();
    now = now + milliseconds(16);
    session.step(now, {}, outputs);
    desk.take(std::make_shared<SessionView>(view_of(session)), {});
    sheet.fit_legends(desk.engraved_px());
    state.ResumeTiming();
    sheet.draw_only(frame);
  }
}
BENCHMARK(desk_of_the_tram)->Unit(benchmark::kMillisecond);

// A turned sprite of 96 pixels, as knobs are.
void turned_sprites(benchmark::State& state) {
  Offscreen sheet({.width = 1'280, .height = 720});
  Bitmap knob(96, 96);
  for (std::size_t i = 0; i < knob.rgba.size(); ++i) {
    knob.rgba[i] = static_cast<std::uint8_t>(i * 37 % 251);
  }
  const ImTextureID texture = sheet.textures().keep(knob);
  for (auto _ : state) {
    sheet.draw_only([&] {
      ImDrawList& list = *ImGui::GetBackgroundDrawList();
      for (int i = 0; i < 10; ++i) {
        const float x = 100.0F + 110.0F * static_cast<float>(i);
        list.AddImageQuad(texture, {x, 100}, {x + 90, 130}, {x + 60, 220}, {x - 30, 190});
      }
    });
  }
}
BENCHMARK(turned_sprites)->Unit(benchmark::kMillisecond);

// Forty lines of typewriting, as in traffic.
void forty_lines(benchmark::State& state) {
  Offscreen sheet({.width = 1'280, .height = 720});
  ImFont* font = sheet.type().typed;
  for (auto _ : state) {
    sheet.draw_only([&] {
      ImDrawList& list = *ImGui::GetBackgroundDrawList();
      for (int i = 0; i < 40; ++i) {
        list.AddText(font, font->FontSize, {20, 17.0F * static_cast<float>(i)}, ink::kText,
                     "12.345  512,300,1,0,1   512,300,1,0,1");
      }
    });
  }
}
BENCHMARK(forty_lines)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace understudy
