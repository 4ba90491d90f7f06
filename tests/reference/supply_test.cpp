// Currents and brown-out against data sheets and examples worked out by hand.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "sim/board/load.h"
#include "sim/board/pwm.h"
#include "sim/board/supply.h"
#include "sim/panel/check_report.h"
#include "sim/panel/presets.h"
#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

std::shared_ptr<const Panel> panel_of(const std::string& text) {
  auto panel = parse_panel(text, "x.panel.toml");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  return panel.ok() ? panel.value() : std::make_shared<const Panel>();
}

std::string outputs(int count, const std::string& kind, const std::string& keys) {
  std::string text;
  for (int i = 0; i < count; ++i)
    text += "[[output]]\nname = \"o" + std::to_string(i) + "\"\nkind = \"" + kind + "\"\n" + keys;
  return text;
}

// Told as "warning about: text; remedy".
std::string said_of(const CheckReport& report, const std::string& about) {
  static constexpr const char* kNames[] = {"note", "hint", "warning", "wrong"};
  for (const Remark& remark : report.remarks)
    if (remark.about == about)
      return std::string(kNames[static_cast<int>(remark.severity)]) + ": " + remark.text + "; " +
             remark.remedy;
  return "";
}

// ATmega328P 8271H p. 301: 4.2 V out of a pin that gives 20 mA at 5 V, so 40 ohm at the worst; a
// red LED behind 220 ohm then has 3 V / 260 ohm, not 3 V / 220 ohm.
TEST(LedCurrent, ThePinsOwnResistanceTakesItsShare) {
  EXPECT_EQ((5'000'000 - 4'200'000) * 1'000 / 20'000, kPinGivesMohm);
  EXPECT_EQ(900'000 * 1'000 / 20'000, kPinTakesMohm);
  const auto panel = panel_of("panel = \"X\"\n" + outputs(1, "lamp", ""));
  const PanelDescription& description = panel->description;
  EXPECT_EQ(full_ua(description.outputs[0], 0, description.board), 3'000'000'000 / 260'000);
  std::vector<Remark> remarks;
  EXPECT_EQ(check_currents(description, remarks).lamps[0].current_ua, 3'000'000'000 / 220'000);
}

// BODLEVEL of the ATmega328P family: 1.8, 2.7 and 4.3 V typical (DS40001906C, table 33-7, p. 410,
// the sibling with the same three levels). That boards of this class have 2.7 V is common practice.
TEST(BrownOut, ThePresetHasTheMiddleOneOfTheThreeLevelsOfItsChip) {
  PanelDescription panel;
  ASSERT_TRUE(apply_preset("bootloader-8bit", panel));
  EXPECT_EQ(panel.board.brown_out_uv, 2'700'000);
  // 5 to 20 ms: common practice.
  EXPECT_GE(panel.board.brown_out_after, milliseconds(5));
  EXPECT_LE(panel.board.brown_out_after, milliseconds(20));
}

// Copper of 28 AWG has 212.9 ohm a kilometre (table of the gauge, from memory), a contact of a USB
// plug at most 30 milliohm (USB 2.0, from memory), of which a current passes four. 1.8 m there and
// back: 2 * 1.8 * 0.2129 + 4 * 0.03 = 0.886 ohm. The preset says 1 ohm, a fuse and a switch more.
TEST(BrownOut, ThePresetsCableIsAboutOneOfThinWireOfUsualLength) {
  PanelDescription panel;
  ASSERT_TRUE(apply_preset("bootloader-8bit", panel));
  EXPECT_GE(panel.board.supply_resistance_mohm, 886);
  EXPECT_LE(panel.board.supply_resistance_mohm, 2 * 886);
}

constexpr const char* kLongCable =
    "panel = \"X\"\n[board]\nsupply_resistance = \"3 ohm\"\nbrown_out = \"4.3 V\"\n"
    "chip_limit = \"1 A\"\n";

// By hand: 5 V, 3 ohm, 4.3 V: the chip holds up to 0.7 V / 3 ohm = 233.3 mA. 45 mA are the board's;
// a red LED behind 220 ohm draws 3 V / 220 ohm = 13.636 mA at most: 188.3 / 13.636 = 13.8, so 13
// may be lit, which makes 222.3 mA and leaves 4.333 V, and 14 make 235.9 mA and 4.292 V.
TEST(BrownOut, ThirteenLampsAreTheMostOnALongThinCable) {
  const auto thirteen = panel_of(kLongCable + outputs(13, "lamp", "takes = [0, 1]\n"));
  EXPECT_EQ(said_of(check(*thirteen), "the supply"), "");
  const auto fourteen = panel_of(kLongCable + outputs(14, "lamp", "takes = [0, 1]\n"));
  const CheckReport report = check(*fourteen);
  EXPECT_EQ(said_of(report, "the supply"),
            "warning: with all lamps lit it carries 235.9 mA, which leaves the chip less than 4.3 "
            "V: the board restarts; light at most 13 lamps at once, or a supply of its own for the "
            "lamps and all else that draws much; what is overloaded grows hot: let somebody "
            "qualified look at it");
  EXPECT_TRUE(report.currents.gives_way);
  EXPECT_EQ(report.currents.lamps_at_once, 13);
  EXPECT_NEAR(static_cast<double>(report.currents.chip_uv), 4'292'273, 20);
}

// The same by the board's own eyes, with 40 ohm in each pin: 3 V / 260 ohm = 11.538 mA a lamp:
// 16 make 229.6 mA and 4.311 V, 17 make 241.1 mA and 4.277 V.
TEST(BrownOut, TheBoardRestartsWhenTheSeventeenthLampLights) {
  const auto panel = panel_of(kLongCable + outputs(17, "lamp", "takes = [0, 1]\n"));
  const BoardDescription& board = panel->description.board;
  Load load;
  Supply supply(board, board.base_current_ua);
  const std::vector<std::int64_t> lit = {1};
  Instant t{1'000'000'000};
  for (std::size_t lamp = 0; lamp < 17; ++lamp) {
    EXPECT_EQ(supply.next_due(), kNever) << lamp;
    load.set(lamp, output_ua(panel->description.outputs[lamp], lit, false, board));
    supply.set_load(t, board.base_current_ua + load.outputs_ua(), board);
    if (lamp == 15) {
      EXPECT_NEAR(static_cast<double>(supply.voltage_uv()), 4'311'176, 10);
    }
    t = t + milliseconds(1);
  }
  EXPECT_EQ(supply.next_due(), Instant{1'000'000'000} + milliseconds(16) + milliseconds(10));
  // Dark again it holds.
  load.clear();
  supply.restart(supply.next_due(), board.base_current_ua + load.outputs_ua(), board);
  EXPECT_EQ(supply.next_due(), kNever);
  EXPECT_EQ(supply.voltage_uv(), 5'000'000 - 45 * 3'000);
}

// By hand: a port of 500 mA (USB 2.0, 7.2.1) less 45 mA of the board is 455 mA; LEDs of 20 mA: 22.
TEST(BrownOut, TwentyTwoLampsOfTwentyMilliamperesAreTheMostOnAPort) {
  const std::string keys = "resistor = \"150 ohm\"\ntakes = [0, 1]\n";
  const auto report = check(*panel_of("panel = \"X\"\n" + outputs(23, "lamp", keys)));
  EXPECT_EQ(report.currents.supply_ua, 505'000);
  EXPECT_EQ(report.currents.lamps_at_once, 22);
  EXPECT_TRUE(said_of(report, "the supply")
                  .starts_with("warning: with all lamps lit it carries 505.0 mA, above 500.0 mA: "
                               "the board restarts; light at most 22 lamps at once"));
  EXPECT_EQ(check(*panel_of("panel = \"X\"\n" + outputs(22, "lamp", keys))).currents.gives_way,
            false);
}

// Three servos of 150 mA leave 500 - 45 - 450 = 5 mA: not one lamp.
TEST(BrownOut, ServosThatMoveLeaveNothingForLamps) {
  const auto report = check(*panel_of("panel = \"X\"\n" + outputs(3, "gauge", "") +
                                      "[[output]]\nname = \"l\"\nkind = \"lamp\"\n"));
  EXPECT_EQ(report.currents.supply_ua, 45'000 + 450'000 + 13'636);
  EXPECT_EQ(report.currents.chip_ua, 13'636);  // servos draw past the chip
  EXPECT_EQ(report.currents.lamps_at_once, 0);
  EXPECT_EQ(said_of(report, "the supply"),
            "warning: with everything at work it carries 508.6 mA, above 500.0 mA: the board "
            "restarts; a supply of its own for the lamps and all else that draws much; what is "
            "overloaded grows hot: let somebody qualified look at it");
}

TEST(BrownOut, WithoutDetectionTheSupplyIsStillTooSmall) {
  const std::string none = "panel = \"X\"\n[board]\nbrown_out = \"0 V\"\n";
  const auto report = check(*panel_of(none + outputs(4, "gauge", "")));
  EXPECT_FALSE(report.currents.gives_way);
  EXPECT_TRUE(said_of(report, "the supply")
                  .starts_with("warning: with everything at work it carries 645.0 mA, above 500.0 "
                               "mA; a supply of its own"));
}

// 8271H p. 300: 200 mA for the whole chip; (5 - 2) V / 150 ohm = 20 mA a lamp.
TEST(Limits, ElevenLampsOfTwentyMilliamperesAreTooManyForTheChip) {
  const std::string keys = "resistor = \"150 ohm\"\ntakes = [0, 1]\n";
  const auto ten = check(*panel_of("panel = \"X\"\n" + outputs(10, "lamp", keys)));
  EXPECT_EQ(said_of(ten, "the chip"), "");
  const auto eleven = check(*panel_of("panel = \"X\"\n" + outputs(11, "lamp", keys)));
  EXPECT_EQ(eleven.currents.chip_ua, 220'000);
  EXPECT_TRUE(said_of(eleven, "the chip")
                  .starts_with("warning: with all lamps lit it carries 220.0 mA, above 200.0 mA"));
  EXPECT_FALSE(eleven.wrong());
}

// 8271H p. 301, note 4: the pins B0 to B5 and D5 to D7 (D5 to D13 here) sink 100 mA together, D0 to
// D4 have a limit of their own.
TEST(Limits, FiveLampsAreTheMostThatOneSinkingGroupTakes) {
  const std::string keys = "resistor = \"150 ohm\"\nwired = \"to supply\"\ntakes = [0, 1]\npin = ";
  std::string lamps = "panel = \"X\"\n";
  const auto add = [&](int pin) {
    lamps += "[[output]]\nname = \"p" + std::to_string(pin) + "\"\nkind = \"lamp\"\n" + keys +
             std::to_string(pin) + "\n";
  };
  for (const int pin : {8, 9, 10, 11, 12}) add(pin);
  EXPECT_EQ(said_of(check(*panel_of(lamps)), "pins D5 to D13"), "");
  add(7);
  EXPECT_TRUE(said_of(check(*panel_of(lamps)), "pins D5 to D13")
                  .starts_with("warning: with all lamps lit they carry 120.0 mA, above 100.0 mA"));
}

// 8271H p. 300: 200 mA for the whole chip. Each LED of an rgb counts: red (5 - 2) / 150 = 20 mA,
// green and blue (5 - 3.2) / 90 ohm = 20 mA, so three are 180 mA and four 240 mA.
TEST(Limits, FourRgbLampsOfTwentyMilliamperesAreTooManyForTheChip) {
  const std::string keys = "resistors = [\"150 ohm\", \"90 ohm\", \"90 ohm\"]\ntakes = [0, 1]\n";
  const auto three = check(*panel_of("panel = \"X\"\n" + outputs(3, "rgb", keys)));
  EXPECT_EQ(three.currents.chip_ua, 180'000);
  EXPECT_EQ(said_of(three, "the chip"), "");
  const auto four = check(*panel_of("panel = \"X\"\n" + outputs(4, "rgb", keys)));
  EXPECT_EQ(four.currents.chip_ua, 240'000);
  EXPECT_TRUE(
      said_of(four, "the chip").starts_with("warning: with all lamps lit it carries 240.0"));
  ASSERT_EQ(four.currents.lamps.size(), 12U);
  EXPECT_EQ(four.currents.lamps[1].name, "o0.g");
  // (5 - 3.2) / 20 mA = 90 ohm: 91 of E24, 100 of E12 (IEC 60063).
  EXPECT_EQ(four.currents.lamps[1].advised_e24_mohm, 91'000);
  EXPECT_EQ(four.currents.lamps[1].advised_e12_mohm, 100'000);
}

// 8271H p. 300 and 301: a pin 20 mA in use, 40 mA at the very most.
TEST(Limits, ABuzzerAboveWhatAPinCarriesNeedsATransistor) {
  const auto said = [](const std::string& keys) {
    return said_of(check(*panel_of("panel = \"X\"\n" + outputs(1, "buzzer", keys))), "o0");
  };
  const std::string remedy =
      "; let a transistor drive it, with a diode across it if it has a coil, and say driven = \"by "
      "a transistor\"";
  EXPECT_EQ(said("current = \"20 mA\"\n"), "");
  EXPECT_EQ(said("current = \"30 mA\"\n"),
            "warning: 30.0 mA is above the 20.0 mA that a pin should carry" + remedy);
  EXPECT_EQ(said("current = \"41 mA\"\n"),
            "wrong: 41.0 mA is above the 40.0 mA that a pin may ever carry" + remedy);
  EXPECT_EQ(said("current = \"80 mA\"\ndriven = \"by a transistor\"\n"), "");
}

TEST(Limits, WhatATransistorDrivesIsTheSupplysNotTheChips) {
  const auto chip_and_supply = [](const std::string& keys) {
    const Currents currents =
        check(*panel_of("panel = \"X\"\n" + outputs(1, "buzzer", keys))).currents;
    return std::pair(currents.chip_ua, currents.supply_ua);
  };
  EXPECT_EQ(chip_and_supply(""), std::pair(30'000L, 75'000L));
  EXPECT_EQ(chip_and_supply("driven = \"by a transistor\"\n"), std::pair(0L, 75'000L));
}

// Four lamps of 220 ohm and the board draw about 100 mA of 500: nothing is said of the supply.
TEST(BrownOut, AnOrdinaryPanelIsFarFromIt) {
  for (const char* board : {"bootloader-8bit", "bridge-16ms", "native-usb-32bit"}) {
    const auto report = check(*panel_of("panel = \"X\"\nboard = \"" + std::string(board) + "\"\n" +
                                        outputs(4, "lamp", "")));
    EXPECT_FALSE(report.currents.gives_way) << board;
    EXPECT_EQ(said_of(report, "the supply"), "") << board;
  }
}

}  // namespace
}  // namespace understudy
