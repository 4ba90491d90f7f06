// What check finds: pins, lamp currents against the data sheet's limits, rates, ages, hints.
#include <gtest/gtest.h>

#include "sim/panel/check_text.h"
#include "tests/sim/panel/panel_text.h"
#include "tests/support/approved.h"

namespace understudy {
namespace {

CheckReport checked(const std::string& text) {
  const auto panel = parse_panel(text, "x.panel.toml");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  return panel.ok() ? check(*panel.value()) : CheckReport{};
}

// "wrong D3: a and b are on the same pin; give each a pin of its own" and so on, one a line.
std::string remarks_of(const std::string& text) {
  static constexpr const char* kNames[] = {"note", "hint", "warning", "wrong"};
  std::string said;
  for (const Remark& remark : checked(text).remarks) {
    if (remark.about == "wire") continue;  // the baud of the default has a test of its own
    said += std::string(kNames[static_cast<int>(remark.severity)]) + " " + remark.about + ": " +
            remark.text + (remark.remedy.empty() ? "" : "; " + remark.remedy) + "\n";
  }
  return said;
}

std::string lamp(const std::string& name, const std::string& keys) {
  return "[[output]]\nname = \"" + name + "\"\nkind = \"lamp\"\n" + keys;
}

std::string lamps(int count, const std::string& keys) {
  std::string text;
  for (int i = 0; i < count; ++i) text += lamp("l" + std::to_string(i), keys);
  return text;
}

constexpr const char* kHead = "panel = \"X\"\n";

TEST(PanelCheck, PinsUsedTwiceOrOfTheWrongSortAreWrong) {
  EXPECT_EQ(remarks_of(with_two_controls("pin = \"A0\"\nsends = [0, 1]\n")),
            "");  // the pot moves on
  EXPECT_EQ(remarks_of("panel = \"X\"\n[[control]]\nname = \"a\"\nkind = \"pot\"\npin = \"A0\"\n"
                       "[[control]]\nname = \"b\"\nkind = \"pot\"\npin = \"A0\"\n"),
            "wrong A0: a and b are on the same pin; give each a pin of its own\n");
  EXPECT_EQ(
      remarks_of("panel = \"X\"\n[[control]]\nname = \"a\"\nkind = \"pot\"\npin = 2\n"),
      "wrong a: pin D2 cannot read a pot, for it is not analogue; take one of A0, A1, A2, A3, "
      "A4 or A5\n");
  EXPECT_EQ(remarks_of(with_two_controls("pin = 1\nsends = [0, 1]\n")),
            "wrong b: pin D1 belongs to the serial port, which speaks to the game; take another "
            "pin\n");
  EXPECT_EQ(remarks_of(with_two_controls("pin = 99\nsends = [0, 1]\n")),
            "warning b: pin D99 is none of this board's pins; the board has A0, A1, A2, A3, A4 or "
            "A5 and D0 to A5\n");
}

TEST(PanelCheck, WhatHoldsForSeveralPartsIsSaidOnce) {
  EXPECT_EQ(remarks_of(kHead + lamps(3, "resistor = \"100 ohm\"\n")),
            "warning l0, l1, l2: 30.0 mA is above the 20.0 mA that a pin should carry; take 150 "
            "ohm (E12), the next value that keeps it at 20.0 mA\n");
}

TEST(PanelCheck, ALampThatShallDimNeedsAPinThatCan) {
  const std::string dims =
      remarks_of(with_two_controls("sends = [0, 1]\n" + lamps(1, "pin = 7\n")));
  EXPECT_EQ(dims,
            "warning l0: pin D7 cannot dim: the lamp is dark or full, nothing between; take one of "
            "D3, D5, D6, D9, D10 or D11\n");
  EXPECT_EQ(remarks_of(with_two_controls("sends = [0, 1]\n[manners]\nparse = \"whole line\"\n" +
                                         lamps(1, "pin = 7\ntakes = [\"OFF\", \"ON\"]\n"))),
            "");
}

// The board's own lamp on that pin: common practice, no source.
TEST(PanelCheck, APullUpOnThePinOfTheBoardsLampIsHintedAt) {
  const std::string hint =
      "hint b: many boards have a lamp of their own on D13, which drags it down so that the "
      "pull-up may not read as 1; take another pin\n";
  EXPECT_EQ(remarks_of(with_two_controls("sends = [0, 1]\npin = 13\n")), hint);
  EXPECT_EQ(remarks_of(with_two_controls("sends = [0, 1]\npin = 12\n")), "");
  EXPECT_EQ(remarks_of(with_two_controls("sends = [0, 1]\npin = 13\nwired = \"pull-down\"\n")), "");
}

TEST(PanelCheck, APartWithoutAPinIsToldSo) {
  std::string text = kHead;
  for (int i = 0; i < 7; ++i)
    text += "[[control]]\nname = \"c" + std::to_string(i) + "\"\nkind = \"pot\"\n";
  EXPECT_EQ(remarks_of(text),
            "warning c6: no pin of its kind is left on this board; take a board "
            "with more pins, or give it one with pin =\n");
}

// ATmega328P, sheet 8271H p.300-301: 40 mA a pin; 20 mA a pin is the sheet's working figure. What a
// chip and its groups of pins carry is held to the sheet in tests/reference/supply_test.cpp.
TEST(PanelCheck, OnePinCarriesTwentyMilliamperesAndNeverMoreThanForty) {
  // (5 V - 2 V) / 150 ohm = 20 mA: at the figure, not above.
  EXPECT_EQ(remarks_of(kHead + lamps(1, "resistor = \"150 ohm\"\n")), "");
  EXPECT_EQ(remarks_of(kHead + lamps(1, "resistor = \"100 ohm\"\n")),
            "warning l0: 30.0 mA is above the 20.0 mA that a pin should carry; take 150 ohm (E12), "
            "the next value that keeps it at 20.0 mA\n");
  EXPECT_EQ(remarks_of(kHead + lamps(1, "resistor = \"68 ohm\"\ncolour = \"blue\"\n")),
            "warning l0: 26.5 mA is above the 20.0 mA that a pin should carry; take 100 ohm (E12) "
            "or 91 ohm (E24), the next value that keeps it at 20.0 mA\n");
  EXPECT_EQ(remarks_of(kHead + lamps(1, "resistor = \"70 ohm\"\n")),
            "wrong l0: 42.9 mA is above the 40.0 mA that a pin may ever carry; take 150 ohm (E12), "
            "the next value that keeps it at 20.0 mA\n");
}

TEST(PanelCheck, UsbGivesFiveHundredMilliamperes) {
  // USB 2.0, 7.2.1: a configured high-power port.
  EXPECT_EQ(remarks_of("panel = \"X\"\n[board]\nbase_current = \"481 mA\"\n" +
                       lamps(1, "resistor = \"150 ohm\"\n")),
            "warning the supply: with all lamps lit it carries 501.0 mA, above 500.0 mA: the board "
            "restarts; a supply of its own for the lamps and all else that draws much; what is "
            "overloaded grows hot: let somebody qualified look at it\n");
}

TEST(PanelCheck, AnLedAboveTheSupplyStaysDarkAndOneNearItIsFaint) {
  const std::string native = "panel = \"X\"\nboard = \"native-usb-32bit\"\n";
  EXPECT_EQ(remarks_of(native + lamps(1, "forward = \"3.4 V\"\n")),
            "warning l0: an LED of 3.4 V stays dark at 3.3 V; take another colour or drive it from "
            "a higher supply by a transistor\n");
  EXPECT_EQ(remarks_of(native + lamps(1, "colour = \"blue\"\n")),
            "hint l0: with 0.5 mA it is hardly seen by daylight; a smaller resistor makes it "
            "brighter\n");
}

TEST(PanelCheck, AnInputIsAsOldAsTheRoundTheReadingTheLineAndTheFlush) {
  const Rates rates = checked(with_two_controls("")).rates;
  // One reading is at most 14 ticks of 8 us (sheet 8271H, 24.4), a digital one 4 us.
  EXPECT_EQ(rates.reading, microseconds(14 * 8 + 4));
  EXPECT_EQ(rates.loop, milliseconds(20));
  EXPECT_EQ(rates.wire_bytes_a_second, 11'520);  // 115200 bits/s, ten bits a byte
  ASSERT_EQ(rates.to_game.size(), 1U);
  EXPECT_EQ(rates.to_game[0].bytes_max, 7);  // 1023,1 and a line feed
  EXPECT_EQ(rates.to_game_bytes_a_second, 7 * 50);
  const std::int64_t line_ns = (7 * 1'000'000'000LL + 11'519) / 11'520;
  EXPECT_EQ(rates.age_max.ns, 20'000'000 + 116'000 + line_ns + 4'000'000);
}

TEST(PanelCheck, EveryFiftyInALoopOfTwentyIsSixty) {
  const std::string text = with_two_controls(
      "sends = [0, 1]\n[[line]]\nto = \"game\"\ntext = \"{a},{b}\"\nsend = { every = \"50 ms\" "
      "}\n");
  EXPECT_EQ(checked(text).rates.to_game[0].interval, milliseconds(60));
  EXPECT_EQ(remarks_of(text),
            "hint lines to the game: every 50 ms in a loop of 20 ms is every 60 ms\n");
}

TEST(PanelCheck, ALineLongerThanTheWireCarriesSlowsTheLoop) {
  // 9600 baud carry 960 bytes a second: 23 bytes take 23.96 ms.
  std::string text =
      "panel = \"X\"\n[manners]\nloop = \"10 ms\"\n[wire]\nbaud = 9600\n"
      "[[control]]\nname = \"a\"\nkind = \"pot\"\n[[line]]\nto = \"game\"\n"
      "text = \"0123456789012345:{a}\"\n";
  const Rates rates = checked(text).rates;
  EXPECT_EQ(rates.to_game[0].bytes_max, 22);
  EXPECT_EQ(rates.loop.ns, (22 * 1'000'000'000LL + 959) / 960);
  EXPECT_NE(remarks_of(text).find("printing take 22.92 ms each round, so a loop of 10 ms cannot"),
            std::string::npos);
  // Printing never catches up, so each line waits behind a full ring of 63 bytes.
  EXPECT_EQ(rates.age_max.ns,
            rates.loop.ns + 112'000 + ((22 + 63) * 1'000'000'000LL + 959) / 960 + 4'000'000);
}

TEST(PanelCheck, OneByteEachRoundIsToldToBeSlow) {
  const std::string said =
      remarks_of(with_two_controls("sends = [0, 1]\n[manners]\ngather = \"one byte a loop\"\n") +
                 lamps(3, ""));
  EXPECT_EQ(said,
            "warning lines to the panel: at one byte each round a line of 12 bytes takes 240 "
            "ms to be read; read all that has come in each round\n");
}

TEST(PanelCheck, ASlowLoopLosesBytesOfAFastGame) {
  // 60 lines a second of 12 bytes in 100 ms: 72 bytes; a ring of 64 holds 63.
  const std::string said = remarks_of(
      with_two_controls("sends = [0, 1]\n[manners]\nloop = \"100 ms\"\n") + lamps(3, ""));
  EXPECT_EQ(said,
            "warning lines to the panel: a game that sends 60 lines a second brings 72 bytes "
            "in one round of the loop, and the board has room for 63: the rest is lost; a "
            "shorter loop, or a game that sends on change\n");
}

struct Baud {
  std::int64_t baud;
  bool double_speed;
  std::int64_t error_ppm;
};

TEST(PanelCheck, TheDividersErrorIsTheDataSheets) {
  // ATmega328P, DS40002061A table 20-4 and 2545D table 84, 16 MHz.
  const Baud bauds[] = {{9'600, true, 1'602},    {57'600, true, -7'937},    {115'200, true, 21'242},
                        {250'000, true, 0},      {115'200, false, -35'494}, {57'600, false, 21'242},
                        {230'400, false, 85'069}};
  for (const Baud& one : bauds) {
    const CheckReport report =
        checked("panel = \"X\"\n[board]\ndouble_speed = " +
                std::string(one.double_speed ? "true" : "false") +
                "\n[wire]\nbaud = " + std::to_string(one.baud) + "\n" + lamps(1, ""));
    EXPECT_NEAR(static_cast<double>(report.rates.baud_error_ppm),
                static_cast<double>(one.error_ppm), 1)
        << one.baud;
    // 230400 without double speed is outside what a receiver takes: 0.9216 < 0.9536.
    const bool warned = !report.remarks.empty() && report.remarks[0].severity == Severity::kWarning;
    EXPECT_EQ(warned, one.error_ppm > 80'000) << one.baud;
  }
}

// The same tables: bauds whose error is within the advised 1.5 % (8 samples) or 2 % (16 samples).
TEST(PanelCheck, ABaudThatIsOffNamesThoseThatAreNear) {
  const auto about_wire = [](const std::string& keys) {
    const CheckReport report = checked(kHead + keys + lamps(3, "resistor = \"100 ohm\"\n"));
    const Remark& last = report.remarks.back();  // notes stand behind all else
    return last.about == "wire" ? last : Remark{};
  };
  const Remark note = about_wire("");
  EXPECT_EQ(note.severity, Severity::kNote);
  EXPECT_EQ(note.text,
            "115200 baud is 2.12 % fast on this chip's clock, which works while the computer's "
            "side is near exact (advised: at most 1.50 %)");
  EXPECT_EQ(note.remedy,
            "nothing to do while it works; if lines come spoilt: 9600, 19200, 38400, 57600, "
            "250000, 500000 or 1000000 baud are near enough");
  EXPECT_EQ(about_wire("[wire]\nbaud = 57600\n").about, "");
  const CheckReport off = checked(
      kHead + std::string("[board]\ndouble_speed = false\n[wire]\nbaud = 230400\n") + lamps(1, ""));
  ASSERT_EQ(off.remarks.size(), 1U);
  EXPECT_EQ(off.remarks[0].severity, Severity::kWarning);
  EXPECT_EQ(off.remarks[0].remedy,
            "9600, 19200, 38400, 250000, 500000 or 1000000 baud are near enough");
  // Not every panel is told of in its first line.
  EXPECT_TRUE(written(checked(kHead + lamps(1, ""))).starts_with("X (x.panel.toml): right\n"));
}

TEST(PanelCheck, NativeUsbHasNoBaudToBeWrong) {
  const Rates rates = checked("panel = \"X\"\nboard = \"native-usb-32bit\"\n" + lamps(1, "")).rates;
  EXPECT_EQ(rates.baud_error_ppm, 0);
  EXPECT_EQ(rates.wire_bytes_a_second, 1'216'000);  // 19 packets of 64 bytes each millisecond
}

TEST(PanelCheck, TheReportIsCalmAndAligned) {
  const std::string text = with_two_controls("pin = 2\n") +
                           lamp("red", "resistor = \"100 ohm\"\n") +
                           lamp("door_lamp", "colour = \"white\"\npin = 2\n");
  EXPECT_TRUE(is_approved("check/report.txt", written(checked(text))));
}

TEST(PanelCheck, HabitsThatSurpriseAreHinted) {
  EXPECT_EQ(
      remarks_of(with_two_controls("keys = { hold = \"W\" }\n[[control]]\nname = \"c\"\nkind = "
                                   "\"pot\"\nresistance = \"100 kohm\"\nkeys = { more = \"W\" }\n"
                                   "at_mm = [4000, 20]\n[face]\nwidth_mm = 100\n")),
      "warning c: lies beyond the edge of the face; move at_mm or enlarge face\n"
      "warning c: key W moves b as well; take another key\n"
      "hint b: carries what the pin reads: 0 when pressed, 1 when not; sends = [0, 1] turns "
      "it round, as a program with a ! does\n"
      "hint c: a pot of 100 kohm is too weak: part of the channel read before shows "
      "in it; 10 kohm is what most take\n");
}

// A reader for whole numbers finds none in a word, and two in 0.50.
TEST(PanelCheck, WordsAndDecimalsNeedAReaderOfWholeLines) {
  const std::string words = lamp("l", "takes = [\"dark\", \"dim\", \"bright\"]\npin = 9\n");
  const std::string decimals = lamp("l", "decimals = 2\ntakes = [0.00, 1.00]\npin = 9\n");
  EXPECT_EQ(remarks_of(kHead + words),
            "warning l: parse = \"integers in a row\" finds no words in a line: what the game says "
            "changes nothing; parse = \"whole line\"\n");
  EXPECT_EQ(remarks_of(kHead + decimals),
            "warning l: parse = \"integers in a row\" makes two numbers of one with a point: 0.50 "
            "becomes 0 and 50; parse = \"whole line\"\n");
  const std::string markers =
      "[to_panel]\nstarts = \"<\"\nends = \">\"\n[manners]\nparse = \"between markers\"\n";
  EXPECT_EQ(remarks_of(kHead + markers + words),
            "warning l: parse = \"between markers\" finds no words in a line: what the game says "
            "changes nothing; parse = \"whole line\"\n");
  const std::string whole = std::string(kHead) + "[manners]\nparse = \"whole line\"\n";
  EXPECT_EQ(remarks_of(whole + words), "");
  EXPECT_EQ(remarks_of(whole + decimals), "");
  EXPECT_EQ(remarks_of(kHead + lamp("l", "pin = 9\n")), "");
}

std::string output_of_kind(const std::string& kind, const std::string& keys) {
  return kHead + ("[manners]\nparse = \"whole line\"\n[[output]]\nname = \"o\"\nkind = \"" + kind +
                  "\"\n" + keys);
}

TEST(PanelCheck, DigitsHaveRoomForWhatTheyTake) {
  EXPECT_EQ(remarks_of(output_of_kind("digits", "digits = 2\ntakes = [0, 9999]\n")),
            "warning o: what it takes needs 4 digits, and it has 2; digits = 4, or a narrower "
            "takes\n");
  EXPECT_EQ(remarks_of(output_of_kind("digits", "digits = 2\ntakes = [-10, 50]\n")),
            "warning o: what it takes needs 3 digits, and it has 2; digits = 3, or a narrower "
            "takes\n");
  EXPECT_EQ(remarks_of(output_of_kind("digits", "digits = 2\ndecimals = 2\ntakes = [0, 0.99]\n")),
            "warning o: what it takes needs 3 digits, and it has 2; digits = 3, or a narrower "
            "takes\n");
  EXPECT_EQ(remarks_of(output_of_kind("digits", "decimals = 2\ntakes = [0.00, 23.59]\n")), "");
  EXPECT_EQ(remarks_of(output_of_kind("digits", "digits = 2\n")), "");
}

// ISO 226 gives loudness from 20 Hz on.
TEST(PanelCheck, APitchThatNobodyHearsIsToldOf) {
  const std::string pitched = "sounds = \"at the pitch given\"\ndriven = \"by a transistor\"\n";
  EXPECT_EQ(remarks_of(output_of_kind("buzzer", pitched + "takes = [0, 1]\n")),
            "warning o: its highest pitch is 1 Hz, which nobody hears; takes = [0, 5000], or "
            "sounds = \"by itself\" to be on or off\n");
  EXPECT_EQ(remarks_of(output_of_kind("buzzer", pitched + "takes = [0, 20]\n")), "");
  EXPECT_EQ(remarks_of(output_of_kind("buzzer", pitched)), "");
}

// A 1 needs 0.6 of the supply and a 0 at most 0.3 (ATmega328P data sheet 8271H, table 29-1): of
// 35 kohm above a contact to ground that leaves it 15 kohm.
TEST(PanelCheck, AContactThatNeverReadsAsClosedIsToldOf) {
  const auto button = [](const std::string& keys) {
    return with_two_controls("sends = [0, 1]\n" + keys);
  };
  EXPECT_EQ(remarks_of(button("contact = \"1 Mohm\"\n")),
            "warning b: a contact of 1 Mohm never reads as closed beside the 35 kohm that hold its "
            "pin; contact = at most 15 kohm\n");
  EXPECT_EQ(remarks_of(button("contact = \"15 kohm\"\n")), "");
  EXPECT_NE(remarks_of(button("contact = \"15.1 kohm\"\n")), "");
  // To the supply it is the other side that has to be strong.
  EXPECT_EQ(remarks_of(button("wired = \"pull-down\"\ncontact = \"23 kohm\"\n")), "");
  EXPECT_NE(remarks_of(button("wired = \"pull-down\"\ncontact = \"24 kohm\"\n")), "");
}

TEST(PanelCheck, ValuesThatAnotherCourseLeavesUnreadAreToldOf) {
  const std::string sensor =
      "panel = \"X\"\n[[control]]\nname = \"heat\"\nkind = \"sensor\"\nvalues = [1, 2]\n";
  EXPECT_EQ(remarks_of(sensor), "");
  EXPECT_EQ(remarks_of(sensor + "course = \"sine\"\n"),
            "warning heat: has values, but another course: none of them is ever measured; course = "
            "\"values\", or take the values out\n");
}

}  // namespace
}  // namespace understudy
