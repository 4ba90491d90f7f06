// Two programs at one pseudo-terminal, and several processes of one: which is which is told by
// process groups and parents (credentials(7), proc(5)).
#include <signal.h>

#include <algorithm>

#include "sim/link/game_process.h"
#include "sim/link/holders.h"
#include "sim/link/pty_link.h"
#include "tests/sim/link/link_bench.h"

namespace understudy {
namespace {

// Runs shell programs at the port and lets each be a sleep in the end.
class PtyHeldByPrograms : public testing::Test {
 protected:
  GameProcess& program(const std::string& script) {
    auto game =
        GameProcess::start(bench.pacer, {.words = {"sh", "-c", script}, .port = link->where()});
    EXPECT_TRUE(game.ok());
    programs.push_back(std::move(game).value());
    return *programs.back();
  }
  bool wait_for_sleepers(std::size_t count) {
    return bench.run_until([&] {
      const std::vector<Holder> who = link->who();
      return who.size() == count && std::all_of(who.begin(), who.end(), [](const Holder& holder) {
               return holder.program == "sleep";
             });
    });
  }
  LinkBench bench;
  Link* link = &bench.add(open_pty(bench.pacer, {}));
  std::vector<std::unique_ptr<GameProcess>> programs;
};

TEST_F(PtyHeldByPrograms, ASecondProgramBesideAGameIsToldOnceWithBothNames) {
  const std::int64_t game = program("exec 3<>'{port}'; exec sleep 60").pid();
  ASSERT_TRUE(wait_for_sleepers(1));
  bench.run(milliseconds(400));
  EXPECT_TRUE(link->take_notices().empty()) << "one program is no reason";
  const std::int64_t second = program("exec 3<>'{port}'; exec sleep 60").pid();
  std::vector<std::string> told;
  ASSERT_TRUE(bench.run_until([&] { return !(told = link->take_notices()).empty(); }));
  EXPECT_EQ(told[0], "two programs have " + link->where() + " open: sleep (process " +
                         std::to_string(game) + "), sleep (process " + std::to_string(second) +
                         "); each gets a part of the bytes; close one, or start with --exclusive");
  const Descriptor once_more = open_port(link->where());
  bench.run(milliseconds(1'300));  // longer than the gap between two looks
  EXPECT_TRUE(link->take_notices().empty()) << "the same two are told once";
}

TEST_F(PtyHeldByPrograms, ProcessesOfOneGameAreOneGameInItsGroupOrAsItsChildren) {
  program("exec 3<>'{port}'; (exec 4<>'{port}'; exec sleep 60) & exec sleep 60");
  program("exec 3<>'{port}'; setsid sh -c 'exec 4<>{port}; exec sleep 60' & exec sleep 60");
  ASSERT_TRUE(wait_for_sleepers(4));
  const std::vector<std::vector<Holder>> games = games_at_path(link->where());
  ASSERT_EQ(games.size(), 2U);
  EXPECT_EQ(games[0].size(), 2U);
  EXPECT_EQ(games[1].size(), 2U);
  EXPECT_EQ(games[0][0].pid, programs[0]->pid());
  EXPECT_EQ(games[1][0].pid, programs[1]->pid());
  // It left its program's group, so nobody else ends it.
  kill(static_cast<pid_t>(games[1][1].pid), SIGKILL);
}

TEST_F(PtyHeldByPrograms, AGameWithAChildThatOpensThePortAgainIsNotTold) {
  program("exec 3<>'{port}'; (sleep 0.1; exec 4<>'{port}'; exec sleep 60) & exec sleep 60");
  ASSERT_TRUE(wait_for_sleepers(2));
  bench.run(milliseconds(1'300));
  EXPECT_TRUE(link->take_notices().empty());
}

}  // namespace
}  // namespace understudy
