// The desk as a person finds it, drawn without a display: what is clicked and what comes of it.
#include "sim/window/desk.h"

#include <gtest/gtest.h>

#include "sim/panel/panel_file.h"
#include "sim/session/session.h"
#include "sim/window/cards.h"
#include "sim/window/offscreen.h"
#include "sim/window/pointer.h"
#include "sim/window/screen.h"
#include "sim/window/view_change.h"

namespace understudy {
namespace {

std::shared_ptr<const Panel> panel() {
  return parse_panel(
             "panel = \"Test desk\"\n"
             "[[control]]\nname = \"bell\"\nkind = \"button\"\n"
             "[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n",
             "test.panel.toml")
      .value();
}

Session played(Instant until) {
  Session session(1);
  session.add_seat({.name = "test", .panel = panel()});
  SessionOutputs outputs;
  session.step(until, {}, outputs);
  return session;
}

SessionView view_of(const Session& session) {
  SessionView view;
  view.now = session.now();
  view.seats.push_back({.name = "test",
                        .path = "test.panel.toml",
                        .device = session.device(0),
                        .observer = session.observer(0),
                        .links = {{.name = "pty", .where = "/dev/pts/7"}}});
  return view;
}

// A desk on a sheet in memory, with a hand that clicks.
class TestDesk {
 public:
  explicit TestDesk(int width = 1'280, int height = 720, float unit = 1)
      : unit_(unit),
        sheet_({.width = width, .height = height, .unit = unit}),
        desk_(sheet_.textures(), remembered) {
    desk_.take(std::make_shared<SessionView>(view_of(played(Instant{1'000'000'000}))), {});
  }
  Bitmap draw() {
    return sheet_.draw([this] {
      desk_.draw({.size = ImGui::GetIO().DisplaySize, .unit = unit_, .type = sheet_.type()}, state);
    });
  }
  void click(ImVec2 at) {
    ImGuiIO& io = ImGui::GetIO();
    for (const bool down : {false, true, false}) {
      io.MousePos = at;
      io.MouseDown[0] = down;
      draw();
    }
  }
  Remembered remembered;
  DeskState state;

 private:
  float unit_;
  Offscreen sheet_;
  Desk desk_;
};

TEST(Desk, TheSameViewIsDrawnAlikeTwice) {
  const auto drawn = [] {
    TestDesk desk;
    for (int i = 0; i < 3; ++i) desk.draw();
    return desk.draw().rgba;
  };
  EXPECT_EQ(drawn(), drawn());
}

TEST(Desk, TheWordAtTheRightEndMakesTheWindowCompact) {
  TestDesk desk;
  desk.draw();
  desk.click({1'230, 20});
  EXPECT_TRUE(desk.state.compact);
}

TEST(Desk, ASplitterThatWasDraggedIsRemembered) {
  TestDesk desk;
  desk.draw();
  const Layout layout = divided({.window = {1'280, 720}});
  ImGuiIO& io = ImGui::GetIO();
  const ImVec2 grip((layout.splitter.left + layout.splitter.right) / 2, 400);
  for (const float shift : {0.0F, 0.0F, -100.0F, -100.0F}) {
    io.MousePos = ImVec2(grip.x + shift, grip.y);
    desk.draw();
    io.MouseDown[0] = true;
  }
  EXPECT_NEAR(std::stod(desk.remembered.at("window.share")), 1.0 - (grip.x - 100.0) / 1'280.0,
              0.01);
}

TEST(Desk, AllSizesFromASheetToAWallCanBeDrawn) {
  for (const float unit : {1.0F, 2.0F}) {
    for (const ImVec2 size : {ImVec2(800, 500), ImVec2(500, 800), ImVec2(240, 120)}) {
      TestDesk desk(static_cast<int>(size.x), static_cast<int>(size.y), unit);
      desk.draw();
      EXPECT_EQ(desk.draw().width, static_cast<int>(size.x));
    }
  }
}

TEST(Desk, WaitingAndConnectedAreSaidInWords) {
  SessionView view = view_of(played(Instant{1'000'000'000}));
  EXPECT_EQ(connection_text(view, 0), "Waiting for a game at /dev/pts/7");
  view.seats[0].links.push_back({.name = "tcp", .where = "127.0.0.1:7000"});
  EXPECT_EQ(connection_text(view, 0), "Waiting for a game at /dev/pts/7 or 127.0.0.1:7000");
  view.seats[0].links[0].open = true;
  EXPECT_EQ(connection_text(view, 0).substr(0, 28), "Connected by serial port, 0 ");
}

TEST(ViewChange, TimeThatOnlyPassesIsNothingToDraw) {
  const SessionView older = view_of(played(Instant{1'000'000'000}));
  SessionView newer = older;
  newer.now = Instant{2'000'000'000};
  EXPECT_EQ(change_between(older, newer), ViewChange::kNone);
}

TEST(ViewChange, AHandThatMovesAControlIsDrawn) {
  Session session = played(Instant{1'000'000'000});
  const SessionView older = view_of(session);
  SessionOutputs outputs;
  HandAction press;
  press.to_ppm = 1'000'000;
  const SeatInput input = {.seat = 0, .input = {.at = Instant{1'500'000'000}, .what = press}};
  session.step(Instant{2'000'000'000}, {&input, 1}, outputs);
  EXPECT_EQ(change_between(older, view_of(session)), ViewChange::kFace);
}

SDL_Event button_event(Uint32 type, int x, int y) {
  SDL_Event event = {};
  event.type = type;
  event.button.button = SDL_BUTTON_LEFT;
  event.button.x = x;
  event.button.y = y;
  return event;
}

TEST(Pointer, APressAndAReleaseWithinOneFrameAreSeenInTwo) {
  Pointer pointer;
  ImGuiIO io;
  pointer.take(button_event(SDL_MOUSEBUTTONDOWN, 10, 20));
  pointer.take(button_event(SDL_MOUSEBUTTONUP, 10, 20));
  pointer.apply(io, 2.0F);
  EXPECT_TRUE(io.MouseDown[0]);
  EXPECT_TRUE(pointer.pending());
  EXPECT_EQ(io.MousePos.x, 20.0F);
  EXPECT_EQ(io.MousePos.y, 40.0F);
  pointer.apply(io, 2.0F);
  EXPECT_FALSE(io.MouseDown[0]);
  EXPECT_FALSE(pointer.pending());
}

TEST(Pointer, WhatIsPressedAndMovedWithinOneFrameIsTakenHoldOfWhereItWasPressed) {
  Pointer pointer;
  ImGuiIO io;
  pointer.take(button_event(SDL_MOUSEBUTTONDOWN, 10, 20));
  SDL_Event motion = {};
  motion.type = SDL_MOUSEMOTION;
  motion.motion.x = 30;
  motion.motion.y = 25;
  pointer.take(motion);
  pointer.apply(io, 1.0F);
  EXPECT_TRUE(io.MouseDown[0]);
  EXPECT_EQ(io.MousePos.x, 10.0F);
  EXPECT_TRUE(pointer.pending());
  pointer.apply(io, 1.0F);
  EXPECT_EQ(io.MousePos.x, 30.0F);
  EXPECT_EQ(io.MousePos.y, 25.0F);
  EXPECT_FALSE(pointer.pending());
}

TEST(Screen, AUnitFollowsTheDisplaysDensityInQuarters) {
  EXPECT_EQ(unit_of_display(1.0F, 96.0F), 1.0F);
  EXPECT_EQ(unit_of_display(1.0F, 0.0F), 1.0F);
  EXPECT_EQ(unit_of_display(2.0F, 96.0F), 2.0F);
  EXPECT_EQ(unit_of_display(1.0F, 144.0F), 1.5F);
  EXPECT_EQ(unit_of_display(1.0F, 20.0F), 1.0F);
  EXPECT_EQ(unit_of_display(9.0F, 900.0F), 4.0F);
}

}  // namespace
}  // namespace understudy
