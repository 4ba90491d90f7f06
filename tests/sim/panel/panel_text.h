// Short ways to write panel files in tests: a head that is right, with what is tested behind it.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "sim/panel/panel_file.h"

namespace understudy {

// A panel named X with the pot `a` and the button `b`, then `rest`, which begins in line 10.
inline std::string with_two_controls(const std::string& rest) {
  return "panel = \"X\"\n\n[[control]]\nname = \"a\"\nkind = \"pot\"\n\n"
         "[[control]]\nname = \"b\"\nkind = \"button\"\n" +
         rest;
}

inline PanelDescription described(const std::string& text) {
  const auto panel = parse_panel(text, "x.panel.toml");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  return panel.ok() ? panel.value()->description : PanelDescription{};
}

// What parse_panel says of a wrong file; "" where it takes it.
inline std::string said_of(const std::string& text) {
  const auto panel = parse_panel(text, "x.panel.toml");
  return panel.ok() ? "" : panel.error().text;
}

}  // namespace understudy
