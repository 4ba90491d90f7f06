// Keys of every kind of output: what may be written, what follows, and what is said of mistakes.
#include <gtest/gtest.h>

#include "sim/panel/explain.h"
#include "sim/panel/output_kinds.h"
#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

// A panel with one output; its table begins in line 2.
std::string with_output(const std::string& kind, const std::string& keys) {
  return "panel = \"X\"\n[[output]]\nname = \"o\"\nkind = \"" + kind + "\"\n" + keys;
}

OutputDescription output_of(const std::string& kind, const std::string& keys) {
  const PanelDescription panel = described(with_output(kind, keys));
  return panel.outputs.empty() ? OutputDescription{} : panel.outputs[0];
}

TEST(OutputKeys, TheExampleOfEachKindLoadsAndReadsBack) {
  ASSERT_EQ(output_kinds().size(), 5U);
  for (const OutputKindRow& row : output_kinds()) {
    const PanelDescription panel = described("panel = \"X\"\n" + std::string(row.example));
    ASSERT_EQ(panel.outputs.size(), 1U) << row.example;
    EXPECT_EQ(panel.outputs[0].kind, row.kind);
    EXPECT_EQ(described(resolved_toml(panel)), panel) << resolved_toml(panel);
    EXPECT_TRUE(explain_key(kind_word(row.kind)).ok());
  }
}

TEST(OutputKeys, TheExampleOfEachKeyLoadsAtEveryKindThatHasIt) {
  int loaded = 0;
  for (const KeyOf<OutputDescription>& key : keys_of_output()) {
    if (key.text.name == "name" || key.text.name == "kind") continue;
    for (const OutputKindRow& row : output_kinds()) {
      if (!is_for_kind(key.text, row.kind)) continue;
      std::string value(key.text.example);
      // The example of pins is that of an rgb, and digits have two.
      if (key.text.name == "pins" && row.kind == OutputKind::kDigits) value = "[\"D3\", \"D5\"]";
      const std::string text = with_output(std::string(kind_word(row.kind)),
                                           std::string(key.text.name) + " = " + value + "\n");
      EXPECT_EQ(said_of(text), "") << text;
      ++loaded;
    }
  }
  EXPECT_GT(loaded, 35);
}

TEST(OutputKeys, EachKindTakesWhatIsUsualForIt) {
  const auto range = [](const std::string& kind, const std::string& keys = "") {
    const Sends sends = output_of(kind, keys).sends;
    return std::pair(sends.low, sends.high);
  };
  EXPECT_EQ(range("lamp"), std::pair(0L, 255L));
  EXPECT_EQ(range("rgb"), std::pair(0L, 255L));
  EXPECT_EQ(range("gauge"), std::pair(0L, 180L));
  EXPECT_EQ(range("buzzer"), std::pair(0L, 1L));
  EXPECT_EQ(range("buzzer", "sounds = \"at the pitch given\"\n"), std::pair(0L, 5'000L));
  EXPECT_EQ(range("digits"), std::pair(0L, 9'999L));
  EXPECT_EQ(range("digits", "digits = 6\n"), std::pair(0L, 999'999L));
}

TEST(OutputKeys, WhatIsGivenCountsWhereverItStandsInTheTable) {
  const std::string file =
      "panel = \"X\"\n[[output]]\ntakes = [-5, 5]\ndigits = 2\nkind = \"digits\"\nname = \"o\"\n";
  const PanelDescription panel = described(file);
  ASSERT_EQ(panel.outputs.size(), 1U);
  EXPECT_EQ(panel.outputs[0].sends.low, -5);
  EXPECT_EQ(panel.outputs[0].sends.high, 5);
}

TEST(OutputKeys, AnRgbHasOneResistorForAllOrThree) {
  using Three = std::array<std::int64_t, 3>;
  EXPECT_EQ(output_of("rgb", "").rgb.resistor_mohm, (Three{220'000, 220'000, 220'000}));
  EXPECT_EQ(output_of("rgb", "resistor = \"100 ohm\"\n").rgb.resistor_mohm,
            (Three{100'000, 100'000, 100'000}));
  EXPECT_EQ(output_of("rgb", "resistors = [\"220 ohm\", \"91\", \"1k\"]\n").rgb.resistor_mohm,
            (Three{220'000, 91'000, 1'000'000}));
  EXPECT_EQ(output_of("rgb", "forwards = [\"2.1 V\", \"3 V\", \"3 V\"]\n").rgb.forward_uv,
            (Three{2'100'000, 3'000'000, 3'000'000}));
}

TEST(OutputKeys, AServosSlewIsTheTimeForSixtyDegrees) {
  EXPECT_EQ(output_of("gauge", "").gauge.slew_mdeg_per_s, 500'000);
  EXPECT_EQ(output_of("gauge", "slew = \"0.12 s\"\n").gauge.slew_mdeg_per_s, 500'000);
  EXPECT_EQ(output_of("gauge", "slew = \"0.1 s\"\n").gauge.slew_mdeg_per_s, 600'000);
  EXPECT_EQ(output_of("gauge", "slew = \"130 ms\"\n").gauge.slew_mdeg_per_s, 461'538);
}

// Every slew that can be written is written back as itself, and round times as round times.
TEST(OutputKeys, ASlewReadsBackToTheSame) {
  for (int ms = 10; ms <= 10'000; ms = ms * 8 / 7 + 1) {
    const std::string slew = "slew = \"" + std::to_string(ms) + " ms\"\n";
    const PanelDescription panel = described(with_output("gauge", slew));
    const std::string written = resolved_toml(panel);
    EXPECT_EQ(described(written), panel);
    if (ms < 1'000) {
      EXPECT_NE(written.find(slew), std::string::npos) << written;
    }
  }
}

TEST(OutputKeys, EveryValueOfAKindReadsBack) {
  const std::pair<const char*, const char*> outputs[] = {
      {"lamp", "wired = \"to supply\"\ncolour = \"blue\"\nresistor = \"91 ohm\"\npin = 9\n"},
      {"rgb", "wired = \"to supply\"\nresistor = \"91 ohm\"\npins = [3, \"5\", \"D6\"]\n"},
      {"gauge", "sweep = \"270.5 deg\"\novershoot = \"0 %\"\nidle = \"0 mA\"\nmoving = \"1 A\"\n"},
      {"buzzer",
       "sounds = \"at the pitch given\"\nresonance = \"4 kHz\"\ncurrent = \"9 mA\"\n"
       "driven = \"by a transistor\"\ntakes = [0, 900]\n"},
      {"digits", "digits = 8\ncolour = \"green\"\nsegment = \"2 mA\"\ndecimals = 3\n"},
  };
  for (const auto& [kind, keys] : outputs) {
    const PanelDescription panel = described(with_output(kind, keys));
    EXPECT_EQ(described(resolved_toml(panel)), panel) << resolved_toml(panel);
  }
  EXPECT_EQ(output_of("gauge", outputs[2].second).gauge.sweep_mdeg, 270'500);
  EXPECT_EQ(output_of("buzzer", outputs[3].second).buzzer.resonance_hz, 4'000);
  EXPECT_TRUE(output_of("buzzer", outputs[3].second).buzzer.transistor);
}

TEST(OutputKeys, AKeyOfAnotherKindIsRefusedWithTheKindsThatHaveIt) {
  EXPECT_EQ(said_of(with_output("gauge", "resistor = \"1 k\"\n")),
            "x.panel.toml:5:12: output.resistor: found it at a gauge, expected it only at lamps or "
            "rgb lamps; take it out or change kind");
  EXPECT_EQ(said_of(with_output("rgb", "pin = 3\n")),
            "x.panel.toml:5:7: output.pin: found it at an rgb lamp, expected it only at lamps, "
            "gauges or buzzers; take it out or change kind");
  EXPECT_EQ(said_of(with_output("lamp", "digits = 3\n")),
            "x.panel.toml:5:10: output.digits: found it at a lamp, expected it only at rows of "
            "digits; take it out or change kind");
}

TEST(OutputKeys, MistakesAreToldWithWhatWouldBeRight) {
  EXPECT_EQ(said_of(with_output("digits", "digits = 9\n")),
            "x.panel.toml:5:10: output.digits: found 9, expected a whole number, from 1 to 8");
  EXPECT_EQ(said_of(with_output("gauge", "sweep = \"400 deg\"\n")),
            "x.panel.toml:5:9: output.sweep: found \"400 deg\", expected an angle such as \"180 "
            "deg\"; from 1 to 360 deg");
  EXPECT_EQ(said_of(with_output("gauge", "slew = \"5 ms\"\n")),
            "x.panel.toml:5:8: output.slew: found \"5 ms\", expected a time such as \"20 ms\", "
            "from 10 ms to 10 s");
  EXPECT_EQ(said_of(with_output("rgb", "resistors = [\"220 ohm\", \"100 ohm\"]\n")),
            "x.panel.toml:5:13: output.resistors: found [\"220 ohm\", \"100 ohm\"], expected a "
            "list of three "
            "resistances, red, green and blue");
  EXPECT_EQ(said_of(with_output("rgb", "pins = [3, 5]\n")),
            "x.panel.toml:5:8: output.pins: found 2 pins, expected 3; red, green and blue");
  EXPECT_EQ(
      said_of(with_output("buzzer",
                          "sounds = \"at the pitch given\"\n"
                          "takes = [\"LOW\", \"HIGH\"]\n")),
      "x.panel.toml:6:9: output.takes: found [\"LOW\", \"HIGH\"], expected 0 for silence and the "
      "highest pitch in hertz, such as [0, 5000]");
  EXPECT_EQ(
      said_of(with_output("buzzer", "sounds = \"at the pitch given\"\ntakes = [100, 900]\n")),
      "x.panel.toml:6:9: output.takes: found [100, 900], expected 0 for silence and the highest "
      "pitch in hertz, such as [0, 5000]");
  EXPECT_EQ(said_of(with_output("buzzer", "takes = [\"a\", \"b\", \"c\"]\n")),
            "x.panel.toml:5:9: output.takes: found [\"a\", \"b\", \"c\"], expected two numbers or "
            "words for off "
            "and on, such as [0, 1]; of a pitched one two numbers of hertz");
  EXPECT_EQ(said_of(with_output("horn", "")),
            "x.panel.toml:4:8: output.kind: found \"horn\", expected \"lamp\", \"rgb\", \"gauge\", "
            "\"buzzer\" or "
            "\"digits\"");
}

TEST(OutputKeys, TheSupplyOfTheBoardCanBeDescribed) {
  const PanelDescription panel = described(
      "panel = \"X\"\n[board]\nsupply_resistance = \"0.25 ohm\"\nbrown_out = \"4.3 V\"\n"
      "brown_out_after = \"5 ms\"\n[[output]]\nname = \"o\"\nkind = \"lamp\"\n");
  EXPECT_EQ(panel.board.supply_resistance_mohm, 250);
  EXPECT_EQ(panel.board.brown_out_uv, 4'300'000);
  EXPECT_EQ(panel.board.brown_out_after, milliseconds(5));
  EXPECT_EQ(described(resolved_toml(panel)), panel);
}

TEST(OutputKeys, AnRgbLampHasOneResistorForAllOrThree) {
  const std::string one = "resistor = \"220 ohm\"\n";
  const std::string three = "resistors = [\"220 ohm\", \"100 ohm\", \"100 ohm\"]\n";
  EXPECT_EQ(said_of(with_output("rgb", one)), "");
  EXPECT_EQ(said_of(with_output("rgb", three)), "");
  EXPECT_EQ(said_of(with_output("rgb", three + one)),
            "x.panel.toml:6:12: output.resistor: found it beside resistors, expected one of both");
}

}  // namespace
}  // namespace understudy
