// A session with games of every temper, recorded: for the tests of recorder and verification.
#pragma once

#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "sim/base/random.h"
#include "sim/panel/panel_file.h"
#include "sim/record/session_recorder.h"

namespace understudy {

enum class Temper {
  kAbsent,    // never opens the port
  kPrompt,    // reads all at once, answers every 100 ms
  kSlow,      // takes a few bytes now and then
  kCrashing,  // opens, writes half a line, vanishes, comes back
  kFlooding,  // writes far more than the wire carries
};
inline constexpr Temper kTempers[] = {Temper::kAbsent, Temper::kPrompt, Temper::kSlow,
                                      Temper::kCrashing, Temper::kFlooding};

struct RehearsalOptions {
  std::uint64_t seed = 7;
  std::vector<Temper> games = {Temper::kPrompt};  // one seat each
  Duration length = seconds(12);
  Duration step_max = milliseconds(40);
  bool whole_lines = false;
  std::shared_ptr<const Panel> panel = {};  // of every seat; none: the tram's
  std::string name = "a.jsonl";
  bool tapped = false;  // the first seat's bytes are a real box's, which comes and goes
  std::vector<std::string> reloads = {};  // panel texts that the first seat reads, every 3 s
};

inline std::shared_ptr<const Panel> tram_panel() {
  const auto panel =
      load_panel(std::string(UNDERSTUDY_SOURCE_ROOT) + "/scenarios/tram/tram.panel.toml");
  CHECK(panel.ok(), panel.error().text.c_str());
  return panel.value();
}

// Plays one game's part: what it does in (from, until].
class PretendedGame {
 public:
  // Its lines have a number for each of so many fields.
  PretendedGame(Temper temper, std::uint64_t seed, std::uint16_t seat, std::size_t fields)
      : temper_(temper),
        stream_(seed, "game " + std::to_string(seat)),
        seat_(seat),
        fields_(fields) {}

  void act(Instant from, Instant until, const StepOutputs& seen, std::vector<SeatInput>& inputs) {
    for (const Chunk& chunk : seen.chunks) unread_ += static_cast<std::int64_t>(chunk.size);
    if (temper_ == Temper::kAbsent) return;
    const Instant t = from + microseconds(1 + stream_.below(200));
    if (t > until) return;
    const auto put = [&](auto what) { inputs.push_back({seat_, {t, what}}); };
    if (!open_) {
      put(LinkOpened{});
      put(LineSettings{115'200, 1});
      if (stream_.chance({1, 2})) put(ModemLines{true, true});
      open_ = true;
      unread_ = 0;
      return;
    }
    if (temper_ == Temper::kCrashing && stream_.chance({1, 30})) {
      put(BytesFromGame{"255,0"});
      put(LinkClosed{});
      open_ = false;
      return;
    }
    const std::int64_t taken =
        temper_ == Temper::kSlow ? std::min<std::int64_t>(unread_, 5) : unread_;
    if (taken > 0) put(Taken{taken});
    unread_ -= taken;
    if (temper_ == Temper::kFlooding)
      put(BytesFromGame{std::string(3'000, '7')});
    else if (stream_.chance({1, 4}))
      put(BytesFromGame{answer()});
  }

 private:
  std::string answer() {
    std::string line;
    for (std::size_t i = 0; i < fields_; ++i)
      line += (i > 0 ? "," : "") + std::to_string(stream_.below(256));
    return line + (stream_.chance({1, 20}) ? "\xff" : "\n");
  }
  Temper temper_;
  Stream stream_;
  std::uint16_t seat_;
  std::size_t fields_;
  bool open_ = false;
  std::int64_t unread_ = 0;
};

// Plays a real box's part, and that of people who replace it and hold its controls.
class PretendedBox {
 public:
  explicit PretendedBox(std::uint64_t seed) : stream_(seed, "box") {}

  void act(Instant from, Instant until, std::vector<SeatInput>& inputs) {
    const Instant t = from + microseconds(300 + stream_.below(100));
    if (t > until) return;
    const std::int64_t choice = stream_.below(16);
    if (choice == 0) {
      inputs.push_back({0, {t, SourceChanged{static_cast<SeatSource>(stream_.below(3))}}});
    } else if (choice < 3) {
      inputs.push_back({0,
                        {t, ControlHeld{.control = static_cast<std::uint16_t>(stream_.below(5)),
                                        .held = choice == 1}}});
    } else {
      const std::string line = "512,300,1,0,0\n";
      inputs.push_back({0, {t, BoxBytes{line.substr(static_cast<std::size_t>(stream_.below(9)))}}});
    }
  }

 private:
  Stream stream_;
};

inline std::string bytes_of_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  return bytes.str();
}

// Records such a session into `options.name` and leaves the file.
inline void rehearse(const RehearsalOptions& options) {
  std::vector<SeatOptions> seats;
  std::vector<PretendedGame> games;
  Session session(options.seed);
  for (std::size_t i = 0; i < options.games.size(); ++i) {
    seats.push_back({.name = "tram" + std::string(i, '+'),
                     .panel = options.panel ? options.panel : tram_panel(),
                     .whole_lines = options.whole_lines,
                     .play = i == 0 ? PlayKind::kWander : PlayKind::kSweep,
                     .source = options.tapped && i == 0 ? SeatSource::kBox : SeatSource::kDevice});
    session.add_seat(seats.back());
    games.emplace_back(options.games[i], options.seed, static_cast<std::uint16_t>(i),
                       seats.back().panel->to_panel_fields.size());
  }
  auto recorder = SessionRecorder::begin(
      {.file = {.path = options.name, .force = true, .when_full = WhenRingFull::kWaits},
       .seed = options.seed,
       .seats = seats,
       .links = {{"pty"}},
       .start = "2026-03-01T19:30:00Z",
       .program = "understudy 0.1.0"});
  CHECK(recorder.ok(), recorder.error().text.c_str());
  Stream steps(options.seed, "steps");
  PretendedBox box(options.seed);
  SessionOutputs outputs;
  outputs.seats.resize(seats.size());
  std::vector<SeatInput> inputs;
  while (session.now() < Instant{options.length.ns}) {
    const Duration step{1'000 + steps.below(options.step_max.ns)};
    const Instant until = earlier(session.now() + step, Instant{options.length.ns});
    inputs.clear();
    const auto reloaded = static_cast<std::size_t>(session.now().ns / 3'000'000'000);
    const auto reloads_by = static_cast<std::size_t>(until.ns / 3'000'000'000);
    if (reloads_by > reloaded && reloaded < options.reloads.size()) {
      const auto panel = parse_panel(options.reloads[reloaded], "reloaded");
      CHECK(panel.ok(), "a panel to reload is wrong");
      inputs.push_back({0, {session.now() + nanoseconds(1), PanelReloaded{panel.value()}}});
    }
    for (std::size_t i = 0; i < games.size(); ++i)
      games[i].act(session.now(), until, outputs.seats[i], inputs);
    if (options.tapped) box.act(session.now(), until, inputs);
    std::stable_sort(inputs.begin(), inputs.end(), [](const SeatInput& a, const SeatInput& b) {
      return a.input.at < b.input.at;
    });
    session.step(until, inputs, outputs);
    recorder.value()->step(inputs, outputs, until + microseconds(steps.below(90)));
  }
  const Result<Done> ended = recorder.value()->end(session);
  CHECK(ended.ok(), ended.error().text.c_str());
}

}  // namespace understudy
