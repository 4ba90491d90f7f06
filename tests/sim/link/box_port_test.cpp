// The port of a real box, with a pseudo-terminal in its place: bytes both ways, the plug pulled and
// put back under another name, and what is said where it cannot be had. Ports with modem lines and
// USB ids are of our own making (serial_fakes.h).
#include "sim/link/box_port.h"

#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include <filesystem>
#include <random>

#include "sim/link/pty_link.h"
#include "tests/sim/link/link_bench.h"
#include "tests/sim/link/serial_fakes.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

// A box played by plain system calls: a master whose slave is its port.
struct PlayedBox {
  Descriptor end{posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC)};
  std::string path;
  PlayedBox() {
    unlockpt(end.get());
    path = ptsname(end.get());
  }
};

class Box : public testing::Test {
 protected:
  void SetUp() override {
    char name[] = "/tmp/box_port_test.XXXXXX";
    ASSERT_NE(mkdtemp(name), nullptr);
    folder = name;
  }
  void TearDown() override { fs::remove_all(folder); }

  std::unique_ptr<BoxPort> open(const std::string& port, const SerialSettings& settings = {},
                                SerialPorts* ports = &system_serial_ports()) {
    auto box = open_box(bench.pacer, {.port = port, .settings = settings, .ports = ports});
    EXPECT_TRUE(box.ok()) << (box.ok() ? "" : box.error().text);
    return box.ok() ? std::move(box).value() : nullptr;
  }
  Error refusal(const std::string& port) {
    auto box = open_box(bench.pacer, {.port = port, .settings = {}});
    return box.ok() ? Error{ErrorCode::kUnusable, "opened"} : box.error();
  }
  // Waits as a session does until `done`, at most `limit`; gives how long that took.
  Duration wait_for(BoxPort& box, const std::function<bool()>& done, Duration limit = seconds(5)) {
    const Instant begin = bench.pacer.clock();
    while (!done() && bench.pacer.clock() - begin < limit) {
      bench.pacer.wait(earlier(box.look_again(), bench.pacer.clock() + milliseconds(20)), {});
      box.read_events(bench.pacer, events);
    }
    EXPECT_TRUE(done());
    return bench.pacer.clock() - begin;
  }
  template <class What>
  [[nodiscard]] std::size_t count() const {
    return static_cast<std::size_t>(std::count_if(events.begin(), events.end(), [](const auto& e) {
      return std::holds_alternative<What>(e.what);
    }));
  }
  [[nodiscard]] std::string said() const {
    std::string all;
    for (const BoxEvent& event : events)
      if (const auto* bytes = std::get_if<BoxBytes>(&event.what)) all += bytes->bytes;
    return all;
  }

  LinkBench bench;
  std::string folder;
  std::vector<BoxEvent> events;
};

TEST_F(Box, EveryByteValueGoesBothWaysWithTimesThatNeverGoBack) {
  const PlayedBox played;
  auto box = open(played.path);
  std::string all(256, '\0');
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<char>(i);
  EXPECT_EQ(box->write(all), 256u);
  std::string heard;
  wait_for(*box, [&] { return (heard += read_port(played.end)).size() >= 256; });
  EXPECT_EQ(heard, all);
  for (int i = 0; i < 40; ++i) {
    EXPECT_EQ(write_port(played.end, all), 256u);
    wait_for(*box, [&] { return said().size() >= 256u * static_cast<std::size_t>(i + 1); });
  }
  for (std::size_t i = 1; i < events.size(); ++i) EXPECT_GT(events[i].at, events[i - 1].at);
  EXPECT_EQ(box->counts().bytes_from_box, 40u * 256u);
  EXPECT_EQ(box->counts().bytes_to_box, 256u);
}

// Reads in all sizes, so that bytes that come between a read and the next wait are not forgotten.
TEST_F(Box, NothingOfALongStreamIsForgottenHoweverItIsCut) {
  const PlayedBox played;
  auto box = open(played.path);
  std::mt19937 random(5);
  std::string sent;
  while (sent.size() < 300'000) {
    std::string some(1 + random() % 5'000, '\0');
    for (char& byte : some) byte = static_cast<char>(random());
    sent += some.substr(0, write_port(played.end, some));
    bench.pacer.wait(bench.pacer.clock(), {});
    box->read_events(bench.pacer, events);
  }
  wait_for(*box, [&] { return said().size() >= sent.size(); });
  EXPECT_EQ(said(), sent);
}

TEST_F(Box, APulledPlugIsNoticedInAQuarterSecondAndTheReturnUnderAnotherNameIsFound) {
  auto played = std::make_unique<PlayedBox>();
  const std::string name = folder + "/desk";
  fs::create_symlink(played->path, name);
  auto box = open(name);
  EXPECT_TRUE(box->there());
  const std::string first = played->path;
  played.reset();
  EXPECT_LE(wait_for(*box, [&] { return count<BoxLost>() == 1; }).ns, milliseconds(250).ns);
  EXPECT_FALSE(box->there());
  const std::vector<std::string> went = box->take_notices();
  ASSERT_EQ(went.size(), 1u);
  EXPECT_EQ(went[0],
            "the box at " + name + " went away; going on, and opening it again when it returns");
  EXPECT_EQ(box->write("into the void"), 0u);
  EXPECT_EQ(box->counts().dropped_gone, 13u);

  bench.run(milliseconds(500));
  const PlayedBox holds_the_old_name;
  const PlayedBox again;
  fs::remove(name);
  fs::create_symlink(again.path, name);
  wait_for(
      *box, [&] { return count<BoxBack>() == 1; }, seconds(2));
  EXPECT_NE(again.path, first);
  EXPECT_EQ(box->take_notices(), std::vector<std::string>{"the box at " + name + " is back"});
  EXPECT_EQ(write_port(again.end, "hello\n"), 6u);
  wait_for(*box, [&] { return said() == "hello\n"; });
  EXPECT_EQ(count<BoxLost>(), 1u);
  EXPECT_EQ(box->counts().lost, 1u);
}

TEST_F(Box, ABoxOnUsbIsKnownByItsIdsAndSerialNumber) {
  FakePorts ports;
  ports.plug("/dev/ttyUSB0", usb_of(0x1209, 1, "TRAM7")).lines = SerialLines{.cts = true};
  auto box = open("usb:1209:0001", {.baud = 57'600}, &ports);
  wait_for(*box, [&] { return count<BoxLines>() == 1; });
  box->raise_dtr(false);
  EXPECT_EQ(ports.at("/dev/ttyUSB0").modem, (ModemLines{.dtr = false, .rts = true}));
  ASSERT_TRUE(box->set({.baud = 9'600}).ok());
  EXPECT_EQ(ports.at("/dev/ttyUSB0").settings.baud, 9'600);
  ports.pull("/dev/ttyUSB0");
  // Nothing rings for this one: it is found by asking.
  EXPECT_LE(wait_for(*box, [&] { return count<BoxLost>() == 1; }).ns, milliseconds(250).ns);
  ports.plug("/dev/ttyUSB0", usb_of(0x1209, 1, "TRAM8"));
  bench.run(milliseconds(450));
  box->read_events(bench.pacer, events);
  EXPECT_EQ(count<BoxBack>(), 0u);
  ports.plug("/dev/ttyUSB3", usb_of(0x1209, 1, "TRAM7"));
  wait_for(*box, [&] { return count<BoxBack>() == 1; });
  EXPECT_EQ(box->where(), "/dev/ttyUSB3");
  EXPECT_EQ(box->words(), "usb:1209:0001:TRAM7");
  const FakePort& back = ports.at("/dev/ttyUSB3");
  EXPECT_EQ(back.settings.baud, 9'600);  // as the game asked last
  EXPECT_EQ(back.modem, (ModemLines{.dtr = false, .rts = true}));
  EXPECT_EQ(box->take_notices(),
            (std::vector<std::string>{
                "the box at /dev/ttyUSB0 went away; going on, and opening it again when "
                "usb:1209:0001:TRAM7 returns",
                "the box at /dev/ttyUSB0 is back as /dev/ttyUSB3"}));
}

TEST_F(Box, ItMayBeCalledByWhatItsDeviceCallsItselfWhereThatIsOne) {
  FakePorts ports;
  ports.plug("/dev/ttyUSB0", usb_of(0x1209, 1, "TRAM7"));
  EXPECT_EQ(open("Tram desk", {}, &ports)->where(), "/dev/ttyUSB0");
  ports.plug("/dev/ttyUSB1", usb_of(0x1209, 1, "TRAM8"));
  auto box = open_box(bench.pacer, {.port = "Tram desk", .settings = {}, .ports = &ports});
  ASSERT_FALSE(box.ok());
  EXPECT_EQ(box.error().text,
            "2 serial ports call themselves 'Tram desk': the ports here are /dev/ttyUSB0 "
            "(usb:1209:0001:TRAM7) and /dev/ttyUSB1 (usb:1209:0001:TRAM8); give one of these names "
            "or a path");
}

TEST_F(Box, ASystemThatTakesNoMoreIsWaitedForAndWhatIsTooMuchIsCounted) {
  FakePorts ports;
  FakePort& port = ports.plug("/dev/ttyS0");
  port.takes = 10;
  auto box = open("/dev/ttyS0", {}, &ports);
  const std::string bytes(5'000, 'x');
  EXPECT_EQ(box->write(bytes), 10u + kBoxQueueBytesMax);
  EXPECT_EQ(box->room(), 0u);
  EXPECT_EQ(box->counts().dropped_full, 5'000u - 10u - kBoxQueueBytesMax);
  port.takes = 1'000'000;
  wait_for(*box, [&] { return port.sent.size() == 10u + kBoxQueueBytesMax; });
  EXPECT_EQ(box->room(), kBoxQueueBytesMax);
}

TEST_F(Box, WhatIsNotThereNoPortOrTakenIsSaid) {
  const Error absent = refusal(folder + "/ttyUSB0");
  EXPECT_EQ(absent.code, ErrorCode::kLinkFailed);
  EXPECT_NE(absent.text.find("there is no such port; "), std::string::npos) << absent.text;
  EXPECT_NE(refusal(folder).text.find("it is a folder, not a serial port"), std::string::npos);
  EXPECT_EQ(refusal("usb:12").code, ErrorCode::kUnusable);
  EXPECT_NE(refusal("usb:1209:fffe:NONE").text.find("no serial port is usb:1209:fffe:NONE"),
            std::string::npos);
  const PlayedBox played;
  auto first = open(played.path);
  const Error busy = refusal(played.path);
  EXPECT_EQ(busy.code, ErrorCode::kBusy);
  EXPECT_NE(busy.text.find("has it open; close that, or give another port"), std::string::npos)
      << busy.text;
}

TEST_F(Box, APortWithoutRightsSaysWhoseItIs) {
  if (geteuid() == 0) {
    // Root may do anything, so another user tries in a process of its own.
    const PlayedBox played;
    ASSERT_EQ(chmod(played.path.c_str(), 0600), 0);
    const pid_t child = fork();
    if (child == 0) {
      const bool other = setgid(65'534) == 0 && setuid(65'534) == 0;
      Pacer pacer;
      auto box = open_box(pacer, {.port = played.path, .settings = {}});
      const bool told = !box.ok() && box.error().text.find("no right to; it belongs to root") !=
                                         std::string::npos;
      _exit(other && told ? 0 : 1);
    }
    int status = 1;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    EXPECT_EQ(status, 0);
    return;
  }
  EXPECT_NE(refusal("/dev/ttyS0").text, "opened");
}

TEST_F(Box, ASessionOfOursThatPlaysTheBoxSeesSpeedAndModemLines) {
  auto link = open_pty(bench.pacer, {.settings = {.baud = 115'200}});
  ASSERT_TRUE(link.ok()) << link.error().text;
  const std::string path = link.value()->where();
  Link& box_side = bench.add(std::move(link));
  auto box = open(path);
  ASSERT_TRUE(bench.run_until([&] { return box_side.open(); }));
  ASSERT_TRUE(box->set({.baud = 57'600}).ok());
  box->raise_dtr(false);
  EXPECT_TRUE(bench.run_until([&] {
    return bench.last<LineSettings>().baud == 57'600 &&
           bench.last<ModemLines>() == ModemLines{.dtr = false, .rts = true};
  }));
  box->raise_dtr(true);
  EXPECT_TRUE(bench.run_until(
      [&] { return bench.last<ModemLines>() == ModemLines{.dtr = true, .rts = true}; }));
}

}  // namespace
}  // namespace understudy
