// Serial ports of this system, with pseudo-terminals in their place: what is no port, how one is
// set, that it is ours alone, and that its going away is noticed. A pseudo-terminal has no modem
// lines; those are tested with ports of our own making (serial_link_test.cpp).
#include <asm/ioctls.h>
#include <asm/termbits.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/ioctl.h>
#include <sys/stat.h>

#include <filesystem>

#include "sim/link/serial_link.h"
#include "tests/sim/link/link_bench.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

// The far end of the cable: a master whose slave plays the port.
struct Cable {
  Descriptor far{posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC)};
  std::string path;
  Cable() {
    unlockpt(far.get());
    path = ptsname(far.get());
  }
};

class SerialDevices : public testing::Test {
 protected:
  void SetUp() override {
    char name[] = "/tmp/serial_device_test.XXXXXX";
    ASSERT_NE(mkdtemp(name), nullptr);
    folder = name;
  }
  void TearDown() override { fs::remove_all(folder); }

  std::string refusal(const std::string& path, const SerialSettings& settings = {}) {
    auto device = system_serial_ports().open(bench.pacer, path, settings);
    if (device.ok()) return "opened";
    refused_with = device.error().code;
    return device.error().text;
  }

  LinkBench bench;
  std::string folder;
  ErrorCode refused_with = ErrorCode::kUnusable;
};

TEST_F(SerialDevices, WhatIsNoPortSaysWhatItIs) {
  const std::string file = folder + "/notes";
  Descriptor(::open(file.c_str(), O_CREAT | O_RDWR, 0600));
  const std::string pipe = folder + "/pipe";
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  EXPECT_EQ(refusal(folder), "cannot open the serial port " + folder +
                                 ": it is a folder, not a serial port; 'understudy ports' lists "
                                 "those");
  EXPECT_EQ(refused_with, ErrorCode::kLinkFailed);
  EXPECT_NE(refusal(file).find(": it is a file, not a serial port;"), std::string::npos);
  EXPECT_NE(refusal(pipe).find(": it is a pipe, not a serial port;"), std::string::npos);
  EXPECT_NE(refusal("/dev/null").find("a device of another kind"), std::string::npos);
}

TEST_F(SerialDevices, APortThatIsNotThereIsToldWithThoseThatAre) {
  const std::string text = refusal(folder + "/ttyUSB0");
  EXPECT_NE(text.find(": there is no such port; "), std::string::npos) << text;
  EXPECT_NE(text.find(" here "), std::string::npos) << text;
  ASSERT_EQ(symlink("gone", (folder + "/desk").c_str()), 0);
  EXPECT_NE(refusal(folder + "/desk").find(": it leads to gone, and there is no such port; "),
            std::string::npos);
}

TEST_F(SerialDevices, APortIsRawAtAnySpeedWithoutFlowControl) {
  const Cable cable;
  auto device =
      system_serial_ports().open(bench.pacer, cable.path, {.baud = 31'250, .stop_bits = 2});
  ASSERT_TRUE(device.ok());
  termios2 settings{};
  ASSERT_EQ(ioctl(cable.far.get(), TCGETS2, &settings), 0);
  EXPECT_EQ(settings.c_ospeed, 31'250u);
  EXPECT_EQ(settings.c_lflag | settings.c_oflag, 0u);
  EXPECT_EQ(settings.c_iflag & (IXON | IXOFF | ICRNL | INLCR | ISTRIP | PARMRK), 0u);
  EXPECT_NE(settings.c_cflag & CSTOPB, 0u);
  EXPECT_EQ(settings.c_cflag & CRTSCTS, 0u);
}

TEST_F(SerialDevices, AFramingThatThePortCannotHaveIsRefused) {
  const Cable cable;  // the kernel keeps pseudo-terminals at 8 data bits without parity
  EXPECT_EQ(refusal(cable.path, {.data_bits = 7, .parity = Parity::kEven}),
            "the serial port " + cable.path +
                " cannot do 115200 7E1: asked for it, it took 115200 8N1; set [wire] frame to one "
                "that it has, or use another adapter");
  EXPECT_EQ(refusal(cable.path), "opened");
}

TEST_F(SerialDevices, ThePortIsOursAloneUntilItIsClosed) {
  const Cable cable;
  auto device = system_serial_ports().open(bench.pacer, cable.path, {});
  ASSERT_TRUE(device.ok());
  int locked = 0;
  const Descriptor second(::open(cable.path.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK));
  if (second.valid()) {  // root is let in anyway
    EXPECT_EQ(ioctl(second.get(), TIOCGEXCL, &locked), 0);
    EXPECT_EQ(locked, 1);
    EXPECT_NE(flock(second.get(), LOCK_EX | LOCK_NB), 0);
  }
  EXPECT_NE(refusal(cable.path).find("has it open; close that, or give another port"),
            std::string::npos);
  EXPECT_EQ(refused_with, ErrorCode::kBusy);
  device = Error{};
  const Descriptor after(::open(cable.path.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK));
  ASSERT_TRUE(after.valid());
  EXPECT_EQ(ioctl(after.get(), TIOCGEXCL, &locked), 0);
  EXPECT_EQ(locked, 0);
}

TEST_F(SerialDevices, EveryByteValueGoesBothWaysAndAPortThatHangsUpIsGone) {
  auto cable = std::make_unique<Cable>();
  Link& link = bench.add(open_serial(bench.pacer, {.port = cable->path, .settings = {}}));
  bench.run(milliseconds(30));
  std::string all(256, '\0');
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<char>(i);
  EXPECT_EQ(link.write(all).handed, 256u);
  std::string at_game;
  EXPECT_TRUE(bench.run_until([&] { return (at_game += read_port(cable->far)).size() >= 256; }));
  EXPECT_EQ(at_game, all);
  EXPECT_EQ(write_port(cable->far, all), 256u);
  EXPECT_TRUE(bench.run_until([&] { return bench.bytes_from_game().size() >= 256; }));
  EXPECT_EQ(bench.bytes_from_game(), all);
  cable.reset();
  EXPECT_TRUE(bench.run_until([&] { return !link.open(); }));
  EXPECT_EQ(bench.count<LinkClosed>(), 1);
  EXPECT_EQ(link.write("nobody").dropped, 6u);
}

}  // namespace
}  // namespace understudy
