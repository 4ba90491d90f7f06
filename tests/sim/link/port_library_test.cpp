// The port and names libraries, loaded into programs that use three makers' serial libraries:
// pyserial, libserialport, and the serial port class of the .NET family under Mono.
#include <asm/termbits.h>
#include <sys/ioctl.h>

#include <filesystem>

#include "sim/link/game_process.h"
#include "sim/link/port_environment.h"
#include "sim/link/pty_link.h"
#include "tests/sim/link/link_bench.h"

namespace understudy {
namespace {

// The system's own, which has Debian's pyserial; another may come first on the path.
constexpr const char* kPython = "/usr/bin/python3";

class PortLibrary : public testing::Test {
 protected:
  void SetUp() override {
    setenv("XDG_RUNTIME_DIR", UNDERSTUDY_BUILD_ROOT "/tests", 1);
    link = &bench.add(open_pty(bench.pacer, {}));
  }

  // Runs a program with the libraries loaded, answers its "ready" with a line, waits for its end.
  GameEnd play(const std::vector<std::string>& words) {
    const Link* links[] = {link};
    auto environment = port_environment(links, UNDERSTUDY_BUILD_ROOT);
    EXPECT_TRUE(environment.ok()) << (environment.ok() ? "" : environment.error().text);
    auto game = GameProcess::start(
        bench.pacer, {.words = words, .port = link->where(), .environment = environment.value()});
    EXPECT_TRUE(game.ok()) << (game.ok() ? "" : game.error().text);
    bool answered = false;
    EXPECT_TRUE(bench.run_until(
        [&] {
          if (!answered && bench.bytes_from_game().find("ready\n") != std::string::npos) {
            link->write("512,300\n");
            answered = true;
          }
          for (const GameLine& line : game.value()->take_lines()) said += line.text + "\n";
          return game.value()->end().has_value();
        },
        seconds(30)));
    for (const GameLine& line : game.value()->take_lines()) said += line.text + "\n";
    bench.run(milliseconds(20));
    return game.value()->stop();
  }
  // "DR" for both raised, "-R" for DTR low, in the order seen.
  std::vector<std::string> modem_lines() const {
    std::vector<std::string> all;
    for (const Input& input : bench.inputs) {
      if (const auto* lines = std::get_if<ModemLines>(&input.what)) {
        all.push_back(std::string(lines->dtr ? "D" : "-") + (lines->rts ? "R" : "-"));
      }
    }
    return all;
  }

  LinkBench bench;
  Link* link = nullptr;
  std::string said;
};

TEST_F(PortLibrary, UnderPyserialEachChangeOfALineIsSeen) {
  const GameEnd end = play({kPython, "-c", R"(
import serial, sys, time
port = serial.Serial(sys.argv[1], 115200, timeout=5)
def settle(): time.sleep(0.05)
settle()
port.dtr = False; settle()
port.dtr = True; settle()
port.rts = False; settle()
print(port.cts, port.dsr, port.ri, port.cd)
port.write(b"ready\n")
print(port.readline())
)",
                            "{port}"});
  EXPECT_TRUE(end.fine()) << written(end) << "\n" << said;
  EXPECT_EQ(said, "False False False False\nb'512,300\\n'\n");
  EXPECT_EQ(modem_lines(), (std::vector<std::string>{"-R", "DR", "D-"}));
}

TEST_F(PortLibrary, WithoutItPyserialCannotSetALine) {
  auto game = GameProcess::start(bench.pacer, {.words = {kPython, "-c", R"(
import serial, sys
port = serial.Serial(sys.argv[1])
try:
    port.dtr = False
except OSError as error:
    sys.exit(error.errno)
)",
                                                         "{port}"},
                                               .port = link->where()});
  ASSERT_TRUE(game.ok());
  ASSERT_TRUE(bench.run_until([&] { return game.value()->end().has_value(); }, seconds(20)));
  EXPECT_EQ(game.value()->end()->status, ENOTTY);
}

TEST_F(PortLibrary, TheOrderOfBaudAndLinesIsKept) {
  const GameEnd end = play({kPython, "-c", R"(
import serial, sys, time
port = serial.Serial(sys.argv[1], 115200)
port.baudrate = 9600
port.dtr = False
time.sleep(0.05)
port.dtr = True
port.baudrate = 57600
time.sleep(0.05)
)",
                            "{port}"});
  EXPECT_TRUE(end.fine()) << said;
  std::string order = bench.order();
  std::erase_if(order, [](char letter) { return letter != 'l' && letter != 'm'; });
  // Of one look, settings come before lines; where a look falls between the last two, they come as
  // they were made.
  EXPECT_TRUE(order == "lmlm" || order == "lmml") << order;
  EXPECT_EQ(bench.last<LineSettings>().baud, 57'600);
}

TEST_F(PortLibrary, UnderMonoAPortOpensReadsAndWrites) {
  const std::string program = testing::TempDir() + "port_in_mono.exe";
  ASSERT_TRUE(play({"mcs", "-out:" + program,
                    UNDERSTUDY_SOURCE_ROOT "/tests/sim/link/port_in_mono.cs", "-r:System.dll"})
                  .fine())
      << said;
  said.clear();
  const GameEnd end = play({"mono", program, "{port}"});
  EXPECT_TRUE(end.fine()) << written(end) << "\n" << said;
  EXPECT_EQ(said, "read 512,300\n");
  ASSERT_FALSE(modem_lines().empty());
  EXPECT_EQ(modem_lines().back().front(), '-') << "the program lowered DTR before it closed";
  EXPECT_EQ(bench.last<LineSettings>().baud, 57'600);
}

TEST_F(PortLibrary, UnderLibserialportAPortIsListedFoundByNameAndOpened) {
  const GameEnd end = play({UNDERSTUDY_BUILD_ROOT "/tests/sim/link/port_client", "{port}"});
  EXPECT_TRUE(end.fine()) << written(end) << "\n" << said;
  EXPECT_EQ(said, "read 512,300\n");
  EXPECT_EQ(bench.last<LineSettings>().baud, 57'600);
}

TEST_F(PortLibrary, SettingsReadBeforeDtrWasRaisedDoNotLowerItWhenTheyAreWrittenBack) {
  for (const char* call : {"tcsetattr", "TCSETS", "TCSETS2"}) {
    bench.inputs.clear();
    said.clear();
    const GameEnd end =
        play({UNDERSTUDY_BUILD_ROOT "/tests/sim/link/settings_client", "{port}", call});
    EXPECT_TRUE(end.fine()) << call << " " << written(end);
    EXPECT_EQ(said, "dtr raised\n") << call;
    EXPECT_EQ(modem_lines(), (std::vector<std::string>{"-R", "DR"})) << call;
    EXPECT_EQ(bench.last<LineSettings>().baud, 57'600) << call << ": all else is written";
  }
}

TEST_F(PortLibrary, APseudoTerminalThatIsNotOursTakesAllControlCharacters) {
  const GameEnd end = play({kPython, "-c", R"(
import os, termios
master, slave = os.openpty()
settings = termios.tcgetattr(slave)
settings[6][17] = b"\x51"
termios.tcsetattr(slave, termios.TCSANOW, settings)
print(termios.tcgetattr(slave)[6][17])
)"});
  EXPECT_TRUE(end.fine()) << said;
  EXPECT_EQ(said, "b'Q'\n");
}

TEST_F(PortLibrary, APseudoTerminalThatIsNotOursStaysAsItIs) {
  const GameEnd end = play({kPython, "-c", R"(
import fcntl, os, termios
master, slave = os.openpty()
try:
    fcntl.ioctl(slave, termios.TIOCMGET, b"    ")
except OSError as error:
    print(error.errno)
)"});
  EXPECT_TRUE(end.fine()) << said;
  EXPECT_EQ(said, std::to_string(ENOTTY) + "\n");
}

TEST_F(PortLibrary, SettingsBuiltFromNothingDoNotCostTheMark) {
  const Descriptor game = open_port(link->where());
  ASSERT_TRUE(bench.run_until([&] { return link->open(); }));
  termios2 settings{};
  settings.c_cflag = CS8 | CREAD | CLOCAL | B9600;
  ASSERT_EQ(ioctl(game.get(), TCSETS2, &settings), 0);
  ASSERT_TRUE(bench.run_until([&] { return bench.count<LineSettings>() > 0; }));
  const GameEnd end = play({kPython, "-c",
                            "import fcntl, os, sys, termios\n"
                            "port = os.open(sys.argv[1], os.O_RDWR | os.O_NOCTTY)\n"
                            "fcntl.ioctl(port, termios.TIOCMGET, b'    ')\n",
                            "{port}"});
  EXPECT_TRUE(end.fine()) << said;
}

TEST_F(PortLibrary, WhatTheUserPreloadsStaysBehindOurs) {
  setenv("LD_PRELOAD", "/some/library.so", 1);
  const Link* links[] = {link};
  const auto environment = port_environment(links, UNDERSTUDY_BUILD_ROOT);
  unsetenv("LD_PRELOAD");
  ASSERT_TRUE(environment.ok());
  EXPECT_EQ(environment.value()[0],
            (EnvironmentEntry{"LD_PRELOAD",
                              UNDERSTUDY_BUILD_ROOT "/libunderstudy-port.so:" UNDERSTUDY_BUILD_ROOT
                                                    "/libunderstudy-names.so:/some/library.so"}));
  EXPECT_EQ(environment.value()[1], (EnvironmentEntry{"UNDERSTUDY_PORT", link->where()}));
}

TEST_F(PortLibrary, ThatIsNotThereIsAnErrorThatSaysSo) {
  const Link* links[] = {link};
  const auto environment = port_environment(links, "/nowhere");
  ASSERT_FALSE(environment.ok());
  EXPECT_NE(environment.error().text.find("/nowhere/libunderstudy-port.so"), std::string::npos);
}

TEST_F(PortLibrary, IsReachedThroughASymlinkWhereItsPathHasASpace) {
  const std::string folder = testing::TempDir() + "with space " + std::to_string(getpid());
  std::filesystem::create_directory(folder);
  for (const char* name : {"libunderstudy-port.so", "libunderstudy-names.so"}) {
    std::filesystem::copy_file(std::string(UNDERSTUDY_BUILD_ROOT "/") + name, folder + "/" + name);
  }
  const Link* links[] = {link};
  const auto environment = port_environment(links, folder);
  std::filesystem::remove_all(folder);
  ASSERT_TRUE(environment.ok());
  EXPECT_EQ(environment.value()[0].value.find(' '), std::string::npos);
}

TEST(PrintedEnvironment, IsQuotedForAShell) {
  EXPECT_EQ(written(std::vector<EnvironmentEntry>{{"A", "x y"}, {"B", "it's"}}),
            "A='x y' B='it'\\''s'");
}

}  // namespace
}  // namespace understudy
