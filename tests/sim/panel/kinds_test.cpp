// Every kind of control in a panel file: examples, defaults, pins given out, what must fit
// together, what lines and answers call its parts, and what check says of it.
#include <gtest/gtest.h>

#include "sim/panel/check_text.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/draft.h"
#include "sim/panel/explain.h"
#include "sim/panel/output_kinds.h"
#include "tests/sim/panel/panel_text.h"
#include "tests/support/approved.h"

namespace understudy {
namespace {

using Texts = std::vector<std::string>;

// The control begins in line 2, its own keys in line 5.
std::string control(const std::string& name, const std::string& kind, const std::string& keys) {
  return "[[control]]\nname = \"" + name + "\"\nkind = \"" + kind + "\"\n" + keys;
}
std::string panel_of(const std::string& kind, const std::string& keys) {
  return "panel = \"X\"\n" + control("a", kind, keys);
}

ControlDescription only(const std::string& kind, const std::string& keys) {
  const PanelDescription panel = described(panel_of(kind, keys));
  return panel.controls.empty() ? ControlDescription{} : panel.controls[0];
}

Texts field_names(const std::string& text) {
  const auto panel = parse_panel(text, "x.panel.toml");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  Texts names;
  if (panel.ok())
    for (const protocol::Field& field : panel.value()->to_game_fields) names.push_back(field.name);
  return names;
}

std::string remarks_of(const std::string& text) {
  static constexpr const char* kNames[] = {"note", "hint", "warning", "wrong"};
  const auto panel = parse_panel(text, "x.panel.toml");
  if (!panel.ok()) return panel.error().text;
  std::string said;
  for (const Remark& remark : check(*panel.value()).remarks) {
    if (remark.about == "wire") continue;
    said += std::string(kNames[static_cast<int>(remark.severity)]) + " " + remark.about + ": " +
            remark.text + (remark.remedy.empty() ? "" : "; " + remark.remedy) + "\n";
  }
  return said;
}

TEST(PanelKinds, EveryExampleThatExplainGivesIsAPanel) {
  for (const ControlKindRow& row : control_kinds()) {
    const std::string text = "panel = \"X\"\n" + std::string(row.example);
    EXPECT_EQ(said_of(text), "") << text;
    const PanelDescription panel = described(text);
    ASSERT_EQ(panel.controls.size(), 1U);
    EXPECT_EQ(panel.controls[0].kind, row.kind);
    const auto told = explain_key(kind_word(row.kind));
    ASSERT_TRUE(told.ok());
    EXPECT_NE(told.value().find("\n  kind = \"" + std::string(kind_word(row.kind)) + "\"\n"),
              std::string::npos);
    // Nothing of it is wrong, whatever check hints at.
    EXPECT_FALSE(check(*parse_panel(text, "x").value()).wrong()) << text;
  }
  for (const OutputKindRow& row : output_kinds()) {
    const std::string text = "panel = \"X\"\n" + std::string(row.example);
    EXPECT_EQ(said_of(text), "") << text;
  }
}

TEST(PanelKinds, ExplainTellsAllKeysOfAKindAndNoOthers) {
  const auto selector = explain_key("selector");
  ASSERT_TRUE(selector.ok());
  EXPECT_TRUE(is_approved("explain/selector.txt", selector.value()));
  for (const KeyText& key : all_keys()) {
    if (key.section != Section::kControl) continue;
    for (const ControlKindRow& row : control_kinds()) {
      const std::string text = explain_key(kind_word(row.kind)).value();
      const std::string keys = text.substr(text.find("Its keys\n"));
      const bool told = keys.find("\n    " + std::string(key.name) + " ") != std::string::npos;
      EXPECT_EQ(told, is_for_kind(key, row.kind)) << key.name << " of " << row.one;
    }
  }
}

TEST(PanelKinds, TheTableOfKindsHasTheOrderOfTheModel) {
  for (std::size_t i = 0; i < control_kinds().size(); ++i)
    EXPECT_EQ(control_kinds()[i].kind, static_cast<ControlKind>(i));
}

TEST(PanelKinds, ASelectorHasAsManyPlacesAsWordsOrPins) {
  EXPECT_EQ(only("selector", "").selector.places, 3);
  EXPECT_EQ(only("selector", "places = 5\n").sends.high, 4);
  EXPECT_EQ(only("selector", "sends = [\"A\", \"B\", \"C\", \"D\"]\n").selector.places, 4);
  EXPECT_EQ(only("selector", "pins = [2, 3, 4, 5, 6, 7]\n").selector.places, 6);
  const ControlDescription given =
      only("selector",
           "places = 5\nsends = [10, 50]\ntiming = \"make-before-break\"\n"
           "in_gap = \"reports the first place\"\n");
  EXPECT_EQ(given.sends.low, 10);
  EXPECT_TRUE(given.selector.makes_first);
  EXPECT_FALSE(given.selector.keeps_in_gap);
  EXPECT_FALSE(only("selector", "").selector.makes_first);
  EXPECT_TRUE(only("selector", "").selector.keeps_in_gap);
  EXPECT_EQ(given.pins, (Texts{"D2", "D4", "D7", "D8", "D12"}));  // those that cannot dim
}

TEST(PanelKinds, AWordToSendSaysSomethingAndDiffersFromTheOthers) {
  EXPECT_EQ(said_of(panel_of("button", "sends = [\"\", \"A\"]\n")),
            "x.panel.toml:5:10: control.sends: found an empty text, expected a word; nothing in a "
            "line could not be told from a word left out");
  EXPECT_EQ(said_of(panel_of("button", "sends = [\"A\", \"A\"]\n")),
            "x.panel.toml:5:15: control.sends: found \"A\", expected a word that differs from the "
            "others");
}

TEST(PanelKinds, ASelectorRestsAtAPlaceByItsWordOrNumber) {
  EXPECT_EQ(only("selector", "places = 5\nrest = 1\n").rest_ppm, 0);
  EXPECT_EQ(only("selector", "places = 5\nrest = 4\n").rest_ppm, 750'000);
  EXPECT_EQ(only("selector", "rest = \"DIM\"\nsends = [\"OFF\", \"DIM\", \"FULL\"]\n").rest_ppm,
            500'000);
  EXPECT_EQ(said_of(panel_of("selector", "rest = 4\n")),
            "x.panel.toml:5:8: control.rest: found 4, expected a place from 1 to 3");
  EXPECT_EQ(said_of(panel_of("selector", "sends = [\"A\", \"B\"]\nrest = \"C\"\n")),
            "x.panel.toml:6:8: control.rest: found \"C\", expected a place from 1 to 2, or one of "
            "the words of sends");
}

TEST(PanelKinds, AStickHasTwoWaysAndMostlyAPress) {
  const ControlDescription stick = only("stick", "");
  EXPECT_EQ(stick.pins, (Texts{"A0", "A1", "D2"}));
  EXPECT_EQ(stick.sends.high, 1'023);
  EXPECT_EQ(stick.stick.press_sends.low, 1);  // a pull-up reads 1 when up
  EXPECT_EQ(stick.stick.press_sends.high, 0);
  EXPECT_EQ(only("stick", "wired = \"pull-down\"\n").stick.press_sends.high, 1);
  EXPECT_EQ(field_names(panel_of("stick", "")), (Texts{"a.x", "a.y", "a.press"}));
  const std::string plain = panel_of("stick", "presses = false\nsprings = false\n");
  EXPECT_EQ(field_names(plain), (Texts{"a.x", "a.y"}));
  EXPECT_EQ(described(plain).controls[0].pins, (Texts{"A0", "A1"}));
  EXPECT_FALSE(described(plain).controls[0].stick.springs);
  EXPECT_EQ(described(plain).lines_to_game[0].text, "{a.x},{a.y}");
  const ControlDescription off = only("stick",
                                      "centre = [\"48 %\", \"52 %\"]\nends = [\"2 %\", "
                                      "\"1 %\"]\nkeys = { up = \"up\", hold = \"space\" "
                                      "}\n");
  EXPECT_EQ(off.stick.centre_x_ppm, 480'000);
  EXPECT_EQ(off.stick.centre_y_ppm, 520'000);
  EXPECT_EQ(off.pot.end_low_ppm, 20'000);
  EXPECT_EQ(off.keys.up, "up");
  EXPECT_EQ(off.keys.hold, "space");
}

// Bourns PEC11R sheet: 2 ms of bounce at most, at 15 turns a minute.
TEST(PanelKinds, AnEncoderCountsInSixteenBitsAndBouncesShortly) {
  const ControlDescription encoder = only("encoder", "");
  EXPECT_EQ(encoder.sends.low, -32'768);
  EXPECT_EQ(encoder.sends.high, 32'767);
  EXPECT_EQ(encoder.encoder.step_sends.low, -127);
  EXPECT_EQ(encoder.contact.bounce_max_ns, 2'000'000);
  EXPECT_EQ(encoder.contact.bounce_mean_ns, 500'000);
  EXPECT_EQ(encoder.pins, (Texts{"D2", "D4"}));
  EXPECT_FALSE(encoder.encoder.interrupts);
  EXPECT_FALSE(encoder.encoder.counts_quarters);
  EXPECT_EQ(field_names(panel_of("encoder", "")), (Texts{"a.count", "a.step"}));
  const ControlDescription quick =
      only("encoder", "read = \"every edge\"\ncounts = \"quarters\"\nbounce = \"none\"\n");
  EXPECT_TRUE(quick.encoder.interrupts);
  EXPECT_TRUE(quick.encoder.counts_quarters);
  EXPECT_EQ(quick.contact.bounce_max_ns, 0);
  EXPECT_EQ(said_of(panel_of("encoder", "detents = 36\npulses = 24\n")),
            "x.panel.toml:5:11: control.detents: found 36 detents and 24 pulses, expected as many "
            "detents as pulses, or a number that divides their 96 edges");
  EXPECT_EQ(said_of(panel_of("encoder", "detents = 30\npulses = 15\n")), "");
}

TEST(PanelKinds, ALineThatNamesAWholeStickIsToldOfItsParts) {
  const auto said = [](const std::string& line) {
    return said_of(panel_of("stick", "[[line]]\nto = \"game\"\n" + line + "\n"));
  };
  const std::string parts = "it has parts: write {a.x}, {a.y} or {a.press}";
  EXPECT_EQ(said("text = \"{a}\""),
            "x.panel.toml:7:9: line.text: found `{a}`, expected the name of a field; " + parts);
  EXPECT_NE(said("text = \"{a.x},{a:4}\"").find(parts), std::string::npos);
  EXPECT_EQ(said("each = [\"a\"]\ntext = \"{#name}={#value}\""),
            "x.panel.toml:8:17: line.text: found `{a}`, expected the name of a field; it has "
            "parts: write {#value.x}, {#value.y} or {#value.press}");
  EXPECT_EQ(said("each = [\"a\"]\ntext = \"{#name}={#value.x}\""), "");
  EXPECT_NE(said_of("panel = \"X\"\n[[output]]\nname = \"o\"\nkind = \"rgb\"\n[[line]]\nto = "
                    "\"panel\"\ntext = \"{o}\"\n")
                .find("it has parts: write {o.r}, {o.g} or {o.b}"),
            std::string::npos);
}

TEST(PanelKinds, StepsOfAnEncoderHaveA0ForOneThatWasNotTurned) {
  for (const std::string range : {"[-5, -1]", "[5, 10]", "[10, 5]"}) {
    EXPECT_EQ(said_of(panel_of("encoder", "step_sends = " + range + "\n")),
              "x.panel.toml:5:14: control.step_sends: found " + range +
                  ", expected 0 among the numbers from one to the other; an encoder that was not "
                  "turned sends 0; the default is [-127, 127]");
  }
  EXPECT_EQ(only("encoder", "step_sends = [0, 10]\n").encoder.step_sends.high, 10);
  EXPECT_EQ(only("encoder", "step_sends = [5, -5]\n").encoder.step_sends.low, 5);
  EXPECT_EQ(only("encoder", "step_sends = [-9, 0]\n").encoder.step_sends.low, -9);
}

TEST(PanelKinds, ASensorMeasuresByItself) {
  const ControlDescription sine = only("sensor",
                                       "decimals = 1\nsends = [-20.0, 60.0]\ncourse = "
                                       "\"sine\"\nlevel = \"40 %\"\nperiod = \"30 s\"\n");
  EXPECT_EQ(sine.pins, (Texts{"A0"}));
  EXPECT_EQ(sine.sends.low, -200);
  EXPECT_EQ(sine.sensor.course, SensorCourse::kSine);
  EXPECT_EQ(sine.sensor.level_ppm, 400'000);
  EXPECT_EQ(sine.sensor.period, seconds(30));
  EXPECT_EQ(sine.pot.source_mohm, 1'000'000);
  EXPECT_EQ(said_of(panel_of("sensor", "keys = { more = \"W\" }\n")),
            "x.panel.toml:5:8: control.keys: found it at a sensor, expected it only at pots, "
            "buttons, switches, selectors, sticks or encoders; take it out or change kind");
}

TEST(PanelKinds, ALoadedPotKeepsItsLoad) {
  EXPECT_EQ(only("pot", "load = \"100 kohm\"\n").pot.load_mohm, 100'000'000);
  EXPECT_EQ(only("pot", "").pot.load_mohm, 0);
  EXPECT_EQ(only("pot", "load = \"0 ohm\"\n").pot.load_mohm, 0);
  EXPECT_EQ(only("pot", "load = \"100 ohm\"\n").pot.load_mohm, 100'000);
  EXPECT_EQ(said_of(panel_of("pot", "load = \"0.001 ohm\"\n")),
            "x.panel.toml:5:8: control.load: found \"0.001 ohm\", expected at least 100 ohm, or 0 "
            "ohm for no load; with less the pot would be a short circuit near its high end");
}

TEST(PanelKinds, AWrongNumberOfPinsIsToldWithTheRightOne) {
  EXPECT_EQ(said_of(panel_of("stick", "pins = [\"A0\", \"A1\"]\n")),
            "x.panel.toml:5:8: control.pins: found 2 pins, expected 3; x, y and press; without "
            "presses the first two");
  EXPECT_EQ(said_of(panel_of("encoder", "pins = [2]\n")),
            "x.panel.toml:5:8: control.pins: found 1 pin, expected 2; its two contacts");
  EXPECT_EQ(said_of(panel_of("selector", "places = 4\npins = [2, 3, 4]\n")),
            "x.panel.toml:6:8: control.pins: found 3 pins, expected 4; one for each place");
  EXPECT_EQ(
      said_of(panel_of("stick", "pin = \"A0\"\n")),
      "x.panel.toml:5:7: control.pin: found it at a stick, expected it only at pots, buttons, "
      "switches or sensors; take it out or change kind");
  EXPECT_EQ(
      said_of(panel_of("encoder", "pins = \"D2\"\n")),
      "x.panel.toml:5:8: control.pins: found \"D2\", expected a list of pins such as [\"D2\", "
      "\"D3\"]; put it in [ ]");
}

TEST(PanelKinds, PlacesAndWordsMustAgree) {
  EXPECT_EQ(said_of(panel_of("selector", "places = 4\nsends = [\"A\", \"B\", \"C\"]\n")),
            "x.panel.toml:5:10: control.places: found 4, expected 3, as many as sends has words");
  EXPECT_EQ(said_of(panel_of("selector", "sends = \"what the pin reads\"\n")),
            "x.panel.toml:5:9: control.sends: found \"what the pin reads\", expected a word for "
            "each place, or two numbers for the first and the last, such as [0, 4]");
}

std::string matrix(const std::string& keys, const std::string& controls) {
  return "panel = \"X\"\n[matrix]\nrows = [\"D2\", \"D3\"]\ncolumns = [\"D4\", \"D5\"]\n" + keys +
         controls;
}

TEST(PanelKinds, AMatrixReadsItsButtonsWithoutPinsOfTheirOwn) {
  const std::string text =
      matrix("diodes = false\n", control("a", "button", "cell = [1, 2]\n") +
                                     control("b", "switch", "cell = [2, 1]\n") +
                                     control("c", "button", ""));
  const PanelDescription panel = described(text);
  EXPECT_FALSE(panel.matrix.diodes);
  EXPECT_EQ(panel.matrix.column_pins, (Texts{"D4", "D5"}));
  EXPECT_EQ(panel.controls[0].cell, (MatrixCell{0, 1}));
  EXPECT_EQ(panel.controls[1].cell, (MatrixCell{1, 0}));
  EXPECT_TRUE(panel.controls[0].pins.empty());
  EXPECT_EQ(panel.controls[2].pins, (Texts{"D7"}));  // past those of the matrix
  const auto again = parse_panel(resolved_toml(panel), "resolved");
  ASSERT_TRUE(again.ok()) << again.error().text;
  EXPECT_EQ(again.value()->description, panel);
}

TEST(PanelKinds, CellsMustLieInTheMatrixAndHaveOnePartEach) {
  EXPECT_EQ(
      said_of(panel_of("button", "cell = [1, 1]\n")),
      "x.panel.toml:5:8: control.cell: found it without a matrix, expected [matrix] with rows "
      "and columns");
  EXPECT_EQ(said_of(matrix("", control("a", "button", "cell = [3, 1]\n"))),
            "x.panel.toml:8:8: control.cell: found [3, 1], expected a row up to 2 and a column up "
            "to 2; give [matrix] more pins");
  EXPECT_EQ(said_of(matrix("", control("a", "button", "cell = [1, 1]\n") +
                                   control("b", "button", "cell = [1, 1]\n"))),
            "x.panel.toml:12:8: control.cell: found [1, 1], where a sits, expected a cell of its "
            "own");
  EXPECT_EQ(said_of(matrix("", control("a", "button", "cell = [1, 0]\n"))),
            "x.panel.toml:8:12: control.cell: found 0, expected a whole number, from 1 to 16");
  EXPECT_EQ(said_of(matrix("", control("a", "button", "cell = [1, 1]\npin = 7\n"))),
            "x.panel.toml:9:7: control.pin: found it beside cell, expected one of both; what sits "
            "in the matrix is read by a row and a column");
  EXPECT_EQ(said_of("panel = \"X\"\n[matrix]\nrows = [\"D2\"]\n" + control("a", "pot", "")),
            "x.panel.toml:2:1: matrix: found no columns, expected rows and columns");
}

TEST(PanelKinds, WhatTheConverterReadsGetsAnaloguePinsFirst) {
  const PanelDescription panel =
      described("panel = \"X\"\n" + control("b", "button", "") + control("s", "stick", "") +
                control("t", "sensor", "") + control("p", "pot", ""));
  EXPECT_EQ(panel.controls[1].pins, (Texts{"A0", "A1", "D4"}));
  EXPECT_EQ(panel.controls[2].pins, (Texts{"A2"}));
  EXPECT_EQ(panel.controls[3].pins, (Texts{"A3"}));
}

TEST(PanelKinds, AnswersSpeakOfPlacesTurnsAndParts) {
  const std::string parts =
      "panel = \"X\"\n" + control("knob", "encoder", "") + control("stick", "stick", "") +
      control("mode", "selector", "places = 5\n") +
      control("lights", "selector", "sends = [\"OFF\", \"DIM\"]\n") +
      control("heat", "sensor", "") + "[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n";
  const auto said = [&](const std::string& when) {
    return said_of(parts + "[[answer]]\nwhen = \"" + when + "\"\nexpect = \"lamp lit\"\n");
  };
  for (const char* right :
       {"knob turns", "stick press", "stick moves", "stick.x to 40%", "stick.press down",
        "mode is 3", "mode moves", "lights is DIM", "heat changes"})
    EXPECT_EQ(said(right), "") << right;
  const auto expected = [&](const std::string& when) {
    const std::string text = said(when);
    return text.substr(std::min(text.find("expected"), text.size()));
  };
  EXPECT_EQ(expected("mode is 5"), "expected mode and moves, or is and what it sends there");
  EXPECT_EQ(expected("lights is FULL"), "expected lights and moves, or is and what it sends there");
  EXPECT_EQ(expected("knob press"), "expected knob and turns");
  EXPECT_EQ(expected("stick to 40%"), "expected stick and moves, press, down or up");
  EXPECT_EQ(expected("stick.z moves"),
            "expected the name of a control and what it does; the nearest is stick.x");
}

TEST(PanelKinds, MorePartsThanADeviceHoldsAreRefused) {
  std::string text = "panel = \"X\"\n";
  for (int i = 0; i < 33; ++i) text += control("s" + std::to_string(i), "stick", "");
  EXPECT_EQ(
      said_of(text),
      "x.panel.toml:80:1: control: found more than 80 parts that a hand can move, expected at "
      "most so many; two panels can stand side by side");
  text = "panel = \"X\"\n";
  for (int i = 0; i < 40; ++i) text += control("e" + std::to_string(i), "encoder", "");
  for (int i = 0; i < 17; ++i)
    text += control("s" + std::to_string(i), "stick", "presses = false\n");
  for (int i = 0; i < 8; ++i) text += control("t" + std::to_string(i), "sensor", "");
  EXPECT_NE(said_of(text).find("found 65 of them"), std::string::npos);
}

// 24 pulses of four edges in 20 ms each: 60 s / (96 * 0.02 s) = 31.25 turns. PEC11R sheet: 60 turns
// a minute at most, so that a loop of 60 s / (96 * 60) = 10.41 ms would do.
TEST(PanelKinds, AnEncoderReadOnceALoopIsToldHowFastItMayTurn) {
  EXPECT_EQ(
      remarks_of(panel_of("encoder", "")),
      "warning a: read once a loop of 20 ms it loses steps above 31 turns a minute, and hands "
      "reach 60; read = \"every edge\", or a loop of at most 10.41 ms\n");
  EXPECT_EQ(remarks_of(panel_of("encoder", "read = \"every edge\"\n")), "");
  EXPECT_EQ(remarks_of(panel_of("encoder", "") + "[manners]\nloop = \"10.41 ms\"\n"), "");
  EXPECT_NE(remarks_of(panel_of("encoder", "") + "[manners]\nloop = \"10.5 ms\"\n"), "");
}

TEST(PanelKinds, AWeakSourceIsToldOfWhateverKindItIs) {
  EXPECT_EQ(remarks_of(panel_of("sensor", "source = \"20 kohm\"\n")),
            "hint a: a source of 20 kohm is too weak: part of the channel read before "
            "shows in it; at most 10 kohm is what the converter wants; an amplifier helps\n");
  EXPECT_EQ(remarks_of(panel_of("sensor", "source = \"10 kohm\"\n")), "");
  EXPECT_EQ(remarks_of(panel_of("stick", "resistance = \"100 kohm\"\npress_sends = [0, 1]\n")),
            "hint a: a stick of 100 kohm is too weak: part of the channel read before "
            "shows in it; 10 kohm is what most take\n");
}

TEST(PanelKinds, AMatrixWithoutDiodesIsToldWhereFourPartsMakeARectangle) {
  const std::string three = control("a", "button", "cell = [1, 1]\nsends = [0, 1]\n") +
                            control("b", "button", "cell = [1, 2]\nsends = [0, 1]\n") +
                            control("c", "button", "cell = [2, 1]\nsends = [0, 1]\n");
  const std::string four = three + control("d", "button", "cell = [2, 2]\nsends = [0, 1]\n");
  EXPECT_EQ(remarks_of(matrix("diodes = false\n", three)), "");
  EXPECT_EQ(remarks_of(matrix("", four)), "");
  EXPECT_EQ(remarks_of(matrix("diodes = false\n", four)),
            "warning matrix: without diodes three buttons that are down at corners of a rectangle, "
            "such as a and d and one between, make the fourth seem down; a diode at each button, "
            "and diodes = true\n");
}

TEST(PanelKinds, AMakeBeforeBreakSelectorIsSaidToReadTwoPlaces) {
  EXPECT_EQ(
      remarks_of(panel_of("selector", "timing = \"make-before-break\"\n")),
      "hint a: closes the next contact before it opens the last: between two places a reading "
      "finds both closed, and the lower place counts\n");
  EXPECT_EQ(remarks_of(panel_of("selector", "places = 4\nsends = [0, 10]\n")),
            "warning a: its places are not evenly spread over what it sends; the ends of sends "
            "differ by a multiple of 3\n");
}

TEST(PanelKinds, PartsThatGotTooFewPinsAreTold) {
  std::string text = "panel = \"X\"\n";
  for (int i = 0; i < 5; ++i) text += control("p" + std::to_string(i), "pot", "");
  EXPECT_EQ(remarks_of(text + control("s", "stick", "press_sends = [0, 1]\n")),
            "warning s: for 1 of its 3 pins none of their kind is left on this board; take a board "
            "with more pins, or give it some with pins =\n");
  EXPECT_EQ(remarks_of(panel_of("encoder", "read = \"every edge\"\npins = [2, 2]\n")),
            "wrong D2: two pins of a are on the same pin; give each of them its own\n");
  EXPECT_EQ(remarks_of(panel_of("stick", "pins = [2, \"A0\", 3]\npress_sends = [0, 1]\n")),
            "wrong a: pin D2 cannot read a stick, for it is not analogue; take one of A0, A1, A2, "
            "A3, A4 or A5\n");
}

// A reading of the converter is 14 ticks of 8 us at most (sheet 8271H, 24.4), a digital one 4 us.
TEST(PanelKinds, EveryPinThatIsReadCostsItsTime) {
  const auto cost = [](const std::string& text) {
    const auto panel = parse_panel(text, "x");
    return panel.ok() ? check(*panel.value()).rates.reading : Duration{};
  };
  EXPECT_EQ(cost(panel_of("stick", "")), microseconds(2 * 14 * 8 + 4));
  EXPECT_EQ(cost(panel_of("selector", "places = 5\n")), microseconds(5 * 4));
  EXPECT_EQ(cost(panel_of("encoder", "")), microseconds(2 * 4));
  EXPECT_EQ(cost(matrix("", control("a", "button", "cell = [1, 1]\n"))), microseconds(4));
}

TEST(PanelKinds, CheckListsEveryPinOfEveryPart) {
  const std::string text = matrix(
      "", control("power", "pot", "travel = \"slide 60 mm\"\n") +
              control("stick", "stick", "press_sends = [0, 1]\n") +
              control("lights", "selector", "sends = [\"OFF\", \"DIM\", \"FULL\"]\n") +
              control("knob", "encoder", "") + control("heat", "sensor", "source = \"20 kohm\"\n") +
              control("bell", "button", "cell = [1, 1]\nsends = [0, 1]\n"));
  const auto panel = parse_panel(text, "kinds.panel.toml");
  ASSERT_TRUE(panel.ok()) << panel.error().text;
  EXPECT_TRUE(is_approved("check/kinds.txt", written(check(*panel.value()))));
}

TEST(PanelKinds, PartsAreLaidOutWithoutLyingOnEachOther) {
  std::string text = "panel = \"X\"\n";
  for (int i = 0; i < 3; ++i) {
    const std::string n = std::to_string(i);
    text += control("p" + n, "pot", "travel = \"slide 100 mm\"\n") + control("s" + n, "stick", "") +
            control("l" + n, "selector", "") + "[[output]]\nname = \"d" + n +
            "\"\nkind = \"digits\"\n[[output]]\nname = \"g" + n + "\"\nkind = \"gauge\"\n";
  }
  const PanelDescription panel = described(text);
  struct Box {
    Place place;
    Footprint size;
  };
  std::vector<Box> boxes;
  for (const ControlDescription& one : panel.controls)
    boxes.push_back({one.place, footprint_of(one)});
  for (const OutputDescription& one : panel.outputs)
    boxes.push_back({one.place, footprint_of(one)});
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    const Box& a = boxes[i];
    EXPECT_GE(a.place.x_um, a.size.width_um / 2);
    EXPECT_LE(a.place.x_um + a.size.width_um / 2, panel.width_um);
    EXPECT_LE(a.place.y_um + a.size.height_um / 2, panel.height_um);
    for (std::size_t j = 0; j < i; ++j) {
      const Box& b = boxes[j];
      const bool apart =
          2 * std::abs(a.place.x_um - b.place.x_um) >= a.size.width_um + b.size.width_um ||
          2 * std::abs(a.place.y_um - b.place.y_um) >= a.size.height_um + b.size.height_um;
      EXPECT_TRUE(apart) << i << " and " << j;
    }
  }
}

TEST(PanelKinds, ANewPanelMayHaveAllOfThem) {
  const auto draft = draft_of_counts("Pad", {.pots = 1,
                                             .buttons = 1,
                                             .switches = 1,
                                             .selectors = 1,
                                             .sticks = 2,
                                             .encoders = 1,
                                             .sensors = 1,
                                             .lamps = 1});
  ASSERT_TRUE(draft.ok());
  const PanelDescription panel = described(draft_toml(draft.value()));
  ASSERT_EQ(panel.controls.size(), 8U);
  EXPECT_EQ(panel.controls[3].name, "selector_1");
  EXPECT_EQ(panel.controls[3].selector.places, 4);
  EXPECT_TRUE(panel.controls[6].encoder.interrupts);
  // No key of the keyboard moves two of them.
  EXPECT_EQ(remarks_of(draft_toml(draft.value())), "");
  EXPECT_EQ(draft_of_counts("Pad", {.pots = 32, .buttons = 16, .switches = 16, .sensors = 1})
                .error()
                .text,
            "65 controls are more than the 64 that a panel may have");
}

TEST(PanelKinds, AnEachLineNamesTheControlWhateverPartsStandBefore) {
  const auto panel =
      parse_panel("panel = \"X\"\n" + control("s", "stick", "") + control("b", "button", "") +
                      "[[line]]\nto = \"game\"\ntext = \"{#name}={#value}\"\neach = [\"b\"]\n",
                  "x");
  ASSERT_TRUE(panel.ok()) << panel.error().text;
  EXPECT_EQ(panel.value()->game_formats[0].control, 1);
  ASSERT_EQ(panel.value()->to_game_sources.size(), 4U);
  EXPECT_EQ(panel.value()->to_game_sources[2].part, 2);
  EXPECT_EQ(panel.value()->to_game_sources[3].part_of, 1);
}

}  // namespace
}  // namespace understudy
