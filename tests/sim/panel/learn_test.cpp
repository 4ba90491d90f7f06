// Lines as home-made boxes send them -> the panel that is guessed from them; all of it is right.
#include "sim/panel/learn.h"

#include <gtest/gtest.h>

#include "sim/panel/samples.h"
#include "tests/sim/panel/panel_text.h"
#include "tests/support/approved.h"

namespace understudy {
namespace {

Draft learnt(const std::string& line) {
  const auto samples = samples_of_line(line);
  EXPECT_TRUE(samples.ok());
  const auto draft = learn(samples.value(), "X");
  EXPECT_TRUE(draft.ok()) << line << ": " << (draft.ok() ? "" : draft.error().text);
  return draft.ok() ? draft.value() : Draft{};
}

Draft learnt_from_file(const std::string& text) {
  const auto samples = samples_of_file(text, "log");
  EXPECT_TRUE(samples.ok()) << (samples.ok() ? "" : samples.error().text);
  const auto draft = learn(samples.value(), "X");
  EXPECT_TRUE(draft.ok()) << (draft.ok() ? "" : draft.error().text);
  return draft.ok() ? draft.value() : Draft{};
}

// "pot a -1023..1023, button b" in the order of the file.
std::string parts_of(const Draft& draft) {
  std::string text;
  for (const DraftControl& control : draft.controls) {
    text += (text.empty() ? "" : ", ") +
            std::string(control.kind == ControlKind::kPot ? "pot " : "button ") + control.name;
    if (control.kind == ControlKind::kPot)
      text += " " + std::to_string(control.low) + ".." + std::to_string(control.high);
    for (const std::string& word : control.words) text += " " + word;
  }
  return text;
}

struct Case {
  std::string line;
  std::string text;
  std::string parts;
};

TEST(PanelLearn, EveryShapeOfLineKeepsItsText) {
  const Case cases[] = {
      {"512", "{pot_1}", "pot pot_1 0..1023"},
      {"512,300,1,0", "{pot_1},{pot_2},{button_1},{button_2}",
       "pot pot_1 0..1023, pot pot_2 0..1023, button button_1, button button_2"},
      {"512,1,", "{pot_1},{button_1},", "pot pot_1 0..1023, button button_1"},
      {"512, 300", "{pot_1}, {pot_2}", "pot pot_1 0..1023, pot pot_2 0..1023"},
      {"512\t0", "{pot_1}\t{button_1}", "pot pot_1 0..1023, button button_1"},
      {"0.53,-0.02,1", "{pot_1},{pot_2},{button_1}",
       "pot pot_1 0..100, pot pot_2 -100..100, button button_1"},
      {"<512,300,1>", "{pot_1},{pot_2},{button_1}",
       "pot pot_1 0..1023, pot pot_2 0..1023, button button_1"},
      {"0,512,45;", "{button_1},{pot_1},{pot_2};",
       "button button_1, pot pot_1 0..1023, pot pot_2 0..1023"},
      {"P1 raw: 512", "P1 raw: {P1_raw}", "pot P1_raw 0..1023"},
      {"pot1=512;btn2=1", "pot1={pot1};btn2={btn2}", "pot pot1 0..1023, button btn2"},
      {"T512", "T{T}", "pot T 0..1023"},
      {"F0", "F{F}", "button F"},
      {"BTN3 DOWN", "BTN3 {BTN3}", "button BTN3 UP DOWN"},
      {"door open", "door {door}", "button door closed open"},
      {"{\"pot\":512,\"btn\":1}", "{{\"pot\":{pot},\"btn\":{btn}}}", "pot pot 0..1023, button btn"},
      {"0512,0003", "{pot_1:4},{pot_2:4}", "pot pot_1 0..1023, pot pot_2 0..1023"},
      {"0045,0003,012", "{pot_1:4},{pot_2:4},{pot_3:3}",
       "pot pot_1 0..1023, pot pot_2 0..1023, pot pot_3 0..999"},
      {"3000,70000", "{pot_1},{pot_2}", "pot pot_1 0..4095, pot pot_2 0..99999"},
      {"a=5 a=6", "a={a} a={a_2}", "pot a 0..1023, pot a_2 0..1023"},
  };
  for (const Case& one : cases) {
    const Draft draft = learnt(one.line);
    ASSERT_EQ(draft.lines.size(), 1U) << one.line;
    EXPECT_EQ(draft.lines[0].text, one.text) << one.line;
    EXPECT_EQ(parts_of(draft), one.parts) << one.line;
    EXPECT_EQ(said_of(draft_toml(draft)), "") << one.line;
  }
}

TEST(PanelLearn, TheLineThatWasShownIsOneThatThePanelCanSend) {
  for (const char* line :
       {"512,300,1,0", "0.53,-0.02,1", "pot1=512;btn2=1", "BTN3 DOWN", "0512,0003"}) {
    const auto panel = parse_panel(draft_toml(learnt(line)), "x");
    ASSERT_TRUE(panel.ok()) << panel.error().text;
    EXPECT_EQ(panel.value()->to_game.classify(line), 0) << line;
  }
}

TEST(PanelLearn, MarkersAndEndingsBecomeFraming) {
  EXPECT_EQ(learnt("<512,300>").to_game_starts, "<");
  EXPECT_EQ(learnt("<512,300>").to_game_ends, ">");
  EXPECT_EQ(learnt("512,300\\r\\n").to_game_ends, "\r\n");
  EXPECT_EQ(learnt("512,300\r\n").to_game_ends, "\r\n");
  // A sentence of NMEA 0183 with its check, as receivers send it.
  const Draft nmea = learnt("$GPRTE,1,1,c,0*07\\r\\n");
  EXPECT_EQ(nmea.to_game_starts, "$");
  EXPECT_TRUE(nmea.lines[0].nmea_check);
  EXPECT_EQ(nmea.lines[0].text, "GPRTE,{button_1},{button_2},c,{button_3}");
}

std::string log_of(int lines) {
  std::string text = "13,1\r\n";  // the first line of a log is often cut
  for (int i = 0; i < lines; ++i)
    text +=
        "T" + std::to_string(i * 9 % 1024) + "\r\nF" + std::to_string(i % 10 == 0 ? 0 : 1) + "\r\n";
  return text + "debug: 3 loops\r\n";
}

TEST(PanelLearn, ALogGivesOneLineForEachShapeThatComesOften) {
  const Draft draft = learnt_from_file(log_of(100));
  EXPECT_EQ(draft.to_game_ends, "\r\n");
  ASSERT_EQ(draft.lines.size(), 2U);
  EXPECT_EQ(draft.lines[0].text, "T{T}");
  EXPECT_EQ(draft.lines[1].text, "F{F}");
  EXPECT_TRUE(draft.lines[0].on_change);
  // F was 1 nine times of ten: nobody pressed it.
  EXPECT_EQ(draft.controls[1].low, 1);
  EXPECT_EQ(draft.controls[1].high, 0);
  EXPECT_EQ(said_of(draft_toml(draft)), "");
}

TEST(PanelLearn, ARecordingGivesBothDirectionsTheLoopAndTheHello) {
  std::string text =
      "{\"format\":1,\"seed\":7}\n"
      "{\"ns\":1500000000,\"seat\":\"a\",\"from\":\"panel\",\"text\":\"desk 1\\n\"}\n";
  for (int i = 0; i < 50; ++i) {
    const std::string at = std::to_string(1'600'000'000 + i * 25'000'000LL);
    // Chunks cut lines in two, as flushes do.
    text += "{\"ns\":" + at + ",\"seat\":\"a\",\"from\":\"panel\",\"text\":\"" +
            std::to_string(i * 37 % 900) + ",\"}\n{\"ns\":" + at +
            ",\"seat\":\"a\",\"from\":\"panel\",\"text\":\"0\\n\"}\n" + "{\"ns\":" + at +
            ",\"seat\":\"b\",\"from\":\"panel\",\"text\":\"other\"}\n" + "{\"ns\":" + at +
            ",\"seat\":\"a\",\"from\":\"game\",\"hex\":\"3235352c300a\"}\n";
  }
  const Draft draft = learnt_from_file(text);
  EXPECT_EQ(draft.hello, "desk 1");
  EXPECT_EQ(draft.loop, milliseconds(25));
  ASSERT_EQ(draft.lines.size(), 2U);
  EXPECT_EQ(draft.lines[0].text, "{pot_1},{button_1}");
  EXPECT_EQ(draft.lines[1].text, "{lamp_1},{lamp_2}");
  EXPECT_FALSE(draft.lines[1].to_game);
  EXPECT_EQ(said_of(draft_toml(draft)), "");
}

TEST(PanelLearn, ANumberThatCountsLinesIsNoControl) {
  std::string text;
  for (int i = 95; i < 130; ++i)
    text += "S," + std::to_string(i) + "," + std::to_string(i * 7 % 500) + "\n";
  const Draft draft = learnt_from_file(text);
  EXPECT_EQ(draft.lines[0].text, "S,{#sequence},{pot_1}");
  EXPECT_EQ(draft.controls.size(), 1U);
}

TEST(PanelLearn, NoTextIsTakenForTheMarkOfAValue) {
  // Found by fuzzing: a control byte in the text made two shapes look alike.
  const Draft draft = learnt_from_file("\x02,5\n5,5\n\x01,5\n");
  EXPECT_EQ(draft.lines.size(), 3U);
  EXPECT_EQ(said_of(draft_toml(draft)), "");
}

TEST(PanelLearn, DecimalsWithoutTheirZerosAreShort) {
  const Draft draft = learnt_from_file("0.5\n0.25\n1\n0.75\n");
  EXPECT_EQ(said_of(draft_toml(draft)), "");
  ASSERT_GE(draft.lines.size(), 1U);
  EXPECT_EQ(draft.lines[0].text, "{pot_1:short}");
}

TEST(PanelLearn, TheFileExplainsItself) {
  EXPECT_TRUE(is_approved("new/from_line.toml", draft_toml(learnt("<512,-0.25,BTN UP>"))));
  Draft told = draft_of_counts("Night desk", {.pots = 1, .switches = 2, .lamps = 2}).value();
  told.origin = "Made from six answers.";
  EXPECT_TRUE(is_approved("new/answers.toml", draft_toml(told)));
  EXPECT_EQ(said_of(draft_toml(told)), "");
}

TEST(PanelLearn, ALineThatIsTheDefaultIsNotWrittenSoThatARenameIsDoneOnce) {
  Draft draft = learnt("512,300,1,0");
  EXPECT_EQ(draft_toml(draft).find("\n[[line]]\n"), std::string::npos);
  EXPECT_NE(draft_toml(draft).find("# To the game, such as 512,300,1,0\n"), std::string::npos);
  const auto panel = parse_panel(draft_toml(draft), "x");
  ASSERT_TRUE(panel.ok());
  EXPECT_EQ(panel.value()->to_game.format(0).text(), draft.lines[0].text);
  for (const char* other : {"512;300", "0512,1", "a=1", "$GPRTE,1,1,c,0*07"})
    EXPECT_NE(draft_toml(learnt(other)).find("\n[[line]]\n"), std::string::npos) << other;
}

TEST(PanelLearn, ABoxWithPullUpsThatNobodyTouchesIsMentioned) {
  const Draft all_up = learnt("512,300,1,1,1,1,1,1");
  ASSERT_EQ(all_up.remarks.size(), 1U);
  EXPECT_EQ(all_up.remarks[0],
            "All buttons sent 1: if nobody pressed them, 1 is up, and sends is [1, 0].");
  EXPECT_NE(draft_toml(all_up).find("# up, down; if yours sends 1 while up, write [1, 0]\n"),
            std::string::npos);
  EXPECT_TRUE(learnt("512,300,1,0").remarks.empty());
  EXPECT_TRUE(learnt("512,300").remarks.empty());
  EXPECT_TRUE(learnt("BTN3 DOWN").remarks.empty());
  // Of many lines the guess is made: they stand at rest most of the time.
  std::string log;
  for (int i = 0; i < 20; ++i) log += "512,1\n";
  EXPECT_TRUE(learnt_from_file(log).remarks.empty());
  EXPECT_EQ(learnt_from_file(log).controls[1].low, 1);
}

TEST(PanelLearn, WithoutLampsTheFileShowsHowToAddThem) {
  std::string text = draft_toml(learnt("512,1"));
  std::size_t at = text.find("# [[output]]\n");
  ASSERT_NE(at, std::string::npos);
  // Its lines without their # are a lamp.
  for (int line = 0; line < 5; ++line) {
    ASSERT_EQ(text.substr(at, 2), "# ");
    text.erase(at, 2);
    at = text.find('\n', at) + 1;
  }
  EXPECT_EQ(described(text).outputs.size(), 1U);
}

TEST(PanelLearn, WhatHoldsNoLinesIsRefused) {
  const auto said = [](const std::string& text) {
    const auto samples = samples_of_file(text, "log");
    if (!samples.ok()) return samples.error().text;
    const auto draft = learn(samples.value(), "X");
    return draft.ok() ? std::string() : draft.error().text;
  };
  EXPECT_EQ(said(""), "cannot learn from log: it holds no lines from a panel");
  EXPECT_EQ(said("hello\nworld\n"),
            "no line to the game with a number or a state in it was found; a "
            "line such as 512,300,1,0 would do");
  EXPECT_EQ(said(std::string("a\0b", 3)), "cannot learn from log: it is no text");
  EXPECT_EQ(said("\x28\xb5\x2f\xfd...."),
            "cannot learn from log: it is compressed; zstd -d makes it "
            "readable");
  EXPECT_EQ(said("{\"format\":1}\n{\"from\":\"game\",\"text\":\"1\\n\"}\n"),
            "cannot learn from log: it holds no lines from a panel");
}

}  // namespace
}  // namespace understudy
