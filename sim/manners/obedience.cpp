// What the program does with a line from the game: its own way of reading it, and its outputs.
#include <algorithm>
#include <array>

#include "sim/manners/firmware.h"
#include "sim/manners/sloppy_parse.h"

namespace understudy {

void Firmware::obey(const Program& program, BoardAccess& board, std::string_view line) {
  const Panel& panel = program.panel();
  line = program.bare(line);
  if (program.is_asked()) {
    for (std::size_t i = 0; i < panel.game_formats.size(); ++i) {
      const SendDescription& send = panel.game_formats[i].send;
      if (send.mode == SendMode::kAsked && send.asked == line) asked_ |= std::uint64_t{1} << i;
    }
  }
  std::array<std::int64_t, kFieldsMax> numbers{};
  const Parsing parse = panel.description.manners.parse;
  if (parse == Parsing::kWholeLine || parse == Parsing::kOneLetter) {
    const protocol::Match match = panel.to_panel.match(line, numbers);
    if (!match.ok()) return;
    const auto& format = panel.to_panel.format(static_cast<std::size_t>(match.format));
    for (const std::uint16_t field : format.fields()) show(program, board, field, numbers[field]);
    return;
  }
  const auto& order = program.output_order();
  const std::size_t wanted = std::min(order.size(), numbers.size());
  const std::size_t found = integers_in_a_row(line, std::span(numbers.data(), wanted));
  for (std::size_t i = 0; i < found; ++i) show(program, board, order[i], numbers[i]);
}

}  // namespace understudy
