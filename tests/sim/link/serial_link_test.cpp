// A serial link against ports that a test moves: what the modem lines mean, what happens when the
// port goes away. That DTR and RTS of one end are DSR and CTS of the other is the crossed cable's
// wiring (ITU-T V.24: circuits 108/2 and 107, 105 and 106).
#include "sim/link/serial_link.h"

#include "tests/sim/link/link_bench.h"
#include "tests/sim/link/serial_fakes.h"

namespace understudy {
namespace {

constexpr char kPath[] = "/dev/ttyUSB0";
const SerialLines kUp{.cts = true, .dsr = true};
const SerialLines kDown{};

class Serial : public testing::Test {
 protected:
  FakePorts ports;
  LinkBench bench;

  Link& open(const std::string& name = kPath, int buffer = 64) {
    return bench.add(
        open_serial(bench.pacer, {.port = name,
                                  .settings = {.baud = 57'600, .parity = Parity::kEven},
                                  .host_buffer_bytes = buffer,
                                  .ports = &ports}));
  }
  void settle() { bench.run(milliseconds(50)); }
  static std::string joined(const std::vector<std::string>& notices) {
    std::string all;
    for (const std::string& notice : notices) all += notice + "\n";
    return all;
  }
};

TEST_F(Serial, ThePortIsSetAsThePanelSaysAndOurLinesAreRaised) {
  ports.plug(kPath);
  const Link& link = open();
  EXPECT_EQ(ports.at(kPath).settings.baud, 57'600);
  EXPECT_EQ(ports.at(kPath).settings.parity, Parity::kEven);
  EXPECT_TRUE(ports.at(kPath).raised);
  EXPECT_EQ(std::string(link.name()) + " " + link.where(), "serial /dev/ttyUSB0");
}

TEST_F(Serial, WithoutModemLinesTheGameIsThereFromTheStartAndThatIsSaidOnce) {
  ports.plug(kPath);
  Link& link = open();
  settle();
  EXPECT_EQ(bench.order(), "o");
  EXPECT_TRUE(bench.last<LinkOpened>().dtr);
  EXPECT_TRUE(bench.last<LinkOpened>().takes_at_once);
  EXPECT_EQ(joined(link.take_notices()),
            "/dev/ttyUSB0 has no line that tells when a game opens its end: the game counts as "
            "there from the start, with DTR raised\n");
  settle();
  EXPECT_EQ(joined(link.take_notices()), "");
}

TEST_F(Serial, DsrThatIsDownFromTheStartCountsAsNotWired) {
  ports.plug(kPath).lines = kDown;
  Link& link = open();
  settle();
  EXPECT_TRUE(link.open());
  EXPECT_EQ(joined(link.take_notices()),
            "DSR is down at /dev/ttyUSB0 (not wired, or nobody there yet): the game counts as "
            "there from the start, with DTR raised\n");
}

TEST_F(Serial, DsrThatComesUpLaterBeginsTheGameAnew) {
  ports.plug(kPath).lines = kDown;
  Link& link = open();
  settle();
  link.take_notices();
  ports.at(kPath).lines = kUp;
  settle();
  EXPECT_EQ(bench.order(), "oco");
  EXPECT_EQ(joined(link.take_notices()),
            "DSR came up at /dev/ttyUSB0, so it is wired: from now on it tells when the game opens "
            "and closes\n");
  ports.at(kPath).lines = kDown;
  EXPECT_TRUE(bench.run_until([&] { return !link.open(); }));
  EXPECT_EQ(bench.order(), "ococ");
}

TEST_F(Serial, AGameThatIsThereAlreadyIsSeenWithoutARemark) {
  ports.plug(kPath).lines = kUp;
  Link& link = open();
  settle();
  EXPECT_EQ(bench.order(), "o");
  EXPECT_EQ(joined(link.take_notices()), "");
}

TEST_F(Serial, TheGamesRtsIsSeenAsCtsOnceItWasUp) {
  ports.plug(kPath).lines = SerialLines{.cts = false, .dsr = true};
  open();
  settle();
  EXPECT_EQ(bench.count<ModemLines>(), 0);  // CTS may not be wired
  ports.at(kPath).lines = kUp;
  settle();
  EXPECT_EQ(bench.count<ModemLines>(), 0);  // raised, as it was taken to be
  ports.at(kPath).lines = SerialLines{.cts = false, .dsr = true};
  settle();
  EXPECT_EQ(bench.count<ModemLines>(), 1);
  EXPECT_EQ(bench.last<ModemLines>(), (ModemLines{.dtr = true, .rts = false}));
}

TEST_F(Serial, BytesThatComeJustAfterDsrFellAreTheLeavingGames) {
  ports.plug(kPath).lines = kUp;
  const Link& link = open();
  settle();
  FakePort& port = ports.at(kPath);
  port.lines = kDown;
  const int asked = port.lines_asked;
  ASSERT_TRUE(bench.run_until([&] { return port.lines_asked > asked; }));
  port.arrived = "0,0,0,0\n";
  EXPECT_TRUE(bench.run_until([&] { return !link.open(); }));
  EXPECT_EQ(bench.order(), "obc");
}

TEST_F(Serial, AGameThatKeepsDtrDownIsThereOnceItSends) {
  ports.plug(kPath).lines = kUp;
  const Link& link = open();
  settle();
  ports.at(kPath).lines = SerialLines{.cts = true, .dsr = false};
  ASSERT_TRUE(bench.run_until([&] { return !link.open(); }));
  ports.at(kPath).arrived = "1,0\n";
  settle();
  EXPECT_EQ(bench.order(), "ocob");
  EXPECT_FALSE(bench.last<LinkOpened>().dtr);
  ports.at(kPath).lines = kUp;
  settle();
  EXPECT_EQ(bench.order(), "ocobm");
  EXPECT_TRUE(bench.last<ModemLines>().dtr);
}

TEST_F(Serial, BytesGoBothWaysAndNoMoreComeThanThereIsRoomFor) {
  ports.plug(kPath);
  Link& link = open();
  settle();
  bench.space = 4;
  ports.at(kPath).arrived = "123456";
  bench.run(milliseconds(2));
  EXPECT_EQ(link.write("512,1\n").handed, 6u);
  EXPECT_EQ(ports.at(kPath).sent, "512,1\n");
  settle();
  EXPECT_EQ(bench.bytes_from_game(), "123456");
  EXPECT_GE(bench.count<BytesFromGame>(), 2);
  EXPECT_EQ(link.counts().bytes_to_panel, 6u);
}

TEST_F(Serial, WhatThePortDoesNotTakeWaitsAsFarAsTheHostBufferGoes) {
  FakePort& port = ports.plug(kPath);
  Link& link = open(kPath, 8);
  settle();
  port.takes = 3;
  port.unsent = 3;
  const WriteOutcome outcome = link.write("0123456789");
  EXPECT_EQ(outcome.handed, 3u);
  EXPECT_EQ(outcome.waiting, 5u);
  EXPECT_EQ(outcome.dropped, 2u);
  EXPECT_EQ(link.counts().dropped_by(DropReason::kQueueFull), 2u);
  port.takes = 100;
  port.unsent = 0;
  settle();
  EXPECT_EQ(port.sent, "01234567");
  EXPECT_EQ(link.counts().bytes_taken, 8u);
}

TEST_F(Serial, APulledCableLowersOurLinesAndLosesWhatIsSentBothWays) {
  ports.plug(kPath).lines = kUp;
  Link& link = open();
  settle();
  link.unplug();
  EXPECT_FALSE(ports.at(kPath).raised);
  ports.at(kPath).arrived = "lost";
  EXPECT_EQ(link.write("lost too").dropped, 8u);
  settle();
  EXPECT_EQ(bench.order(), "oc");
  EXPECT_EQ(link.counts().dropped_by(DropReason::kUnplugged), 12u);
  ASSERT_TRUE(link.plug_in().ok());
  settle();
  EXPECT_TRUE(ports.at(kPath).raised);
  EXPECT_EQ(bench.order(), "oco");
}

TEST_F(Serial, APortThatGoesAwayIsSaidOnceAndTakenAgainUnderItsNewName) {
  ports.plug(kPath, usb_of(0x1209, 1, "TRAM7")).lines = kUp;
  Link& link = open();
  settle();
  ports.pull(kPath);
  settle();
  EXPECT_EQ(bench.order(), "oc");
  EXPECT_EQ(joined(link.take_notices()),
            "the port /dev/ttyUSB0 went away; going on, and opening it again when "
            "usb:1209:0001:TRAM7 returns\n");
  EXPECT_EQ(link.write("nobody hears").dropped, 12u);
  ports.plug("/dev/ttyUSB0", usb_of(0x1209, 1, "TRAM8"));  // another one at the old path
  bench.run(milliseconds(700));
  EXPECT_FALSE(ports.at(kPath).is_open);
  ports.plug("/dev/ttyUSB3", usb_of(0x1209, 1, "TRAM7")).lines = kUp;
  ASSERT_TRUE(bench.run_until([&] { return link.open(); }));
  EXPECT_EQ(bench.order(), "oco");
  EXPECT_EQ(link.where(), "/dev/ttyUSB3");
  EXPECT_EQ(joined(link.take_notices()), "the port /dev/ttyUSB0 is back as /dev/ttyUSB3\n");
  EXPECT_TRUE(ports.at("/dev/ttyUSB3").raised);
}

TEST_F(Serial, APortThatIsBackAndRefusesIsToldOnce) {
  ports.plug(kPath, usb_of(0x1209, 1, "TRAM7"));
  Link& link = open();
  settle();
  ports.pull(kPath);
  settle();
  link.take_notices();
  ports.plug(kPath, usb_of(0x1209, 1, "TRAM7")).refusal = {ErrorCode::kBusy, "cat has it open"};
  std::string told;
  EXPECT_TRUE(bench.run_until([&] { return !(told += joined(link.take_notices())).empty(); }));
  bench.run(milliseconds(1'200));
  told += joined(link.take_notices());
  EXPECT_EQ(told, "the port is back, and cat has it open\n");
  ports.at(kPath).refusal.reset();
  EXPECT_TRUE(bench.run_until([&] { return link.open(); }));
}

TEST_F(Serial, WhileAnotherLinkHasTheSeatWhoeverSendsIsAStranger) {
  ports.plug(kPath).lines = kUp;
  Link& link = open();
  link.admit(false);
  ports.at(kPath).arrived = "1,1\n";
  settle();
  EXPECT_EQ(bench.order(), "");
  EXPECT_EQ(link.counts().dropped_by(DropReason::kStranger), 4u);
  EXPECT_EQ(joined(link.take_notices()),
            "turned away at /dev/ttyUSB0: whoever is at its other end; another game has this "
            "seat\n");
  link.admit(true);
  settle();
  EXPECT_EQ(bench.order(), "o");
}

}  // namespace
}  // namespace understudy
