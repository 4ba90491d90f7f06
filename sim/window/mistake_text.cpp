// Cuts a line by characters so that what is marked can be seen.
#include "sim/window/mistake_text.h"

#include <algorithm>
#include <vector>

namespace understudy {
namespace {

// The line in characters, tabs as blanks.
std::vector<std::string> characters_of(std::string_view line) {
  std::vector<std::string> characters;
  for (const char c : line) {
    const bool goes_on = (static_cast<unsigned char>(c) & 0xC0) == 0x80;
    if (goes_on && !characters.empty())
      characters.back() += c;
    else
      characters.emplace_back(1, c == '\t' ? ' ' : c);
  }
  return characters;
}

std::string joined(const std::vector<std::string>& characters, std::size_t from, std::size_t to) {
  std::string text;
  for (std::size_t i = from; i < std::min(to, characters.size()); ++i) text += characters[i];
  return text;
}

}  // namespace

ShownLine shown_part(const PlacedMistake& mistake,
                     const std::function<bool(std::string_view)>& fits) {
  const std::vector<std::string> line = characters_of(mistake.text);
  const auto at = std::min(static_cast<std::size_t>(std::max(0, mistake.column - 1)), line.size());
  const std::size_t end = std::min(at + static_cast<std::size_t>(mistake.marked), line.size());
  std::size_t from = 0;
  const auto text_from = [&](std::size_t begin, std::size_t stop) {
    return (begin > 0 ? "..." : "") + joined(line, begin, stop) + (stop < line.size() ? "..." : "");
  };
  // As little as must be is taken off the front, then off the end.
  while (from < at && !fits(text_from(from, end))) ++from;
  std::size_t stop = line.size();
  while (stop > std::max(end, from + 1) && !fits(text_from(from, stop))) --stop;
  while (stop > at + 1 && !fits(text_from(from, stop))) --stop;
  return {text_from(from, stop), (from > 0 ? "..." : "") + joined(line, from, at),
          joined(line, at, std::min(end, stop))};
}

}  // namespace understudy
