// Whole blocks put in, taken out and copied; controls and outputs with all that speaks of them.
#include <gtest/gtest.h>

#include "sim/panel/edit.h"
#include "sim/panel/edit_history.h"
#include "sim/panel/edit_lines.h"
#include "sim/panel/edit_parts.h"
#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

std::string done(const Result<std::string>& edit) {
  EXPECT_TRUE(edit.ok()) << (edit.ok() ? "" : edit.error().text);
  return edit.ok() ? edit.value() : "";
}

const std::string kTwo =
    "panel = \"X\"\n"
    "\n"
    "# ---- Hands ----\n"
    "\n"
    "# the first\n"
    "[[control]]\n"
    "name = \"a\"   # one\n"
    "kind = \"pot\"\n"
    "# still the first\n"
    "\n"
    "# the second\n"
    "[[control]]\n"
    "name = \"b\"\n"
    "kind = \"button\"\n"
    "\n"
    "# ---- Lines ----\n"
    "\n"
    "[[line]]\n"
    "to = \"game\"\n"
    "text = \"{a},{b}\"\n";

TEST(EditBlocks, ABlockGoesWithTheCommentsThatAreItsOwn) {
  EXPECT_EQ(done(remove_block(kTwo, {"control", 0})),
            "panel = \"X\"\n"
            "\n"
            "# ---- Hands ----\n"
            "\n"
            "# the second\n"
            "[[control]]\n"
            "name = \"b\"\n"
            "kind = \"button\"\n"
            "\n"
            "# ---- Lines ----\n"
            "\n"
            "[[line]]\n"
            "to = \"game\"\n"
            "text = \"{a},{b}\"\n");
}

TEST(EditBlocks, TheHeadingOfASectionStaysWhenItsLastBlockGoes) {
  const std::string text = done(remove_block(kTwo, {"control", 1}));
  EXPECT_NE(text.find("# still the first\n\n# ---- Lines ----\n"), std::string::npos) << text;
  EXPECT_EQ(done(remove_block(kTwo, {"line", 0})),
            kTwo.substr(0, kTwo.find("# ---- Lines ----\n") + 18));
}

TEST(EditBlocks, ANewBlockGoesBehindTheLastOfItsKind) {
  EXPECT_EQ(done(add_block(kTwo, "control", {{"name", "\"c\""}, {"kind", "\"pot\""}})),
            std::string(kTwo).insert(kTwo.find("\n# ---- Lines"),
                                     "\n[[control]]\nname = \"c\"\nkind = \"pot\"\n"));
}

TEST(EditBlocks, TheFirstOfAKindGoesWhereItUsuallyStands) {
  EXPECT_EQ(done(add_block(kTwo, "output", {{"name", "\"c\""}, {"kind", "\"lamp\""}})),
            std::string(kTwo).insert(kTwo.find("\n# ---- Lines"),
                                     "\n[[output]]\nname = \"c\"\nkind = \"lamp\"\n"));
  EXPECT_EQ(done(add_block("panel = \"X\"", "control", {{"name", "\"c\""}})),
            "panel = \"X\"\n\n[[control]]\nname = \"c\"");
}

TEST(EditBlocks, NeighboursWithoutBlankLinesGetNone) {
  EXPECT_EQ(done(add_block("[[control]]\nname=\"a\"\n[[control]]\nname=\"b\"\n", "control",
                           {{"name", "\"c\""}})),
            "[[control]]\nname=\"a\"\n[[control]]\nname=\"b\"\n[[control]]\nname=\"c\"\n");
}

TEST(EditBlocks, SubTablesGoWithTheirBlock) {
  EXPECT_EQ(done(remove_block("[[control]]\nname = \"a\"\n[control.keys]\nhold = \"B\"\n\n"
                              "[[control]]\nname = \"b\"\n",
                              {"control", 0})),
            "[[control]]\nname = \"b\"\n");
}

TEST(EditBlocks, OneListOfInlineTablesIsRefusedByName) {
  const auto refused =
      add_block("\ncontrol = [{ name = \"a\" }]\n", "control", {{"name", "\"b\""}});
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.error().text,
            "cannot add to control: control is written as one list in line 2; write [[control]] "
            "before each of them to do so here");
}

TEST(EditParts, RemovingAPartTakesItOutOfLinesEachAndAnswers) {
  const std::string text = with_two_controls(
      "\n[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n"
      "\n[[line]]\nto = \"game\"\ntext = \"P{a};{b}\" # both\n"
      "\n[[answer]]\nwhen = \"b press\"\nexpect = \"lamp lit\"\n");
  EXPECT_EQ(done(remove_part(text, {"control", 1})),
            "panel = \"X\"\n\n[[control]]\nname = \"a\"\nkind = \"pot\"\n"
            "\n[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n"
            "\n[[line]]\nto = \"game\"\ntext = \"P{a}\"     # both\n");
  const std::string each = with_two_controls(
      "\n[[line]]\nto = \"game\"\ntext = \"{#id}={#value}\"\neach = [\"a\", \"b\"]\nids = [1, "
      "2]\n");
  EXPECT_EQ(done(remove_part(each, {"control", 0})),
            "panel = \"X\"\n\n[[control]]\nname = \"b\"\nkind = \"button\"\n"
            "\n[[line]]\nto = \"game\"\ntext = \"{#id}={#value}\"\neach = [\"b\"]\nids = [2]\n");
}

TEST(EditParts, ARenamedPartIsRenamedEverywhere) {
  const std::string text =
      "panel = \"X\"\n[[control]]\nname = 'bell' # bell\nkind = \"button\"\n"
      "[[control]]\nname = \"bell-2\"\nkind = \"button\"\n"
      "[[control]]\nname = \"c\"\nkind = \"button\"\n"
      "[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n"
      "[[line]]\nto = \"game\"\ntext = \"bell {{bell}} {bits low first: c bell bell-2:2x} "
      "{bell:1}\"\n"
      "[[line]]\nto = \"game\"\ntext = \"!{#name} {#value}\"\neach = [\"c\", \"bell\"]\n"
      "[[answer]]\nwhen = \"bell press\"\nexpect = \"lamp lit\"\n";
  EXPECT_EQ(done(rename_part(text, {"control", 0}, "horn")),
            "panel = \"X\"\n[[control]]\nname = \"horn\" # bell\nkind = \"button\"\n"
            "[[control]]\nname = \"bell-2\"\nkind = \"button\"\n"
            "[[control]]\nname = \"c\"\nkind = \"button\"\n"
            "[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n"
            "[[line]]\nto = \"game\"\ntext = \"bell {{bell}} {bits low first: c horn bell-2:2x} "
            "{horn:1}\"\n"
            "[[line]]\nto = \"game\"\ntext = \"!{#name} {#value}\"\neach = [\"c\", \"horn\"]\n"
            "[[answer]]\nwhen = \"horn press\"\nexpect = \"lamp lit\"\n");
}

TEST(EditParts, NamesThatAreTakenOrNoneAreRefused) {
  const std::string text = with_two_controls("");
  EXPECT_EQ(rename_part(text, {"control", 0}, "b").error().text,
            "there is a control or output called \"b\" already; choose another name");
  EXPECT_EQ(
      rename_part(text, {"control", 0}, "2nd").error().text,
      "found \"2nd\", expected a name that begins with a letter, of letters, digits, _ and -, "
      "at most 40");
}

TEST(EditParts, ACopyHasANameOfItsOwnAndLiesBeside) {
  const std::string text =
      "panel = \"X\"\n\n[[control]]\nname = \"lamp_1\"\nkind = \"button\"\npin = \"D5\"\n"
      "at_mm = [40, 70.5]   # here\nkeys = { hold = \"B\" }\n";
  const std::string copied = done(duplicate_part(text, {"control", 0}));
  EXPECT_EQ(copied, text +
                        "\n[[control]]\nname = \"lamp_2\"\nkind = \"button\"\n"
                        "at_mm = [50, 80.5]   # here\n");
  EXPECT_EQ(described(copied).controls.size(), 2U);
}

TEST(EditParts, EveryKindCanBeAddedWithItsNameAloneAndStandsInTheLine) {
  const std::string text = with_two_controls(
      "\n[[output]]\nname = \"o\"\nkind = \"lamp\"\n"
      "\n[[line]]\nto = \"game\"\ntext = \"{a},{b}\"\n"
      "\n[[line]]\nto = \"panel\"\ntext = \"{o}\"\n");
  for (const char* kind : {"pot", "button", "switch", "selector", "stick", "encoder", "sensor"}) {
    const std::string added = done(add_part(text, {"control", kind, "new"}));
    EXPECT_EQ(described(added).controls.size(), 3U) << kind;
    EXPECT_NE(added.find("{a},{b},{new"), std::string::npos) << added;
  }
  for (const char* kind : {"lamp", "rgb", "gauge", "buzzer", "digits"}) {
    const std::string added = done(add_part(text, {"output", kind, "new"}));
    EXPECT_EQ(described(added).outputs.size(), 2U) << kind;
    EXPECT_NE(added.find("{o},{new"), std::string::npos) << added;
  }
}

TEST(EditParts, AnotherKindTakesTheKeysAlongThatItHas) {
  const std::string text = with_two_controls(
      "\n[[control]]\nname = \"c\"\nkind = \"button\"\nwired = \"pull-up\"\nbounce = { mean = \"1 "
      "ms\" }\n"
      "at_mm = [1, 2]\n");
  EXPECT_EQ(done(change_kind(text, {"control", 2}, "pot")),
            with_two_controls("\n[[control]]\nname = \"c\"\nkind = \"pot\"\nat_mm = [1, 2]\n"));
  EXPECT_FALSE(change_kind(text, {"control", 2}, "lever").ok());
}

TEST(EditLines, FieldsTakeTheSeparatorOfTheirNeighbours) {
  const std::string line = "[[line]]\ntext = \"S{a} {b}\\t{c}E\"\n";
  EXPECT_EQ(done(add_field(line, 0, 3, "{d}")), "[[line]]\ntext = \"S{a} {b}\\t{c}\\t{d}E\"\n");
  EXPECT_EQ(done(add_field(line, 0, 0, "{d}")), "[[line]]\ntext = \"S{d} {a} {b}\\t{c}E\"\n");
  EXPECT_EQ(done(remove_field(line, 0, 0)), "[[line]]\ntext = \"S{b}\\t{c}E\"\n");
  EXPECT_EQ(done(remove_field(line, 0, 2)), "[[line]]\ntext = \"S{a} {b}E\"\n");
  EXPECT_EQ(done(move_field(line, 0, 0, 2)), "[[line]]\ntext = \"S{b} {c}\\t{a}E\"\n");
  EXPECT_EQ(done(change_field(line, 0, 1, "{b:4}")), "[[line]]\ntext = \"S{a} {b:4}\\t{c}E\"\n");
  EXPECT_FALSE(remove_field(line, 0, 3).ok());
  EXPECT_FALSE(add_field(line, 1, 0, "{d}").ok());
}

TEST(EditLines, ATextOverSeveralLinesKeepsItsBreaks) {
  const std::string line = "[[line]]\ntext = \"\"\"\n{a:3}{b:3}\\\n{c:3},\\\n  {d:3}\"\"\"\n";
  EXPECT_EQ(done(remove_field(line, 0, 2)),
            "[[line]]\ntext = \"\"\"\n{a:3}{b:3}\\\n,\\\n  {d:3}\"\"\"\n");
  EXPECT_EQ(done(remove_field(line, 0, 3)),
            "[[line]]\ntext = \"\"\"\n{a:3}{b:3}\\\n{c:3}\\\n  \"\"\"\n");
  EXPECT_EQ(done(add_field(line, 0, 4, "{e:3}")),
            "[[line]]\ntext = \"\"\"\n{a:3}{b:3}\\\n{c:3},\\\n  {d:3},{e:3}\"\"\"\n");
}

TEST(EditHistory, UndoGoesBackByteForByteAndNamesWhatItUndoes) {
  EditHistory history("one");
  history.push("two", "move a");
  history.push_on("three", "move a");
  history.push("four", "rename b to c");
  EXPECT_EQ(history.undo_name(), "rename b to c");
  EXPECT_TRUE(history.undo());
  EXPECT_EQ(history.text(), "three");
  EXPECT_EQ(history.redo_name(), "rename b to c");
  EXPECT_TRUE(history.undo());
  EXPECT_EQ(history.text(), "one");
  EXPECT_FALSE(history.undo());
  EXPECT_TRUE(history.redo());
  history.push("five", "something else");
  EXPECT_EQ(history.redo_name(), "");
  EXPECT_FALSE(history.redo());
  history.push("five", "no change");
  EXPECT_EQ(history.undo_name(), "something else");
}

}  // namespace
}  // namespace understudy
