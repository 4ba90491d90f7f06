// Files written out in full read back to the same panel, whatever keys they had; and every example
// of the key table is right.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "sim/panel/control_kinds.h"
#include "sim/panel/key_table.h"
#include "sim/panel/output_kinds.h"
#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

bool wanted() {
  return *rc::gen::inRange(0, 3) == 0;
}

// Keys of one table with the values of their examples, each there or not.
std::string some_keys(Section section, KindBits kind, const std::vector<std::string>& but) {
  std::string text;
  for (const KeyText& key : all_keys()) {
    const bool fits = key.kinds == kForAnyKind || (key.kinds & kind) != 0;
    if (key.section != section || !fits || !wanted()) continue;
    if (std::find(but.begin(), but.end(), key.name) != but.end()) continue;
    text += std::string(key.name) + " = " + std::string(key.example) + "\n";
  }
  return text;
}

// What must fit together is left to tests of its own.
std::string some_control(const std::string& name, bool has_one_part) {
  const auto kinds = static_cast<int>(control_kinds().size());
  const auto kind = static_cast<ControlKind>(*rc::gen::inRange(0, has_one_part ? 3 : kinds));
  const bool contact = kind == ControlKind::kButton || kind == ControlKind::kSwitch;
  std::string text =
      "[[control]]\nname = \"" + name + "\"\nkind = \"" + std::string(kind_word(kind)) + "\"\n";
  if (kind == ControlKind::kPot && wanted())
    text += "rest = \"" + std::to_string(*rc::gen::inRange(0, 101)) + "%\"\n";
  if (kind == ControlKind::kSelector && wanted())
    text += "rest = " + std::to_string(*rc::gen::inRange(1, 4)) + "\n";
  if (kind == ControlKind::kSensor && wanted())
    text += "values = [3, " + std::to_string(*rc::gen::inRange(4, 99)) + ".25, 0]\n";
  if (contact && wanted())
    text += "sends = [\"U\", \"D\"]\n";
  else if (wanted())
    text += "decimals = 3\nsends = [-0.125, " + std::to_string(*rc::gen::inRange(0, 99)) + ".5]\n";
  return text + some_keys(Section::kControl, kind_bit(kind),
                          {"name", "kind", "sends", "decimals", "rest", "keys", "pins", "cell",
                           "course", "range", "values", "file"});
}

std::string some_output(const std::string& name, bool lamp) {
  const auto kinds = static_cast<int>(output_kinds().size());
  const auto kind = static_cast<OutputKind>(lamp ? 0 : *rc::gen::inRange(0, kinds));
  std::vector<std::string> but = {"name", "kind", "decimals", "takes", "pins"};
  if (kind == OutputKind::kRgb) but.emplace_back("resistor");  // not beside resistors
  return "[[output]]\nname = \"" + name + "\"\nkind = \"" + std::string(kind_word(kind)) + "\"\n" +
         some_keys(Section::kOutput, kind_bit(kind), but);
}

// A random right file: the examples are combined freely, numbers and names are drawn.
std::string some_file() {
  std::string text = "panel = \"X\"\n[board]\nboot = \"" +
                     std::to_string(*rc::gen::inRange(300, 3000)) + " ms\"\n" +
                     some_keys(Section::kBoard, 0, {"boot"});
  text += "[manners]\nwork = \"" + std::to_string(*rc::gen::inRange(0, 9999)) + " us\"\n";
  text += some_keys(Section::kManners, 0, {"work"});
  text += "[wire]\n" + some_keys(Section::kWire, 0, {});
  text += "[host]\n" + some_keys(Section::kHost, 0, {});
  text += "[to_game]\n" + some_keys(Section::kToGame, 0, {"ends", "accepts", "longest"});
  const int controls = *rc::gen::inRange(1, 12);
  for (int i = 0; i < controls; ++i) text += some_control("c" + std::to_string(i), i == 0);
  const int outputs = *rc::gen::inRange(0, 9);
  for (int i = 0; i < outputs; ++i) text += some_output("o" + std::to_string(i), i == 0);
  if (wanted()) {
    text +=
        "[[line]]\nto = \"game\"\ntext = \"{#name} {#id} {#value}\"\neach = [\"c0\"]\nids = [7]\n";
    text += some_keys(Section::kLine, 0, {"to", "text", "each", "ids"});
  }
  if (outputs > 0 && wanted()) text += "[[line]]\nto = \"panel\"\ntext = \"{o0}\"\n";
  return text;
}

RC_GTEST_PROP(PanelResolved, ReadsBackToAnEqualDescription, ()) {
  const std::string text = some_file();
  const auto panel = parse_panel(text, "made");
  if (!panel.ok()) RC_FAIL(panel.error().text + "\n" + text);
  const std::string resolved = resolved_toml(panel.value()->description);
  const auto again = parse_panel(resolved, "resolved");
  if (!again.ok()) RC_FAIL(again.error().text + "\n" + resolved);
  RC_ASSERT(again.value()->description == panel.value()->description);
  RC_ASSERT(resolved_toml(again.value()->description) == resolved);
}

TEST(PanelResolved, TheTramDeskReadsBackToAnEqualDescription) {
  const auto panel = load_panel(UNDERSTUDY_SOURCE_ROOT "/scenarios/tram/tram.panel.toml");
  ASSERT_TRUE(panel.ok()) << panel.error().text;
  const auto again = parse_panel(resolved_toml(panel.value()->description), "resolved");
  ASSERT_TRUE(again.ok()) << again.error().text;
  EXPECT_EQ(again.value()->description, panel.value()->description);
}

TEST(PanelResolved, ADescriptionCompiledByHandIsCompletedLikeAFile) {
  const PanelDescription described_panel = described(with_two_controls(""));
  PanelDescription by_hand = described_panel;
  by_hand.lines_to_game.clear();
  const auto panel = compile_panel(by_hand);
  ASSERT_TRUE(panel.ok()) << panel.error().text;
  EXPECT_EQ(panel.value()->description, described_panel);
}

TEST(PanelResolved, ADescriptionThatCannotBeCompiledNamesTheLine) {
  PanelDescription panel = described(with_two_controls(""));
  panel.lines_to_game[0].text = "{a},{c}";
  const auto compiled = compile_panel(panel);
  ASSERT_FALSE(compiled.ok());
  EXPECT_EQ(compiled.error().text,
            "X: line 1 to the game, column 5: found `{c}`, expected the name "
            "of a field; nearest is `a`");
}

}  // namespace
}  // namespace understudy
