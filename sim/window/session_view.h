// What the window sees of a running session: plain copies, made by the session's thread and never
// changed afterwards, so that drawing neither waits for the session nor is waited for.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/time.h"
#include "sim/device/device.h"
#include "sim/link/link.h"
#include "sim/observe/observer.h"
#include "sim/window/timeline_view.h"

namespace understudy {

struct LinkView {
  std::string name;   // "pty", "tcp", "serial"
  std::string where;  // a path, or HOST:PORT
  bool open = false;  // the game is in by this link
  LinkCounts counts;
  FarEnd far_end = {};  // of that game
};

struct SeatView {
  std::string name;
  std::string path;  // of the panel file
  Device device;     // a snapshot; device.panel() is what it is made from
  Observer observer;
  std::shared_ptr<const Panel> panel = nullptr;  // read last, which hands mean
  std::vector<LinkView> links;
  SeatSource source = SeatSource::kDevice;  // where the bytes to the game come from
  std::string box;                          // where the real box is; empty: there is none
  bool box_lost = false;                    // it was there, and is not now
};

enum class GameState : std::uint8_t { kNone, kRunning, kEnded };

// The game behind `-- GAME ARGS`; kNone where there is none.
struct GameView {
  GameState state = GameState::kNone;
  std::string command;   // as typed, for people
  std::int64_t pid = 0;  // while it runs
  std::string ended;     // how, in words: "ended with status 3"
  bool ended_well = true;
};

struct SessionView {
  Instant now;
  std::uint64_t seed = 0;
  double speed = 1.0;
  std::vector<SeatView> seats;
  GameView game;
  std::string environment;  // for a game started by hand: NAME=VALUE ..., ready to copy
  std::string recording;    // the file being written; empty: none
  std::optional<TimelineView> timeline;  // a recording is looked at; else a session that goes on
};

}  // namespace understudy
