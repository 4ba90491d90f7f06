// Games of every kind of manners at a pseudo-terminal. The facts about pseudo-terminals are those
// of pty(7), tty_ioctl(2), termios(3), and of this kernel where they say nothing.
#include "sim/link/pty_link.h"

#include <asm/termbits.h>
#include <signal.h>
#include <sys/ioctl.h>
#include <sys/wait.h>

#include "sim/link/game_process.h"
#include "tests/sim/link/link_bench.h"

namespace understudy {
namespace {

class Pty : public testing::Test {
 protected:
  void start(const PtyOptions& options = {}) { link = &bench.add(open_pty(bench.pacer, options)); }
  Descriptor open() { return open_port(link->where()); }
  bool runs_until_closed(int times = 1) {
    return bench.run_until([&] { return bench.count<LinkClosed>() >= times; });
  }
  std::uint64_t dropped(DropReason reason) const { return link->counts().dropped_by(reason); }
  // Reads as a game does until it has so many bytes; fewer where they don't come.
  std::string reads(const Descriptor& game, std::size_t bytes) {
    std::string all;
    bench.run_until([&] { return (all += read_port(game)).size() >= bytes; });
    return all;
  }
  // Runs a program as a game of its own process and waits for its end.
  GameEnd play(const std::vector<std::string>& words) {
    auto game = GameProcess::start(bench.pacer, {.words = words, .port = link->where()});
    EXPECT_TRUE(game.ok()) << (game.ok() ? "" : game.error().text);
    EXPECT_TRUE(bench.run_until([&] { return game.value()->end().has_value(); }));
    return game.value()->stop();
  }
  LinkBench bench;
  Link* link = nullptr;
};

termios2 settings_of(const Descriptor& port) {
  termios2 settings{};
  EXPECT_EQ(ioctl(port.get(), TCGETS2, &settings), 0);
  return settings;
}

void set_baud(const Descriptor& port, unsigned baud) {
  termios2 settings = settings_of(port);
  settings.c_cflag = (settings.c_cflag & ~static_cast<unsigned>(CBAUD)) | BOTHER;
  settings.c_ospeed = settings.c_ispeed = baud;
  EXPECT_EQ(ioctl(port.get(), TCSETS2, &settings), 0);
}

std::string all_bytes() {
  std::string bytes;
  for (int value = 0; value < 256; ++value) bytes += static_cast<char>(value);
  return bytes;
}

TEST_F(Pty, AProgramThatSetsNothingGetsEveryByteUnchangedBothWays) {
  start();
  const Descriptor game = open();
  write_port(game, all_bytes());
  ASSERT_TRUE(bench.run_until([&] { return bench.bytes_from_game().size() >= 256; }));
  EXPECT_EQ(bench.bytes_from_game(), all_bytes());
  link->write(all_bytes());
  EXPECT_EQ(reads(game, 256), all_bytes());
  bench.run(milliseconds(20));
  EXPECT_EQ(bench.bytes_from_game().size(), 256U) << "an echo came back";
}

TEST_F(Pty, ThePanelsSpeedStandsBeforeAGameOpens) {
  start({.settings = {.baud = 250'000, .stop_bits = 2}});
  const Descriptor game = open();
  const termios2 settings = settings_of(game);
  EXPECT_EQ(settings.c_ospeed, 250'000U);
  EXPECT_NE(settings.c_cflag & CSTOPB, 0U);
  EXPECT_EQ(settings.c_lflag & (ECHO | ICANON | ISIG), 0U);
  bench.run(milliseconds(30));
  EXPECT_EQ(bench.count<LineSettings>(), 0) << "nobody set a baud";
}

TEST_F(Pty, OpeningReadingWritingClosingComeOutInOrder) {
  start();
  Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  link->write("512,300\n");
  EXPECT_EQ(reads(game, 8), "512,300\n");
  ASSERT_TRUE(bench.run_until([&] { return bench.taken() == 8; }));
  write_port(game, "255,0\n");
  ASSERT_TRUE(bench.run_until([&] { return !bench.bytes_from_game().empty(); }));
  game.reset();
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(bench.order(), "otbc");
  for (std::size_t i = 1; i < bench.inputs.size(); ++i) {
    EXPECT_LT(bench.inputs[i - 1].at, bench.inputs[i].at) << "two inputs have one stamp";
  }
}

TEST_F(Pty, WhatAGameWritesBeforeItClosesArrivesBeforeTheClosing) {
  start();
  { write_port(open(), "0,0,0,0\n"); }
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(bench.order(), "obc");
  EXPECT_EQ(bench.bytes_from_game(), "0,0,0,0\n");
}

TEST_F(Pty, ABaudThatTheGameSetIsSeenAndSoAreStopBits) {
  start();
  const Descriptor game = open();
  set_baud(game, 9'600);
  ASSERT_TRUE(bench.run_until([&] { return bench.count<LineSettings>() > 0; }));
  EXPECT_EQ(bench.last<LineSettings>(), (LineSettings{.baud = 9'600, .stop_bits = 1}));
  set_baud(game, 250'000);
  ASSERT_TRUE(bench.run_until([&] { return bench.count<LineSettings>() > 1; }));
  EXPECT_EQ(bench.last<LineSettings>().baud, 250'000);
}

TEST_F(Pty, SettingsAreBackAtEachClose) {
  start();
  Descriptor game = open();
  set_baud(game, 9'600);
  termios2 cooked = settings_of(game);
  cooked.c_lflag |= ECHO | ICANON;
  cooked.c_oflag |= OPOST | ONLCR;
  ioctl(game.get(), TCSETS2, &cooked);
  bench.run(milliseconds(20));
  game.reset();
  ASSERT_TRUE(runs_until_closed());
  game = open();
  EXPECT_EQ(settings_of(game).c_ospeed, 115'200U);
  EXPECT_EQ(settings_of(game).c_lflag & (ECHO | ICANON), 0U);
  bench.run(milliseconds(30));
  EXPECT_EQ(bench.count<LineSettings>(), 1) << "the second game set nothing";
}

TEST_F(Pty, BytesThatAGameLeftUnreadNeverReachTheNextOne) {
  start();
  Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  link->write(std::string(3'000, 'o'));
  bench.run(milliseconds(5));
  game.reset();
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(dropped(DropReason::kUnreadAtClose), 3'000U);
  game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  link->write("new\n");
  EXPECT_EQ(reads(game, 4), "new\n");
}

TEST_F(Pty, NothingIsWrittenWhileNobodyHasItOpen) {
  start();
  EXPECT_EQ(link->write("512\n").dropped, 4U);
  EXPECT_EQ(dropped(DropReason::kNobodyOpen), 4U);
  const Descriptor game = open();
  bench.run(milliseconds(10));
  EXPECT_EQ(read_port(game), "");
}

TEST_F(Pty, TakenCountsExactlyWhatTheGameRead) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  std::int64_t read = 0;
  for (int line = 0; line < 200; ++line) {
    link->write("512,300,0,0,1\n");
    read += static_cast<std::int64_t>(read_port(game, static_cast<std::size_t>(line % 23)).size());
    bench.run(microseconds(700));
    EXPECT_LE(bench.taken(), read) << "counted as taken before it was read, at line " << line;
  }
  ASSERT_TRUE(bench.run_until([&] { return bench.taken() == read; }));
  EXPECT_EQ(link->counts().bytes_taken, static_cast<std::uint64_t>(read));
}

TEST_F(Pty, AReadWakesThePacerSoThatTakenIsToldAtOnce) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  bench.run(milliseconds(100));  // past the frequent looks that follow an opening
  link->write("512\n");
  bench.run(milliseconds(30));
  read_port(game);
  Link* links[] = {link};
  EXPECT_TRUE(bench.pacer.wait(kNever, links).touched);
}

TEST_F(Pty, AGameThatNeverReadsMakesTheHostBufferFullAndNoMore) {
  start({.settings = {.host_buffer_bytes = 4'096}});
  const Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  for (int line = 0; line < 1'000; ++line) link->write("512,300,0,0,1\n");
  bench.run(milliseconds(20));
  EXPECT_EQ(bench.taken(), 0);
  EXPECT_EQ(dropped(DropReason::kQueueFull), 14'000U - 4'096U);
  const std::string all = reads(game, 4'096);
  EXPECT_EQ(all.size(), 4'096U);
  EXPECT_EQ(all.substr(0, 14), "512,300,0,0,1\n");
}

TEST_F(Pty, ASlowReaderLosesNothingThatFitsTheBuffer) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  std::string sent, got;
  for (int line = 0; line < 2'000; ++line) {
    const std::string text = std::to_string(line) + "\n";
    EXPECT_EQ(link->write(text).dropped, 0U);
    sent += text;
    got += read_port(game, 5);
    if (line % 16 == 0) bench.run(microseconds(200));
  }
  bench.run_until([&] { return (got += read_port(game)).size() >= sent.size(); });
  EXPECT_EQ(got, sent);
}

TEST_F(Pty, AFloodStaysInTheKernelUntilTheDeviceHasRoom) {
  start();
  bench.space = 100;
  const Descriptor game = open();
  std::size_t accepted = 0;
  for (int i = 0; i < 1'000; ++i) accepted += write_port(game, std::string(1'000, 'f'));
  EXPECT_LT(accepted, 64'000U) << "the kernel took more than any port would";
  bench.space = 0;
  bench.run(milliseconds(50));
  EXPECT_TRUE(bench.bytes_from_game().empty());
  bench.space = 100;
  ASSERT_TRUE(bench.run_until([&] { return bench.bytes_from_game().size() >= accepted; }));
  for (const Input& input : bench.inputs) {
    if (const auto* bytes = std::get_if<BytesFromGame>(&input.what)) {
      EXPECT_LE(bytes->bytes.size(), 100U);
    }
  }
}

TEST_F(Pty, AGameThatFloodsAndClosesIsGoneAfterTwoSecondsAndTheRestIsCounted) {
  start();
  bench.space = 0;
  std::size_t accepted = 0;
  {
    const Descriptor game = open();
    accepted = write_port(game, std::string(3'000, 'f'));
  }
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(dropped(DropReason::kNeverFetched), accepted);
}

TEST_F(Pty, TenOpeningsASecondForEverLeaveNothingBehind) {
  start();
  for (int times = 1; times <= 100; ++times) {
    Descriptor game = open();
    ASSERT_TRUE(game.valid());
    ASSERT_TRUE(bench.run_until([&] { return link->open(); })) << times;
    write_port(game, "L");
    link->write("512,300,0,0,1\n");
    game.reset();
    ASSERT_TRUE(runs_until_closed(times)) << times;
  }
  EXPECT_EQ(bench.count<LinkOpened>(), 100);
  EXPECT_EQ(bench.bytes_from_game().size(), 100U);
  const LinkCounts& counts = link->counts();
  EXPECT_EQ(counts.bytes_to_game, counts.bytes_taken + dropped(DropReason::kUnreadAtClose));
}

TEST_F(Pty, OpeningsFasterThanThePacerLooksAreNeverLostForGood) {
  start();
  for (int times = 0; times < 2'000; ++times) {
    const Descriptor game = open();
    if (times % 7 == 0) write_port(game, "L");
    if (times % 100 == 0) bench.run(microseconds(100));
  }
  bench.run(milliseconds(50));
  EXPECT_FALSE(link->open());
  const Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  EXPECT_EQ(bench.count<LinkOpened>(), bench.count<LinkClosed>() + 1);
}

TEST_F(Pty, AGameThatOpensAgainWithinOneLookIsSeenAsTwoVisits) {
  start();
  Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  game.reset();
  game = open();
  EXPECT_TRUE(bench.run_until([&] { return bench.order() == "oco"; })) << bench.order();
}

TEST_F(Pty, SeveralDescriptorsOfOneGameAreOneGame) {
  start();
  const Descriptor reading = open();
  {
    const Descriptor writing = open();
    bench.run(milliseconds(30));
    write_port(writing, "1\n");
    bench.run(milliseconds(30));
  }
  bench.run(milliseconds(250));
  EXPECT_TRUE(link->open());
  EXPECT_EQ(bench.order(), "ob");
}

TEST_F(Pty, AGameThatForksIsThereUntilItsLastChildIs) {
  start();
  Descriptor game = open();
  bench.run(milliseconds(10));
  int hold[2];
  ASSERT_EQ(pipe(hold), 0);
  const pid_t child = fork();
  if (child == 0) {
    ::close(hold[1]);
    char byte;
    (void)!::read(hold[0], &byte, 1);
    _exit(0);
  }
  game.reset();
  bench.run(milliseconds(250));
  EXPECT_TRUE(link->open());
  ::close(hold[1]);
  ASSERT_TRUE(runs_until_closed());
  waitpid(child, nullptr, 0);
  ::close(hold[0]);
  EXPECT_EQ(bench.order(), "oc");
}

TEST_F(Pty, AKilledGameClosesAndTheNextOneFindsACleanPort) {
  start();
  auto game = GameProcess::start(
      bench.pacer, {.words = {"sh", "-c", "exec 3<>'{port}'; printf '25' >&3; exec sleep 60"},
                    .port = link->where()});
  ASSERT_TRUE(game.ok());
  ASSERT_TRUE(bench.run_until([&] { return bench.bytes_from_game() == "25"; }));
  link->write("512\n");
  kill(static_cast<pid_t>(game.value()->pid()), SIGKILL);
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(game.value()->stop().signal, "SIGKILL");
  const Descriptor next = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  EXPECT_EQ(read_port(next), "");
}

TEST_F(Pty, WhoHoldsItIsToldByNameAndNumber) {
  start();
  auto game = GameProcess::start(
      bench.pacer, {.words = {"sh", "-c", "exec 3<>'{port}'; printf x >&3; exec sleep 60"},
                    .port = link->where()});
  ASSERT_TRUE(game.ok());
  ASSERT_TRUE(bench.run_until([&] { return !bench.bytes_from_game().empty(); }));
  ASSERT_TRUE(bench.run_until([&] {
    const auto who = link->who();
    return who.size() == 1 && who[0].program == "sleep";
  }));
  EXPECT_EQ(link->who()[0].pid, game.value()->pid());
}

TEST_F(Pty, ThatDtrCannotBeSeenIsSaidOnceAndOnlyWhereItMatters) {
  start({.settings = {.tell_unseen_dtr = true}});
  Link& other = bench.add(open_pty(bench.pacer, {}));
  Descriptor game = open();
  const Descriptor elsewhere = open_port(other.where());
  std::vector<std::string> told;
  ASSERT_TRUE(bench.run_until([&] { return !(told = link->take_notices()).empty(); }));
  EXPECT_NE(told[0].find("only while DTR is raised"), std::string::npos) << told[0];
  EXPECT_NE(told[0].find(link->where()), std::string::npos) << told[0];
  game.reset();
  ASSERT_TRUE(runs_until_closed());
  game = open();
  bench.run(milliseconds(1'300));
  EXPECT_TRUE(link->take_notices().empty());
  EXPECT_TRUE(other.open());
  EXPECT_TRUE(other.take_notices().empty());
}

// Plays in a process that is nobody: root is never locked out, so locks show only so.
class PtyAsNobody : public Pty {
 protected:
  static constexpr unsigned kNobody = 65'534;
  // Opens the port and does `deed` in Python; 0, or the number of the system's error.
  int as_nobody(const std::string& deed) {
    const std::string path = link->where();
    if (geteuid() == 0) {
      EXPECT_EQ(chown(path.c_str(), kNobody, kNobody), 0);
    }
    return play({"/usr/bin/python3", "-c",
                 "import fcntl, os, sys, termios\n"
                 "if os.geteuid() == 0: os.setgid(65534); os.setuid(65534)\n"
                 "try:\n"
                 "    port = os.open(sys.argv[1], os.O_RDWR | os.O_NOCTTY)\n"
                 "    " +
                     deed +
                     "\n"
                     "except OSError as error:\n"
                     "    sys.exit(error.errno)\n",
                 "{port}"})
        .status;
  }
};

const std::string kNothing = "pass";
const std::string kLocksAndForgets = "fcntl.ioctl(port, termios.TIOCEXCL)";

TEST_F(PtyAsNobody, ALockThatAGameForgotIsLiftedWhenItIsGone) {
  start();
  ASSERT_EQ(as_nobody(kLocksAndForgets), 0);
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(as_nobody(kNothing), 0);
  const auto notices = link->take_notices();
  ASSERT_EQ(notices.size(), 1U);
  EXPECT_NE(notices[0].find("exclusive lock"), std::string::npos);
}

TEST_F(PtyAsNobody, AGamesOwnLockHoldsWhileItIsIn) {
  start();
  Descriptor game = open();
  ASSERT_EQ(ioctl(game.get(), TIOCEXCL), 0);
  bench.run(milliseconds(1'200));  // longer than the slow look at who is there, which lifts it
  EXPECT_EQ(as_nobody(kNothing), EBUSY);
  game.reset();
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(as_nobody(kNothing), 0);
}

TEST_F(PtyAsNobody, AnExclusivePortRefusesASecondProgramAndNotTheNext) {
  start({.exclusive = true});
  Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  EXPECT_EQ(as_nobody(kNothing), EBUSY);
  game.reset();
  ASSERT_TRUE(runs_until_closed());
  EXPECT_EQ(as_nobody(kNothing), 0);
}

TEST_F(Pty, AStrangerIsNeitherWrittenToNorListenedToAndComesInOnceTheSeatIsFree) {
  start();
  link->admit(false);
  const Descriptor stranger = open();
  write_port(stranger, "let me in\n");
  ASSERT_TRUE(bench.run_until([&] { return dropped(DropReason::kStranger) == 10; }));
  link->write("512\n");
  EXPECT_EQ(bench.order(), "");
  EXPECT_EQ(read_port(stranger), "");
  EXPECT_EQ(link->counts().strangers, 1U);
  EXPECT_EQ(link->take_notices().size(), 1U);
  link->admit(true);
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  EXPECT_EQ(bench.order(), "o");
}

TEST_F(Pty, TwoHundredPortsShareOneWatchAndAreEachSeen) {
  std::vector<Link*> links;
  for (int i = 0; i < 200; ++i) links.push_back(&bench.add(open_pty(bench.pacer, {})));
  std::vector<Descriptor> games;
  for (Link* one : links) games.push_back(open_port(one->where()));
  // Well within the second in which a port without a watch would be looked at.
  ASSERT_TRUE(bench.run_until([&] { return bench.count<LinkOpened>() == 200; }, milliseconds(500)));
  while (games.size() > 100) games.pop_back();
  ASSERT_TRUE(bench.run_until([&] { return bench.count<LinkClosed>() == 100; }, milliseconds(500)));
  for (int i = 0; i < 200; ++i) EXPECT_EQ(links[static_cast<std::size_t>(i)]->open(), i < 100);
}

TEST_F(Pty, UnpluggingShowsTheGameWhatThePortsOfItsSystemShow) {
  start();
  const Descriptor game = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  link->write("512\n");
  link->unplug();
  ASSERT_TRUE(runs_until_closed());
  char byte;
  EXPECT_EQ(::read(game.get(), &byte, 1), 0);  // end of file, pty(7)
  EXPECT_EQ(::write(game.get(), "x", 1), -1);
  EXPECT_EQ(errno, EIO);
  EXPECT_EQ(link->write("512\n").dropped, 4U);
  EXPECT_EQ(dropped(DropReason::kUnplugged), 8U);
  ASSERT_TRUE(link->plug_in().ok());
  const Descriptor again = open();
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
}

TEST_F(Pty, ANameIsASymlinkThatIsGoneWithTheLinkAndFollowsAReplug) {
  setenv("XDG_RUNTIME_DIR", UNDERSTUDY_BUILD_ROOT "/tests", 1);
  const std::string name = testing::TempDir() + "named_port_" + std::to_string(getpid());
  {
    LinkBench own;
    Link& named = own.add(open_pty(own.pacer, {.name = name}));
    EXPECT_EQ(named.where(), name);
    const Descriptor game = open_port(name);
    ASSERT_TRUE(own.run_until([&] { return named.open(); }));
    named.unplug();
    ASSERT_TRUE(named.plug_in().ok());
    own.run(milliseconds(5));
    const Descriptor again = open_port(name);
    EXPECT_TRUE(own.run_until([&] { return named.open(); }));
  }
  EXPECT_NE(access(name.c_str(), F_OK), 0);
}

}  // namespace
}  // namespace understudy
