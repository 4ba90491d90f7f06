// Any bytes as a panel file: an error or a panel, never a crash; what is taken can be checked, and
// written out in full reads back to the same. The same bytes as lines to learn from: what is
// learnt is a right file.
#include "sim/base/check.h"
#include "sim/panel/check_text.h"
#include "sim/panel/panel_file.h"
#include "sim/panel/samples.h"
#include "tests/fuzz/fuzz_one.h"

namespace understudy {
namespace {

void try_as_panel(std::string_view text) {
  const auto panel = parse_panel(text, "fuzz");
  if (!panel.ok()) {
    CHECK(panel.error().text.starts_with("fuzz"), "an error does not name its file");
    return;
  }
  CHECK(!written(check(*panel.value())).empty(), "a check says nothing");
  const auto again = parse_panel(resolved_toml(panel.value()->description), "resolved");
  CHECK(again.ok(), "a panel written out in full is not taken");
  CHECK(again.value()->description == panel.value()->description,
        "a panel written out in full reads back to another");
}

void try_as_lines(std::string_view text) {
  const auto samples = samples_of_file(text, "fuzz");
  if (!samples.ok()) return;
  const auto draft = learn(samples.value(), "Fuzz");
  if (draft.ok()) CHECK(parse_panel(draft_toml(draft.value()), "draft").ok(), "a draft is wrong");
}

}  // namespace

void fuzz_one(std::span<const std::uint8_t> input) {
  const std::string_view text(reinterpret_cast<const char*>(input.data()), input.size());
  try_as_panel(text);
  try_as_lines(text);
}

}  // namespace understudy
