// Names of serial ports, ports that come back, and the sentences of refusals.
#include "sim/link/serial_place.h"

#include <gtest/gtest.h>

#include "sim/link/serial_refusals.h"
#include "tests/sim/link/serial_fakes.h"

namespace understudy {
namespace {

std::string refused(std::string_view text, SerialPorts& ports) {
  const auto place = read_serial_place(text);
  if (!place.ok()) return place.error().text;
  const auto path = find_serial_path(place.value(), ports);
  return path.ok() ? "found " + path.value() : path.error().text;
}

TEST(SerialPlace, APathIsTakenAsItIs) {
  FakePorts ports;
  EXPECT_EQ(refused("/dev/serial/by-id/usb-a:b", ports), "found /dev/serial/by-id/usb-a:b");
  EXPECT_EQ(refused("COM5", ports), "found COM5");
}

TEST(SerialPlace, IdsAreHexadecimalInEitherCaseAndTheRestIsTheSerialNumber) {
  FakePorts ports;
  ports.plug("/dev/ttyUSB0", usb_of(0x12ab, 0x0c, "A:1 b"));
  ports.plug("/dev/ttyUSB1", usb_of(0x12ab, 0x0d, "A:1 b"));
  EXPECT_EQ(refused("usb:12AB:c", ports), "found /dev/ttyUSB0");
  EXPECT_EQ(refused("usb:12ab:000d:A:1 b", ports), "found /dev/ttyUSB1");
}

TEST(SerialPlace, WhatIsNoPairOfIdsIsRefusedWithTheFormThatIs) {
  for (const std::string text : {"usb:", "usb:1209", "usb:1209:", "usb:1209:xyz", "usb:12090:1",
                                 "usb:0x12:1", "usb:-1:1", "usb: 1:1"}) {
    const auto place = read_serial_place(text);
    ASSERT_FALSE(place.ok()) << text;
    EXPECT_EQ(place.error().code, ErrorCode::kUnusable);
    EXPECT_EQ(
        place.error().text.substr(0, 60),
        ("cannot read '" + text + "' as a USB device: usb:VID:PID or usb:VID:PID").substr(0, 60));
  }
  EXPECT_FALSE(read_serial_place("").ok());
}

TEST(SerialPlace, NoDeviceThatFitsIsToldWithThePortsThatAreThere) {
  FakePorts ports;
  EXPECT_EQ(refused("usb:1209:0002", ports),
            "no serial port is usb:1209:0002: no serial port is here now");
  ports.plug("/dev/ttyS0");
  EXPECT_EQ(refused("usb:1209:0002", ports),
            "no serial port is usb:1209:0002: the only serial port here is /dev/ttyS0");
  ports.plug("/dev/ttyUSB0", usb_of(0x1209, 1, "TRAM7"));
  ports.plug("/dev/ttyUSB1", usb_of(0x1209, 1, ""));
  EXPECT_EQ(refused("usb:1209:0001:TRAM8", ports),
            "no serial port is usb:1209:0001:TRAM8: the ports here are /dev/ttyS0, /dev/ttyUSB0 "
            "(usb:1209:0001:TRAM7) and /dev/ttyUSB1 (usb:1209:0001)");
}

TEST(SerialPlace, TwoDevicesThatFitAreToldAndNoneIsTaken) {
  FakePorts ports;
  ports.plug("/dev/ttyUSB0", usb_of(0x1209, 1, "TRAM7"));
  ports.plug("/dev/ttyUSB1", usb_of(0x1209, 1, "TRAM8"));
  EXPECT_EQ(refused("usb:1209:0001", ports),
            "2 serial ports are usb:1209:0001: the ports here are /dev/ttyUSB0 "
            "(usb:1209:0001:TRAM7) and /dev/ttyUSB1 (usb:1209:0001:TRAM8); give the serial number "
            "too, or a path");
}

TEST(SerialIdentity, APortWithoutUsbIdsIsKnownByItsPathAlone) {
  FakePorts ports;
  ports.plug("/dev/ttyS0");
  SerialIdentity identity("/dev/ttyS0", ports);
  ports.pull("/dev/ttyS0");
  identity.went(ports);
  EXPECT_EQ(identity.find(ports), "/dev/ttyS0");
  EXPECT_EQ(identity.words(), "/dev/ttyS0");
}

TEST(SerialIdentity, ATwinThatStaysIsNotTakenForTheOneThatWent) {
  FakePorts ports;
  ports.plug("/dev/ttyUSB0", usb_of(0x1209, 1, ""));
  ports.plug("/dev/ttyUSB1", usb_of(0x1209, 1, ""));
  SerialIdentity identity("/dev/ttyUSB0", ports);
  ports.pull("/dev/ttyUSB0");
  identity.went(ports);
  EXPECT_EQ(identity.find(ports), std::nullopt);
  ports.plug("/dev/ttyUSB2", usb_of(0x1209, 1, ""));
  EXPECT_EQ(identity.find(ports), "/dev/ttyUSB2");
}

TEST(SerialIdentity, ASymlinkIsFollowedAndGivenBackWhenItLeadsToThePortAgain) {
  FakePorts ports;
  ports.links["desk"] = "/dev/ttyUSB0";
  ports.plug("/dev/ttyUSB0", usb_of(0x1209, 1, "TRAM7"));
  SerialIdentity identity("desk", ports);
  EXPECT_EQ(identity.words(), "usb:1209:0001:TRAM7");
  ports.pull("/dev/ttyUSB0");
  identity.went(ports);
  EXPECT_EQ(identity.find(ports), std::nullopt);
  ports.links["desk"] = "/dev/ttyUSB4";
  ports.plug("/dev/ttyUSB4", usb_of(0x1209, 1, "TRAM7"));
  EXPECT_EQ(identity.find(ports), "desk");
}

TEST(SerialRefusals, ABusyPortNamesWhoHasIt) {
  EXPECT_EQ(refused_busy("/dev/ttyUSB0", {{.pid = 4711, .program = "tram_game"}}).text,
            "cannot open the serial port /dev/ttyUSB0: tram_game (process 4711) has it open; close "
            "that, or give another port");
  EXPECT_EQ(refused_busy("/dev/ttyUSB0", {}).code, ErrorCode::kBusy);
}

TEST(SerialRefusals, MissingRightsNameTheGroupAndHowToJoinIt) {
  PortRights rights{.owner = "root", .group = "dialout", .user = "mira", .group_may = true};
  EXPECT_EQ(refused_rights("/dev/ttyUSB0", rights).text,
            "cannot open the serial port /dev/ttyUSB0: no right to; it belongs to root and the "
            "group dialout: join that with 'sudo usermod -aG dialout mira', then log out and in "
            "again");
  rights.user_in_group = true;
  EXPECT_EQ(refused_rights("/dev/ttyUSB0", rights).text,
            "cannot open the serial port /dev/ttyUSB0: no right to; it belongs to root and the "
            "group dialout, which mira has joined since this login: log out and in again");
  rights.group_may = false;
  EXPECT_EQ(refused_rights("/dev/ttyUSB0", rights).text,
            "cannot open the serial port /dev/ttyUSB0: no right to; it belongs to root alone: ask "
            "whoever looks after this machine");
}

TEST(SerialRefusals, ASpeedThatCameOutOtherwiseIsRefusedBeyondThreePerCent) {
  const SerialSettings asked{.baud = 115'200};
  EXPECT_FALSE(refused_settings("p", asked, {.baud = 115'200}));
  EXPECT_FALSE(refused_settings("p", asked, {.baud = 117'647}));  // 16 MHz / 8 / 17: 2.1 % fast
  EXPECT_FALSE(refused_settings("p", asked, {.baud = 111'744}));  // 3 % slow, exactly
  const auto error = refused_settings("p", asked, {.baud = 111'111});  // 16 MHz / 16 / 9: 3.5 %
  ASSERT_TRUE(error);
  EXPECT_EQ(error->text,
            "the serial port p cannot do 115200 8N1: asked for it, it took 111111 8N1; set [wire] "
            "baud to a speed that it has, or use another adapter");
  EXPECT_EQ(error->code, ErrorCode::kLinkFailed);
}

TEST(SerialRefusals, AFramingThatWasNotTakenIsRefused) {
  const auto error = refused_settings("p", {.data_bits = 7, .parity = Parity::kEven}, {});
  ASSERT_TRUE(error);
  EXPECT_EQ(error->text,
            "the serial port p cannot do 115200 7E1: asked for it, it took 115200 8N1; set [wire] "
            "frame to one that it has, or use another adapter");
}

}  // namespace
}  // namespace understudy
