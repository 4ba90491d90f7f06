// What else wakes the pacer: lines on descriptors, and signals.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <unistd.h>

#include <fstream>

#include "sim/link/descriptor.h"
#include "sim/link/lines_in.h"
#include "sim/link/signals.h"

namespace understudy {
namespace {

class Lines : public testing::Test {
 protected:
  Lines() {
    int ends[2];
    EXPECT_EQ(pipe(ends), 0);
    reading = Descriptor(ends[0]);
    writing = Descriptor(ends[1]);
  }
  void put(const std::string& text) {
    ASSERT_EQ(::write(writing.get(), text.data(), text.size()), static_cast<ssize_t>(text.size()));
  }
  std::vector<std::string> take(LinesIn& lines) {
    pacer.wait(pacer.clock() + milliseconds(20), {});
    return lines.take();
  }
  Pacer pacer;
  Descriptor reading, writing;
};

TEST_F(Lines, APartOfALineWaitsForTheRest) {
  LinesIn lines(pacer, reading.get());
  put("bell do");
  EXPECT_TRUE(take(lines).empty());
  put("wn\r\npower to 40%\n");
  EXPECT_EQ(take(lines), (std::vector<std::string>{"bell down", "power to 40%"}));
}

TEST_F(Lines, TheLastLineNeedsNoEnd) {
  LinesIn lines(pacer, reading.get());
  put("bell down");
  writing.reset();
  EXPECT_EQ(take(lines), std::vector<std::string>{"bell down"});
  EXPECT_TRUE(lines.ended());
}

TEST_F(Lines, ALineWithoutEndIsCutAtTheLimit) {
  LinesIn lines(pacer, reading.get());
  put(std::string(2 * kLineInBytesMax + 1, 'x'));
  const auto taken = take(lines);
  ASSERT_EQ(taken.size(), 2U);
  EXPECT_EQ(taken[0].size(), kLineInBytesMax);
}

TEST_F(Lines, APlainFileIsReadAtOnceAndEnds) {
  const std::string path = testing::TempDir() + "lines_" + std::to_string(getpid());
  std::ofstream(path) << "bell down\nbell up\n";
  const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  LinesIn lines(pacer, file.get());
  EXPECT_EQ(take(lines).size(), 2U);
  take(lines);
  EXPECT_TRUE(lines.ended());
  ::unlink(path.c_str());
}

TEST_F(Lines, AnEndedStreamDoesNotKeepThePacerAwake) {
  LinesIn lines(pacer, reading.get());
  writing.reset();
  take(lines);
  EXPECT_FALSE(pacer.wait(pacer.clock() + milliseconds(5), {}).touched);
}

TEST(SignalsHeldBack, ComeOutAsEventsAndWakeThePacer) {
  Pacer pacer;
  Signals signals(pacer);
  kill(getpid(), SIGTERM);
  EXPECT_TRUE(pacer.wait(kNever, {}).touched);
  EXPECT_EQ(signals.take(), SIGTERM);
  EXPECT_EQ(signals.take(), std::nullopt);
  for (const int number : {SIGINT, SIGHUP}) {
    kill(getpid(), number);
    EXPECT_TRUE(pacer.wait(kNever, {}).touched);
    EXPECT_EQ(signals.take(), number);
    EXPECT_EQ(signals.take(), std::nullopt);
  }
}

TEST(SignalsHeldBack, LeaveAloneWhatTheProgramWasToldToIgnore) {
  signal(SIGHUP, SIG_IGN);
  {
    Pacer pacer;
    Signals signals(pacer);
    kill(getpid(), SIGHUP);
    EXPECT_FALSE(pacer.wait(pacer.clock() + milliseconds(20), {}).touched);
    EXPECT_EQ(signals.take(), std::nullopt);
  }
  signal(SIGHUP, SIG_DFL);
}

}  // namespace
}  // namespace understudy
