// What `serve` takes, and how the window looks.
#include "sim/app/panel_arguments.h"

#include <charconv>

namespace understudy {
namespace {

constexpr int kSideMin = 160;
constexpr int kSideMax = 16'384;
constexpr double kScaleMin = 0.5;
constexpr double kScaleMax = 4.0;

bool read_side(std::string_view text, int& into) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), into);
  return error == std::errc() && end == text.data() + text.size() && into >= kSideMin &&
         into <= kSideMax;
}

Result<Done> read_scale(std::string_view text, double& into) {
  const auto read = read_argument(text, into);
  if (read.ok() && into >= kScaleMin && into <= kScaleMax) return Done{};
  return Error{ErrorCode::kUnusable, "a number from 0.5 to 4, such as 1.5"};
}

}  // namespace

Result<Done> read_argument(std::string_view text, WindowSize& into) {
  const std::size_t cross = text.find('x');
  if (cross != std::string_view::npos && read_side(text.substr(0, cross), into.width) &&
      read_side(text.substr(cross + 1), into.height))
    return Done{};
  return Error{ErrorCode::kUnusable,
               "width and height in pixels, each from 160 to 16384, such as 1280x720"};
}

void declare_panel_arguments(Arguments& arguments, PanelArguments& into) {
  declare_serve_arguments(arguments, into.serve);
  arguments.heading("a real box");
  arguments.option("--box PORT", into.serve.box,
                   "stands between this box and its game, as `tap` does: a path, a name, or "
                   "usb:VID:PID[:SERIAL]");
  arguments.heading("the window");
  arguments.option("--size WxH", into.size, "so many pixels wide and high");
  arguments.option_read_by(
      "--scale X", [&into](std::string_view text) { return read_scale(text, into.scale); },
      "everything so many times as large as the display asks for");
  arguments.flag("--compact", into.compact, "the face alone, without a frame");
  arguments.flag("--on-top", into.on_top, "in front of all other windows");
  arguments.options("--hand TEXT", into.hands, "a hand's movement, such as 'bell press from 2s'");
  arguments.option("--picture FILE", into.picture,
                   "no window: a PNG file of how it looks after --for, else 2s; without a game in "
                   "virtual time, the same each time");
  arguments.example("understudy panel my.panel.toml -- python3 game.py {port}");
  arguments.example("understudy panel my.panel.toml --box /dev/ttyACM0 --record evening.jsonl");
  arguments.example("understudy panel evening.jsonl");
  arguments.example("understudy panel my.panel.toml --play wander --picture my.png");
}

}  // namespace understudy
