// Starting games, hearing them, and ending them with all their children.
#include "sim/link/game_process.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "sim/link/holders.h"

namespace understudy {
namespace {

class Game : public testing::Test {
 protected:
  Result<std::unique_ptr<GameProcess>> start(const GameOptions& options) {
    return GameProcess::start(pacer, options);
  }
  std::unique_ptr<GameProcess> started(const GameOptions& options) {
    auto game = start(options);
    EXPECT_TRUE(game.ok()) << (game.ok() ? "" : game.error().text);
    return std::move(game).value();
  }
  // Waits until `done`, collecting lines.
  bool wait(GameProcess& game, const std::function<bool()>& done, Duration limit = seconds(5)) {
    const Instant end = pacer.clock() + limit;
    while (!done()) {
      if (pacer.clock() >= end) return false;
      pacer.wait(pacer.clock() + milliseconds(20), {});
      hear(game);
    }
    return true;
  }
  void hear(GameProcess& game) {
    for (GameLine& line : game.take_lines()) lines.push_back(std::move(line));
  }
  GameEnd play(GameProcess& game) {
    EXPECT_TRUE(wait(game, [&] { return game.end().has_value(); }));
    hear(game);
    return game.stop();
  }
  std::string text() const {
    std::string all;
    for (const GameLine& line : lines) all += line.text + "\n";
    return all;
  }
  std::string error_of(const std::vector<std::string>& words) {
    const auto game = start({.words = words});
    EXPECT_FALSE(game.ok());
    if (game.ok()) return "";
    EXPECT_EQ(game.error().code, ErrorCode::kUnusable);
    return game.error().text;
  }
  Pacer pacer;
  std::vector<GameLine> lines;
};

TEST_F(Game, WhatStandsInBracesAndTheEnvironmentNameTheLinks) {
  auto game = started({.words = {"sh", "-c",
                                 "echo {port} {host} {tcp}; echo $UNDERSTUDY_PORT $UNDERSTUDY_TCP "
                                 "$UNDERSTUDY_PANEL $EXTRA"},
                       .port = "/dev/pts/7",
                       .host = "127.0.0.1",
                       .tcp = "4000",
                       .panel = "tram.panel.toml",
                       .environment = {{"EXTRA", "more"}}});
  EXPECT_TRUE(play(*game).fine());
  EXPECT_EQ(text(), "/dev/pts/7 127.0.0.1 4000\n/dev/pts/7 127.0.0.1:4000 tram.panel.toml more\n");
}

TEST_F(Game, ItsTwoOutputsComeAsLinesAndAreToldApart) {
  auto game = started({.words = {"sh", "-c", "echo out; echo bad >&2; printf 'no end'"}});
  EXPECT_TRUE(play(*game).fine());
  ASSERT_EQ(lines.size(), 3U);
  int errors = 0;
  for (const GameLine& line : lines) {
    if (line.error) {
      ++errors;
      EXPECT_EQ(line.text, "bad");
    }
  }
  EXPECT_EQ(errors, 1);
  EXPECT_NE(text().find("no end"), std::string::npos);
}

TEST_F(Game, AGameThatWritesWithoutEndIsHeardInBoundedPieces) {
  auto game = started({.words = {"sh", "-c", "exec yes"}});
  const Instant end = pacer.clock() + milliseconds(200);
  std::size_t most = 0;
  while (pacer.clock() < end) {
    pacer.wait(end, {});
    most = std::max(most, game->take_lines().size());
  }
  EXPECT_GT(most, 0U);
  EXPECT_LT(most, 5'000U);
  EXPECT_EQ(game->stop().signal, "SIGTERM");
}

TEST_F(Game, StatusAndSignalAreToldByName) {
  EXPECT_EQ(written(play(*started({.words = {"sh", "-c", "exit 3"}}))), "ended with status 3");
  EXPECT_EQ(written(play(*started({.words = {"sh", "-c", "kill -SEGV $$"}}))),
            "was ended by SIGSEGV (a crash)");
}

TEST_F(Game, ItsEndWakesThePacer) {
  auto game = started({.words = {"true"}});
  while (!game->end()) EXPECT_TRUE(pacer.wait(kNever, {}).touched);
}

TEST_F(Game, StoppingEndsItsChildrenToo) {
  auto game = started({.words = {"sh", "-c", "sleep 60 & echo $!; wait"}});
  ASSERT_TRUE(wait(*game, [&] { return !lines.empty(); }));
  const auto child = static_cast<pid_t>(std::stol(lines[0].text));
  EXPECT_EQ(kill(child, 0), 0);
  game->stop();
  // Its parent is gone, so it is another's to bury; it may be a zombie for a moment.
  std::ifstream status("/proc/" + std::to_string(child) + "/stat");
  std::string number, name, state;
  EXPECT_TRUE(!(status >> number >> name >> state) || state == "Z") << state;
}

TEST_F(Game, OneThatDoesNotListenToSigtermIsKilledAfterTwoSeconds) {
  auto game =
      started({.words = {"sh", "-c", "trap '' TERM; echo ready; while :; do sleep 1; done"}});
  ASSERT_TRUE(wait(*game, [&] { return !lines.empty(); }));
  const Instant before = pacer.clock();
  EXPECT_EQ(game->stop().signal, "SIGKILL");
  EXPECT_GE(pacer.clock() - before, milliseconds(1'900));
  EXPECT_LE(pacer.clock() - before, seconds(5));
}

TEST_F(Game, AskedToEndItIsGoneWithoutAnybodyWaiting) {
  auto game = started({.words = {"sh", "-c", "sleep 60 & echo $!; wait"}});
  ASSERT_TRUE(wait(*game, [&] { return !lines.empty(); }));
  EXPECT_FALSE(game->all_gone());
  Instant before = pacer.clock();
  game->ask_to_end();
  EXPECT_LE(pacer.clock() - before, milliseconds(500));
  EXPECT_TRUE(wait(*game, [&] { return game->all_gone(); }));
  EXPECT_EQ(game->end()->signal, "SIGTERM");
  EXPECT_EQ(kill(static_cast<pid_t>(std::stol(lines[0].text)), 0), -1);
  before = pacer.clock();
  EXPECT_EQ(game->stop().signal, "SIGTERM");
  EXPECT_LE(pacer.clock() - before, milliseconds(500));
}

TEST_F(Game, OneThatWasAskedAndDoesNotListenIsKilledWhileThePacerGoesOn) {
  auto game = started(
      {.words = {"sh", "-c", "trap '' TERM; echo ready; while :; do sleep 1 & wait; done"}});
  ASSERT_TRUE(wait(*game, [&] { return !lines.empty(); }));
  const Instant before = pacer.clock();
  game->ask_to_end();
  game->ask_to_end();
  // Nothing but the game wakes this pacer: it is told of the end of the grace and of the game.
  while (!game->all_gone()) EXPECT_TRUE(pacer.wait(kNever, {}).touched);
  EXPECT_EQ(game->end()->signal, "SIGKILL");
  EXPECT_GE(pacer.clock() - before, milliseconds(1'900));
  EXPECT_LE(pacer.clock() - before, seconds(5));
}

TEST_F(Game, OneThatEndedBeforeItWasAskedKeepsItsStatus) {
  auto game = started({.words = {"sh", "-c", "sleep 60 & exit 3"}});
  ASSERT_TRUE(wait(*game, [&] { return game->end().has_value(); }));
  EXPECT_FALSE(game->all_gone());
  game->ask_to_end();
  EXPECT_TRUE(wait(*game, [&] { return game->all_gone(); }));
  EXPECT_EQ(game->stop().status, 3);
}

TEST_F(Game, ChildrenLeftBehindByAGameThatEndedAreEndedToo) {
  auto game = started({.words = {"sh", "-c", "sleep 60 & echo $!"}});
  EXPECT_TRUE(wait(*game, [&] { return game->end() && !lines.empty(); }));
  const auto child = static_cast<pid_t>(std::stol(lines[0].text));
  EXPECT_TRUE(game->stop().fine());
  std::ifstream status("/proc/" + std::to_string(child) + "/stat");
  std::string number, name, state;
  EXPECT_TRUE(!(status >> number >> name >> state) || state == "Z") << state;
}

TEST_F(Game, AProgramThatIsNotThereIsAnErrorWithTheNearestName) {
  EXPECT_NE(error_of({"slep", "1"}).find("perhaps sleep"), std::string::npos);
  const std::string folder = testing::TempDir() + "game_" + std::to_string(getpid());
  std::filesystem::create_directory(folder);
  std::filesystem::copy_file("/bin/true", folder + "/tram_game");
  EXPECT_NE(error_of({folder + "/tram_gmae"}).find("perhaps " + folder + "/tram_game"),
            std::string::npos);
  std::ofstream(folder + "/game.py") << "print(1)\n";
  EXPECT_NE(error_of({folder + "/game.py"}).find("chmod +x"), std::string::npos);
  EXPECT_NE(error_of({folder}).find("it is a folder"), std::string::npos);
  std::filesystem::remove_all(folder);
}

TEST_F(Game, ANameOfACommandIsGuessedOnlyWhereOneSlipOfAFingerMakesIt) {
  const std::string folder = testing::TempDir() + "commands_" + std::to_string(getpid());
  std::filesystem::create_directory(folder);
  std::filesystem::copy_file("/bin/true", folder + "/tramdesk");
  const std::string path = getenv("PATH");
  setenv("PATH", folder.c_str(), 1);
  for (const char* slip : {"tramdsk", "tramdessk", "trandesk", "rtamdesk", "tramdes"}) {
    EXPECT_NE(error_of({slip}).find("perhaps tramdesk"), std::string::npos) << slip;
  }
  for (const char* other : {"tramdk", "tamdeks", "nogame", "Tramdisk"}) {
    const std::string error = error_of({other});
    EXPECT_EQ(error.find("perhaps"), std::string::npos) << error;
    EXPECT_NE(error.find("such as games/" + std::string(other)), std::string::npos) << error;
    EXPECT_NE(error.find(std::filesystem::current_path().string()), std::string::npos) << error;
  }
  setenv("PATH", path.c_str(), 1);
  std::filesystem::remove_all(folder);
}

TEST_F(Game, AskingForALinkThatIsNotOpenIsAnError) {
  EXPECT_NE(error_of({"true", "--tcp={tcp}"}).find("--no-tcp"), std::string::npos);
  EXPECT_NE(error_of({}).find("name a program"), std::string::npos);
}

}  // namespace
}  // namespace understudy
