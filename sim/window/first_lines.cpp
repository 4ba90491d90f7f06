// One row for each language.
#include "sim/window/first_lines.h"

#include <fmt/format.h>

#include <array>

namespace understudy {
namespace {

enum class Way : std::uint8_t { kAny, kTcp, kPath };

struct Language {
  std::string_view name;
  std::string_view file;  // of protocol/readers; empty: none
  Way way;                // what it can open; kTcp: TCP rather than anything else
  std::string (*code)(const std::string& where, const Panel& panel);
};

std::size_t fields_of(const Panel& panel) {
  return panel.to_game_fields.size();
}

std::string python(const std::string& where, const Panel& panel) {
  return fmt::format(
      "from panel_reader import PanelReader\npanel = PanelReader({}, \"{}\")\nwhile True:\n"
      "    panel.poll()                # once a frame\n    print(panel.value(0), panel.state())",
      fields_of(panel), where);
}
std::string c_sharp(const std::string& where, const Panel& panel) {
  return fmt::format(
      "var panel = new PanelReader({}, \"{}\");\n// in every frame:\npanel.Poll();\n"
      "int value = panel.Value(0);",
      fields_of(panel), where);
}
std::string cpp(const std::string& where, const Panel& panel) {
  return fmt::format(
      "#include \"panel_reader.h\"\nunderstudy::PanelReader panel({}, \"{}\");\n"
      "// in every frame:\npanel.poll();\nint value = panel.value(0);",
      fields_of(panel), where);
}
std::string gdscript(const std::string& where, const Panel& panel) {
  return fmt::format(
      "onready var panel = PanelReader.new({}, \"{}\")\nfunc _process(_delta):\n"
      "    panel.poll()\n    print(panel.value(0))",
      fields_of(panel), where);
}
std::string lua(const std::string& where, const Panel& panel) {
  return fmt::format(
      "local panel = require(\"panel_reader\").new({}, \"{}\")\n-- in every frame:\n"
      "panel:poll()\nprint(panel:value(1))   -- fields count from 1",
      fields_of(panel), where);
}
std::string javascript(const std::string& where, const Panel& panel) {
  return fmt::format(
      "const {{ PanelReader }} = require(\"./panel_reader.cjs\");\n"
      "const panel = new PanelReader({}, \"{}\");\n"
      "setInterval(() => {{ panel.poll(); console.log(panel.value(0)); }}, 16);",
      fields_of(panel), where);
}
std::string c_termios(const std::string& where, const Panel& panel) {
  return fmt::format(
      "int port = open(\"{}\", O_RDWR | O_NOCTTY | O_NONBLOCK);\nstruct termios line;\n"
      "tcgetattr(port, &line); cfmakeraw(&line);\ncfsetspeed(&line, B{});\n"
      "tcsetattr(port, TCSANOW, &line);\nssize_t got = read(port, text, sizeof text);",
      where, panel.description.wire.baud);
}

constexpr std::array<Language, 7> kLanguages = {
    {{"Python", "panel_reader.py", Way::kAny, python},
     {"C#", "PanelReader.cs", Way::kTcp, c_sharp},
     {"C++", "panel_reader.h", Way::kAny, cpp},
     {"GDScript", "panel_reader.gd", Way::kTcp, gdscript},
     {"Lua", "panel_reader.lua", Way::kAny, lua},
     {"JavaScript", "panel_reader.cjs", Way::kAny, javascript},
     {"C with termios", "", Way::kPath, c_termios}}};

constexpr std::array<std::string_view, kLanguages.size()> kNames = [] {
  std::array<std::string_view, kLanguages.size()> names;
  for (std::size_t i = 0; i < names.size(); ++i) names[i] = kLanguages[i].name;
  return names;
}();

const LinkView* link_for(const Language& language, const SeatView& seat) {
  const auto find = [&](bool tcp) -> const LinkView* {
    for (const LinkView& link : seat.links)
      if ((link.name == "tcp") == tcp) return &link;
    return nullptr;
  };
  const LinkView* by_path = find(false);
  const LinkView* by_tcp = find(true);
  switch (language.way) {
    case Way::kAny:
      return by_path != nullptr ? by_path : by_tcp;
    case Way::kTcp:
      return by_tcp;
    case Way::kPath:
      return by_path;
  }
  return nullptr;
}

}  // namespace

std::span<const std::string_view> first_line_languages() {
  return kNames;
}

bool readers_read(const Panel& panel) {
  std::string wanted;
  for (const protocol::Field& field : panel.to_game_fields) {
    if (field.decimals > 0 || !field.words.empty()) return false;
    wanted += (wanted.empty() ? "{" : ",{") + field.name + "}";
  }
  return panel.to_game.size() == 1 && panel.to_game.format(0).text() == wanted &&
         !panel.to_game.format(0).has_check() && panel.to_game_framing.starts.empty();
}

std::optional<FirstLines> first_lines(std::size_t language, const SeatView& seat) {
  const Language& one = kLanguages[language];
  const LinkView* link = link_for(one, seat);
  if (link == nullptr) return std::nullopt;
  const Panel& panel = seat.device.panel();
  FirstLines lines = {.hint = "", .code = one.code(link->where, panel)};
  if (one.file.empty())
    lines.hint = "Lines come cut anywhere: keep what has no end yet for the next read.";
  else if (!readers_read(panel))
    lines.hint =
        "The readers take whole numbers with commas; for the lines of this panel see "
        "docs/line-format.md.";
  else
    lines.hint = fmt::format(
        "Copy {} beside your game; it is in protocol/readers (installed: "
        "share/understudy/readers).",
        one.file);
  return lines;
}

}  // namespace understudy
