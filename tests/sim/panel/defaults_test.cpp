// What a panel file may leave out, and what stands there then.
#include <gtest/gtest.h>

#include "sim/panel/pins.h"
#include "sim/panel/presets.h"
#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

TEST(PanelDefaults, ANameAndOneControlAreAWholePanel) {
  const PanelDescription panel =
      described("panel = \"X\"\n[[control]]\nname = \"a\"\nkind = \"pot\"\n");
  EXPECT_EQ(panel.board.preset, "bootloader-8bit");
  EXPECT_EQ(panel.manners.loop, milliseconds(20));
  EXPECT_EQ(panel.wire.baud, 115'200);
  EXPECT_EQ(panel.host.flush, milliseconds(4));
  EXPECT_EQ(panel.host.dtr, DtrMeans::kRestarts);
  ASSERT_EQ(panel.lines_to_game.size(), 1U);
  EXPECT_EQ(panel.lines_to_game[0].text, "{a}");
  EXPECT_TRUE(panel.lines_to_panel.empty());
  EXPECT_EQ(panel.controls[0].pins[0], "A0");
  EXPECT_TRUE(panel.controls[0].place.placed);
}

TEST(PanelDefaults, LinesCarryAllNamesInTheOrderOfTheFile) {
  const PanelDescription panel =
      described(with_two_controls("[[output]]\nname = \"red\"\nkind = \"lamp\"\n[[output]]\nname = "
                                  "\"blue\"\nkind = \"lamp\"\n"));
  ASSERT_EQ(panel.lines_to_game.size(), 1U);
  EXPECT_EQ(panel.lines_to_game[0].text, "{a},{b}");
  ASSERT_EQ(panel.lines_to_panel.size(), 1U);
  EXPECT_EQ(panel.lines_to_panel[0].text, "{red},{blue}");
  EXPECT_EQ(panel.to_game.ends, "\n");
}

TEST(PanelDefaults, ALineForOneDirectionLeavesTheOtherToItsDefault) {
  const PanelDescription panel =
      described(with_two_controls("[[output]]\nname = \"red\"\nkind = \"lamp\"\n[[line]]\nto = "
                                  "\"panel\"\ntext = \"L{red}\"\n"));
  EXPECT_EQ(panel.lines_to_game[0].text, "{a},{b}");
  EXPECT_EQ(panel.lines_to_panel[0].text, "L{red}");
}

TEST(PanelDefaults, WithoutSendsTheLineCarriesWhatThePinReads) {
  const PanelDescription panel = described(
      with_two_controls("[[control]]\nname = \"c\"\nkind = \"switch\"\nwired = \"pull-down\"\n"));
  EXPECT_EQ(panel.controls[0].sends.high, 1023);  // 10 bits: ATmega48-328 sheet 8271H 24.6.3
  EXPECT_EQ(panel.controls[1].sends.low, 1);      // a pull-up reads 1 when up
  EXPECT_EQ(panel.controls[1].sends.high, 0);
  EXPECT_EQ(panel.controls[2].sends.low, 0);
  EXPECT_EQ(panel.controls[2].sends.high, 1);
  for (const ControlDescription& control : panel.controls) EXPECT_FALSE(control.sends.given);
}

TEST(PanelDefaults, PinsAreGivenOutByKindAndTheSerialPinsAreLeftAlone) {
  const PanelDescription panel =
      described(with_two_controls("pin = 3\n[[control]]\nname = \"c\"\nkind = \"button\"\n"
                                  "[[output]]\nname = \"red\"\nkind = \"lamp\"\n[[output]]\nname = "
                                  "\"blue\"\nkind = \"lamp\"\n"));
  EXPECT_EQ(panel.controls[0].pins[0], "A0");
  EXPECT_EQ(panel.controls[1].pins[0], "D3");  // given, though it could dim
  EXPECT_EQ(panel.controls[2].pins[0], "D2");
  EXPECT_EQ(panel.outputs[0].pins[0], "D5");
  EXPECT_EQ(panel.outputs[1].pins[0], "D6");
}

TEST(PanelDefaults, ThePinOfTheBoardsOwnLampIsGivenOutLast) {
  std::string text = "panel = \"X\"\n";
  for (int i = 0; i < 16; ++i)
    text += "[[control]]\nname = \"b" + std::to_string(i) + "\"\nkind = \"button\"\n";
  std::vector<std::string> pins;
  for (const ControlDescription& control : described(text).controls)
    pins.push_back(control.pins[0]);
  // 12 of D2 to D13 and 6 of A0 to A5 are 18: 16 buttons leave it alone.
  EXPECT_FALSE(has_pin(pins, "D13"));
  for (int i = 16; i < 18; ++i)
    text += "[[control]]\nname = \"b" + std::to_string(i) + "\"\nkind = \"button\"\n";
  EXPECT_EQ(described(text).controls.back().pins[0], "D13");
}

TEST(PanelDefaults, RowsOfPinsAreToldByTheirEnds) {
  EXPECT_EQ(pin_runs({"A0", "A1", "A2", "D3", "D5", "D6"}), "A0 to A2, D3 and D5 to D6");
  EXPECT_EQ(pin_runs({"D9"}), "D9");
  EXPECT_EQ(pin_runs({"X", "D99999999999999"}), "X and D99999999999999");
  EXPECT_EQ(pin_runs({}), "");
}

TEST(PanelDefaults, WhenNoPinIsLeftItStaysEmpty) {
  std::string text = "panel = \"X\"\n";
  for (int i = 0; i < 7; ++i)
    text += "[[control]]\nname = \"c" + std::to_string(i) + "\"\nkind = \"pot\"\n";
  const PanelDescription panel = described(text);
  EXPECT_EQ(panel.controls[5].pins[0], "A5");
  EXPECT_EQ(panel.controls[6].pins[0], "");
}

TEST(PanelDefaults, AnotherKindOfWireBringsItsOwnHostSide) {
  const PanelDescription panel = described(with_two_controls("[wire]\nkind = \"native usb\"\n"));
  EXPECT_EQ(panel.host.flush, milliseconds(1));
  EXPECT_EQ(panel.host.full, WhenFull::kHoldsTheBoard);
  EXPECT_EQ(panel.host.dtr, DtrMeans::kOpensGate);
  EXPECT_EQ(panel.board.preset, "bootloader-8bit");
}

TEST(PanelDefaults, ThePresetHoldsWhereTheBoardTableSaysNothing) {
  const PanelDescription panel = described(
      "panel = \"X\"\n[board]\nadc_bits = 11\npreset = \"native-usb-32bit\"\n[[control]]\nname = "
      "\"a\"\n"
      "kind = \"pot\"\n");
  EXPECT_EQ(panel.board.adc_bits, 11);
  EXPECT_EQ(panel.board.supply_uv, 3'300'000);
  EXPECT_EQ(panel.wire.kind, WireKind::kNativeUsb);
  EXPECT_EQ(panel.controls[0].sends.high, 2047);
  // Half a step of 3.3 V in 2^11.
  EXPECT_EQ(panel.controls[0].pot.noise_uv, 3'300'000 / 2048 / 2);
}

TEST(PanelDefaults, ALatencyBridgeSendsPacketsOf62BytesEvery16Ms) {
  // Application note AN232B-04: 64-byte packets with 2 status bytes, 16 ms latency timer.
  const PanelDescription panel = described(
      "panel = \"X\"\nboard = \"bridge-16ms\"\n[[control]]\nname = \"a\"\nkind = \"pot\"\n");
  EXPECT_EQ(panel.host.flush, milliseconds(16));
  EXPECT_EQ(panel.host.chunk_bytes_max, 62);
}

TEST(PanelDefaults, AMadeUpLineMayBeLongerThanLongestByDefault) {
  std::string text = "panel = \"X\"\n";
  for (int i = 0; i < 64; ++i)
    text += "[[control]]\nname = \"c" + std::to_string(i) +
            "\"\nkind = \"pot\"\nsends = [-9999, 9999]\n";
  const PanelDescription panel = described(text);
  EXPECT_EQ(panel.to_game.longest_bytes, 64 * 6 - 1);
}

TEST(PanelDefaults, EveryPartLiesOnTheFace) {
  std::string text = "panel = \"X\"\nface = { width_mm = 100 }\n";
  for (int i = 0; i < 9; ++i)
    text += "[[control]]\nname = \"c" + std::to_string(i) + "\"\nkind = \"pot\"\n";
  const PanelDescription panel = described(text + "[[output]]\nname = \"o\"\nkind = \"lamp\"\n");
  EXPECT_EQ(panel.width_um, 100'000);
  for (std::size_t i = 0; i < panel.controls.size(); ++i) {
    const Place& place = panel.controls[i].place;
    EXPECT_GT(place.x_um, 0);
    EXPECT_LT(place.x_um, panel.width_um);
    EXPECT_GT(place.y_um, panel.outputs[0].place.y_um);
    EXPECT_LT(place.y_um, panel.height_um);
    for (std::size_t j = 0; j < i; ++j) EXPECT_FALSE(place == panel.controls[j].place);
  }
}

TEST(PanelDefaults, EveryPresetIsAWholePanel) {
  for (const PresetText& one : presets()) {
    const std::string preset(one.name);
    const PanelDescription panel = described("panel = \"X\"\nboard = \"" + preset +
                                             "\"\n[[control]]\nname = \"a\"\nkind = \"pot\"\n");
    EXPECT_EQ(panel.board.preset, preset);
    EXPECT_FALSE(panel.board.analogue_pins.empty());
    EXPECT_LE(panel.board.pin_advised_ua, panel.board.pin_limit_ua);
  }
}

}  // namespace
}  // namespace understudy
