// Files written out in full read back to the same panel, whatever keys they had; and every example
// of the key table is right.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "sim/panel/key_table.h"
#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

constexpr const char* kKinds[] = {"pot", "button", "switch"};

bool wanted() {
  return *rc::gen::inRange(0, 3) == 0;
}

// Keys of one table with the values of their examples, each there or not.
std::string some_keys(Section section, std::uint8_t kind, const std::vector<std::string>& but) {
  std::string text;
  for (const KeyText& key : all_keys()) {
    const bool fits = key.kinds == kForAnyKind || (key.kinds & kind) != 0;
    if (key.section != section || !fits || !wanted()) continue;
    if (std::find(but.begin(), but.end(), key.name) != but.end()) continue;
    text += std::string(key.name) + " = " + std::string(key.example) + "\n";
  }
  return text;
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
  for (int i = 0; i < controls; ++i) {
    const int kind = *rc::gen::inRange(0, 3);
    const std::uint8_t bit = static_cast<std::uint8_t>(1 << kind);
    text += "[[control]]\nname = \"c" + std::to_string(i) + "\"\nkind = \"" + kKinds[kind] + "\"\n";
    if (kind == 0 && wanted())
      text += "rest = \"" + std::to_string(*rc::gen::inRange(0, 101)) + "%\"\n";
    if (kind != 0 && wanted())
      text += "sends = [\"U\", \"D\"]\n";
    else if (wanted())
      text +=
          "decimals = 3\nsends = [-0.125, " + std::to_string(*rc::gen::inRange(0, 99)) + ".5]\n";
    text +=
        some_keys(Section::kControl, bit, {"name", "kind", "sends", "decimals", "rest", "keys"});
  }
  const int outputs = *rc::gen::inRange(0, 9);
  for (int i = 0; i < outputs; ++i) {
    text += "[[output]]\nname = \"o" + std::to_string(i) + "\"\nkind = \"lamp\"\n";
    text += some_keys(Section::kOutput, 0, {"name", "kind", "decimals"});
  }
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
