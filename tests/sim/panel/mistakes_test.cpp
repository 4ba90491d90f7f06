// Every kind of mistake in a panel file, and the exact words it is told in.
#include <gtest/gtest.h>

#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

struct Case {
  std::string text;
  std::string said;
};

void expect_all(const std::vector<Case>& cases) {
  for (const Case& one : cases) EXPECT_EQ(said_of(one.text), one.said) << one.text;
}

TEST(PanelMistakes, TextThatIsNotTomlIsToldWithItsPlace) {
  expect_all({
      {"panel = \"X\"\npanel = 3\n",
       "x.panel.toml:2:9: not TOML: Error while parsing key-value pair: cannot redefine existing "
       "string 'panel'"},
      {"panel = \n",
       "x.panel.toml:1:9: not TOML: Error while parsing key-value pair: expected value, saw "
       "'\\n'"},
      {"[[control]\n",
       "x.panel.toml:1:11: not TOML: Error while parsing table header: expected "
       "']', saw '\\n'"},
  });
}

TEST(PanelMistakes, WhatIsMissingIsNamedWithAnExample) {
  expect_all({
      {"",
       "x.panel.toml:1:1: panel: found no such key, expected panel = \"NAME\" in the first "
       "line\n"
       "x.panel.toml:1:1: control: found neither a control nor an output, expected at least "
       "one [[control]]; understudy new NAME writes a file to begin with"},
      {"panel = \"X\"\n[[control]]\nname = \"a\"\n",
       "x.panel.toml:2:1: control.kind: found no such key, expected a kind of control; add kind = "
       "\"pot\""},
      {"panel = \"X\"\n[[control]]\nkind = \"pot\"\n",
       "x.panel.toml:2:1: control.name: found no such key, expected a name that begins with a "
       "letter, of letters, digits, _ and -, at most 40; add name = \"power\""},
      {with_two_controls("[[line]]\ntext = \"{a}\"\n"),
       "x.panel.toml:10:1: line.to: found no such key, expected a direction; add to = \"game\""},
      {with_two_controls("[[line]]\nto = \"game\"\ntext = \"{a}\"\ncheck = { as = \"{hex}\" }\n"),
       "x.panel.toml:13:9: line.check: found no kind, expected a kind of check such as \"xor\""},
  });
}

TEST(PanelMistakes, AnUnknownKeyIsToldWithTheNearestOne) {
  expect_all({
      {"pannel = \"X\"\n" + with_two_controls(""),
       "x.panel.toml:1:1: found the unknown key pannel, expected one of its keys; the nearest is "
       "panel"},
      {with_two_controls("tarvel = \"slide\"\n"),
       "x.panel.toml:10:1: control: found the unknown key tarvel, expected one of its keys; the "
       "nearest is travel"},
      {with_two_controls("[manners]\ngathering = \"as it comes\"\n"),
       "x.panel.toml:11:1: manners: found the unknown key gathering, expected one of its keys; the "
       "nearest is gather"},
      {with_two_controls("[wire]\nquite_unlike = 1\n"),
       "x.panel.toml:11:1: wire: found the unknown key quite_unlike, expected one of its keys; "
       "there are kind, baud, frame, board_clock_error or host_clock_error"},
  });
}

TEST(PanelMistakes, ValuesOfTheWrongShapeAreToldWithTheRightOne) {
  expect_all({
      {with_two_controls("[manners]\nloop = 20\n"),
       "x.panel.toml:11:8: manners.loop: found 20, expected a time such as \"20 ms\", or \"free\"; "
       "write its unit, in quotes"},
      {with_two_controls("[manners]\nloop = \"20\"\n"),
       "x.panel.toml:11:8: manners.loop: found \"20\", expected a time such as \"20 ms\", or "
       "\"free\""},
      {with_two_controls("[manners]\nloop = \"11 s\"\n"),
       "x.panel.toml:11:8: manners.loop: found \"11 s\", expected a time such as \"20 ms\", or "
       "\"free\", from 100 us to 10 s"},
      {with_two_controls("[manners]\nhello = 1\n"),
       "x.panel.toml:11:9: manners.hello: found 1, expected a text; put it in quotes"},
      {with_two_controls("[wire]\nbaud = \"9600\"\n"),
       "x.panel.toml:11:8: wire.baud: found \"9600\", expected a whole number of bits a second, "
       "from 300 to 4000000"},
      {with_two_controls("[wire]\nframe = \"9N1\"\n"),
       "x.panel.toml:11:9: wire.frame: found \"9N1\", expected data bits 5 to 8, parity N, E or O "
       "and stop bits 1 or 2, such as \"8N1\""},
      {with_two_controls("[board]\ndouble_speed = 1\n"),
       "x.panel.toml:11:16: board.double_speed: found 1, expected true or false"},
      {with_two_controls("[to_game]\naccepts = \"\\r\\n\"\n"),
       "x.panel.toml:11:11: to_game.accepts: found \"\\r\\n\", expected a list of texts; put it in "
       "[ ]"},
      {with_two_controls("face = 3\n"),
       "x.panel.toml:10:1: control: found the unknown key face, expected one of its keys; the "
       "nearest is name"},
      {"panel = \"X\"\nface = 3\n[[control]]\nname = \"a\"\nkind = \"pot\"\n",
       "x.panel.toml:2:8: face: found 3, expected a table"},
      {"panel = \"X\"\nface = { width_mm = -1 }\n[[control]]\nname = \"a\"\nkind = \"pot\"\n",
       "x.panel.toml:2:21: face.width_mm: found -1, expected a number of millimetres above 0, up "
       "to 5000"},
      {with_two_controls("at_mm = [40]\n"),
       "x.panel.toml:10:9: control.at_mm: found [40], expected two numbers of millimetres such as "
       "[40, 70]"},
      {with_two_controls("pin = 2.5\n"),
       "x.panel.toml:10:7: control.pin: found 2.5, expected the name of a pin such as \"A0\" or 3"},
      {with_two_controls("bounce = 2024-01-01\n"),
       "x.panel.toml:10:10: control.bounce: found a date or time, expected a table with mean and "
       "longest, or \"none\""},
      {"panel = \"X\"\n[control]\nname = \"a\"\nkind = \"pot\"\n",
       "x.panel.toml:2:1: control: found a table with name, kind, expected [[control]] before each "
       "of them; write it with double brackets"},
  });
}

TEST(PanelMistakes, AWrongWordIsToldWithTheWordsThereAreAndTheNearest) {
  expect_all({
      {"panel = \"X\"\nboard = \"bootloader8bit\"\n[[control]]\nname = \"a\"\nkind = \"pot\"\n",
       "x.panel.toml:2:9: board: found \"bootloader8bit\", expected \"bootloader-8bit\", "
       "\"bridge-16ms\", \"native-usb-32bit\", \"native-usb-8bit\", \"large-8bit\" or "
       "\"boot-text\"; the nearest is \"bootloader-8bit\""},
      {with_two_controls("[host]\nfull = \"drops oldest\"\n"),
       "x.panel.toml:11:8: host.full: found \"drops oldest\", expected \"drops newest\" or \"holds "
       "the board\"; the nearest is \"drops newest\""},
      {"panel = \"X\"\n[[control]]\nname = \"a\"\nkind = \"poti\"\n",
       "x.panel.toml:4:8: control.kind: found \"poti\", expected \"pot\", \"button\", "
       "\"switch\", \"selector\", \"stick\", \"encoder\" or \"sensor\"; the nearest is \"pot\""},
  });
}

TEST(PanelMistakes, AKeyOfAnotherKindIsSentBack) {
  expect_all({
      {"panel = \"X\"\n[[control]]\nname = \"a\"\nkind = \"pot\"\nwired = \"pull-up\"\n",
       "x.panel.toml:5:9: control.wired: found it at a pot, expected it only at buttons, "
       "switches, selectors, sticks or encoders; take it out or change kind"},
      {with_two_controls("taper = \"log\"\n"),
       "x.panel.toml:10:9: control.taper: found it at a button, expected it only at pots or "
       "sticks; "
       "take it out or change kind"},
      {with_two_controls("keys = { more = \"W\" }\n"),
       "x.panel.toml:10:17: control.keys.more: found it at a button, expected it only at pots, "
       "selectors, sticks or encoders; take it out or change kind"},
  });
}

TEST(PanelMistakes, WhatIsSentMustBeTwoEndsOrWordsThatDiffer) {
  expect_all({
      {with_two_controls("sends = [1, 1]\n"),
       "x.panel.toml:10:9: control.sends: found [1, 1], expected two different numbers"},
      {with_two_controls("sends = [\"UP\", \"UP\"]\n"),
       "x.panel.toml:10:16: control.sends: found \"UP\", expected a word that differs from the "
       "others"},
      {with_two_controls("sends = [0, 0.5]\n"),
       "x.panel.toml:10:13: control.sends: found 0.5, expected a whole number; decimals says how "
       "many there are"},
      {with_two_controls("sends = [0, 1e30]\n"),
       "x.panel.toml:10:13: control.sends: found 1e+30, expected a number of at most 12 digits"},
      {with_two_controls("decimals = 2\n"),
       "x.panel.toml:10:12: control.decimals: found it without sends, expected sends beside it; "
       "what a pin reads has no decimals"},
  });
}

TEST(PanelMistakes, NamesMustFitTogether) {
  expect_all({
      {with_two_controls("[[output]]\nname = \"a\"\nkind = \"lamp\"\n"),
       "x.panel.toml:11:8: output.name: found a second control called \"a\", expected a name of "
       "its own for each control and output"},
      {"panel = \"X\"\n[[control]]\nname = \"2nd\"\nkind = \"pot\"\n",
       "x.panel.toml:3:8: control.name: found \"2nd\", expected a name that begins with a letter, "
       "of letters, digits, _ and -, at most 40"},
      {with_two_controls("[[answer]]\nwhen = \"bb press\"\nexpect = \"lamp lit\"\n"),
       "x.panel.toml:11:8: answer.when: found \"bb press\", expected the name of a control and "
       "what it does; the nearest is b\n"
       "x.panel.toml:12:10: answer.expect: found \"lamp lit\", expected the name of an output and "
       "what it shows; the panel has none"},
      {with_two_controls("[[answer]]\nwhen = \"b jumps\"\nexpect = \"b lit\"\n"),
       "x.panel.toml:11:8: answer.when: found \"b jumps\", expected b and press, down or up\n"
       "x.panel.toml:12:10: answer.expect: found \"b lit\", expected the name of an output and "
       "what it shows; the panel has none"},
      {with_two_controls("[[line]]\nto = \"game\"\ntext = \"{#name}={#value}\"\neach = [\"a\", "
                         "\"bell\"]\nids = [1]\n"),
       "x.panel.toml:13:14: line.each: found \"bell\", expected the name of a control; there are a "
       "or b\n"
       "x.panel.toml:14:7: line.ids: found a list of 1, expected a number for each of the 2 "
       "names of each"},
  });
}

TEST(PanelMistakes, TemplatesAreToldToTheColumn) {
  expect_all({
      {with_two_controls("[[line]]\nto = \"game\"\ntext = \"{a},{bb}\"\n"),
       "x.panel.toml:12:13: line.text: found `{bb}`, expected the name of a field; nearest is `b`; "
       "no line carries b: did you rename it?"},
      {with_two_controls("[[line]]\nto = \"game\"\ntext = '{a}{b}'\n"),
       "x.panel.toml:12:12: line.text: found what can begin with \"0\" directly after `{a}`, "
       "expected a separator between, or an exact width such as {a:4}"},
      {with_two_controls("[[line]]\nto = \"game\"\ntext = \"\\t{bb}\"\n"),
       "x.panel.toml:12:8: line.text, column 2: found `{bb}`, expected the name of a field; "
       "nearest is `b`; no line carries a or b: did you rename one?"},
  });
}

TEST(PanelMistakes, ARenamedControlIsFoundByTheLinesThatDoNotCarryIt) {
  const std::string line = "[[line]]\nto = \"game\"\n";
  expect_all({
      // a was called throttle when the line was written.
      {with_two_controls(line + "text = \"{throttle};{b}\"\n"),
       "x.panel.toml:12:9: line.text: found `{throttle}`, expected the name of a field; no line "
       "carries a: did you rename it?"},
      // Only whole names count: {ab} does not carry a.
      {with_two_controls(line + "text = \"{ab}:{b:2}\"\n"),
       "x.panel.toml:12:9: line.text: found `{ab}`, expected the name of a field; nearest is `a`; "
       "no line carries a: did you rename it?"},
      // All are carried by one line or another.
      {with_two_controls(line + "text = \"A{a}\"\n" + line + "text = \"B{b}{quite}\"\n"),
       "x.panel.toml:15:13: line.text: found `{quite}`, expected the name of a field"},
  });
}

TEST(PanelMistakes, AnUnknownKeyIsToldBesideAMissingOrWrongKind) {
  expect_all({
      {"panel = \"X\"\n[[control]]\nname = \"a\"\nkindd = \"pot\"\ntaper = \"log\"\n",
       "x.panel.toml:2:1: control.kind: found no such key, expected a kind of control; add kind = "
       "\"pot\"\n"
       "x.panel.toml:4:1: control: found the unknown key kindd, expected one of its keys; the "
       "nearest is kind"},
      {with_two_controls("[[output]]\nname = \"c\"\nkind = \"lmap\"\ncolor = \"red\"\n"),
       "x.panel.toml:12:8: output.kind: found \"lmap\", expected \"lamp\", \"rgb\", \"gauge\", "
       "\"buzzer\" or \"digits\"; the nearest is \"lamp\"\n"
       "x.panel.toml:13:1: output: found the unknown key color, expected one of its keys; the "
       "nearest is colour"},
  });
}

TEST(PanelMistakes, ATableThatStandsTwiceIsToldToBeAList) {
  for (const std::string name : {"control", "output", "line", "answer"}) {
    const std::string one = "[" + name + "]\nname = \"a\"\n";
    const std::string several = "[[" + name + "]]\nname = \"b\"\n";
    const std::string advice = "; write [[" + name + "]] for each";
    for (const std::string& text : {one + one, one + several, several + one}) {
      const std::string said = said_of("panel = \"X\"\n" + text);
      EXPECT_TRUE(said.ends_with(advice)) << said;
      EXPECT_NE(said.find("not TOML"), std::string::npos) << said;
    }
  }
  EXPECT_EQ(said_of("[wire]\n[wire]\n").find("[["), std::string::npos);
}

TEST(PanelMistakes, AKeyOfTheKeyboardIsACharacterOrOneOfTheNames) {
  for (const std::string key : {"b", "1", ";", "F12", "left", "space", ""})
    EXPECT_EQ(said_of(with_two_controls("keys = { hold = \"" + key + "\" }\n")), "") << key;
  const auto told = [](const std::string& key) {
    return said_of(with_two_controls("keys = { hold = \"" + key + "\" }\n"));
  };
  const std::string expected =
      "expected one character such as \"B\", or the name of a key; the nearest is ";
  EXPECT_EQ(told("lefft"),
            "x.panel.toml:10:17: control.keys.hold: found \"lefft\", " + expected + "left");
  EXPECT_EQ(told(" "), "x.panel.toml:10:17: control.keys.hold: found \" \", " + expected + "space");
  EXPECT_NE(told("banana").find("there are space, enter, tab"), std::string::npos);
}

TEST(PanelMistakes, TwoLinesThatCanBeReadFromOneTextAreBothShown) {
  expect_all({
      {with_two_controls("[[line]]\nto = \"game\"\ntext = \"{a},{b}\"\n[[line]]\nto = \"game\"\n"
                         "text = \"{b},{a}\"\n"),
       "x.panel.toml:15:8: line.text: found `{a},{b}` and `{b},{a}`, which can both be read from "
       "one line, expected formats that differ in every line, by a letter in front for example; "
       "the other line stands at 12:8; see the line \"0,0\""},
  });
}

TEST(PanelMistakes, WhenALineIsSentIsSaidOnce) {
  expect_all({
      {with_two_controls("[[line]]\nto = \"game\"\ntext = \"{a}\"\nsend = { every = \"50 ms\", "
                         "asked = \"?\" }\n"),
       "x.panel.toml:13:8: line.send: found a table with every, asked, expected exactly one of "
       "every, on_change and asked, and refresh only beside on_change"},
      {with_two_controls("[[output]]\nname = \"c\"\nkind = \"lamp\"\n[[line]]\nto = \"panel\"\n"
                         "text = \"{c}\"\nsend = \"every loop\"\n"),
       "x.panel.toml:16:8: line.send: found it at a line to the panel, expected it only at lines "
       "to the game; the game decides when it sends"},
  });
}

TEST(PanelMistakes, SeveralAreToldInTheOrderOfTheFileAndNotTooMany) {
  std::string text = with_two_controls("");
  for (int i = 0; i < 30; ++i) text += "wrong_" + std::to_string(i) + " = 1\n";
  const std::string said = said_of(text);
  EXPECT_EQ(std::count(said.begin(), said.end(), '\n'), 20);
  EXPECT_TRUE(said.starts_with("x.panel.toml:10:1: control: found the unknown key wrong_0,"))
      << said;
  EXPECT_TRUE(said.ends_with("\nx.panel.toml: and 10 more mistakes")) << said;
}

TEST(PanelMistakes, MoreThanADeviceHoldsIsRefused) {
  std::string many = "panel = \"X\"\n";
  for (int i = 0; i < 65; ++i)
    many += "[[control]]\nname = \"c" + std::to_string(i) + "\"\nkind = \"button\"\n";
  EXPECT_EQ(said_of(many), "x.panel.toml:194:1: control: found 65 of them, expected at most 64");
  std::string lines = with_two_controls("");
  for (int i = 0; i < 17; ++i)
    lines += "[[line]]\nto = \"game\"\ntext = \"" + std::to_string(i) + ":{a}\"\n";
  EXPECT_EQ(said_of(lines), "x.panel.toml: line: found 17 lines, expected at most 16");
  EXPECT_EQ(said_of(with_two_controls("[to_game]\nlongest = 1025\n")),
            "x.panel.toml:11:11: to_game.longest: found 1025, expected a whole number of bytes, "
            "from 1 to 1024");
  EXPECT_EQ(said_of(with_two_controls("[host]\nbuffer = 16385\n")),
            "x.panel.toml:11:10: host.buffer: found 16385, expected a whole number of bytes, from "
            "64 to 16384");
}

}  // namespace
}  // namespace understudy
