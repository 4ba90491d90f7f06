// Takes "FILE:LINE:COLUMN: KEY: found ..., expected ...; remedy" apart; whatever is of another form
// is kept whole.
#include "sim/window/mistake_places.h"

#include <algorithm>

namespace understudy {
namespace {

// The number at the beginning, with the `:` behind it, taken off; 0 where there is none.
int take_number(std::string_view& text) {
  std::size_t digits = 0;
  while (digits < text.size() && digits < 9 && text[digits] >= '0' && text[digits] <= '9') ++digits;
  if (digits == 0 || digits >= text.size() || text[digits] != ':') return 0;
  int number = 0;
  for (const char c : text.substr(0, digits)) number = number * 10 + (c - '0');
  text.remove_prefix(digits + 1);
  return number;
}

bool is_key(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || c == '_' || c == '.' || c == '[' || c == ']' ||
           (c >= '0' && c <= '9');
  });
}

// The last ';' that stands outside of quotes, so that what a file says is not cut.
std::size_t remedy_at(std::string_view text) {
  bool quoted = false;
  std::size_t found = std::string_view::npos;
  const std::size_t expected = text.find(", expected ");
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '"' && (i == 0 || text[i - 1] != '\\')) quoted = !quoted;
    const bool after = expected == std::string_view::npos || i > expected;
    if (!quoted && after && text.substr(i).starts_with("; ") && found == std::string_view::npos)
      found = i;
  }
  return found;
}

std::string_view line_of(std::string_view text, int line) {
  for (int at = 1; at < line; ++at) {
    const std::size_t end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  text = text.substr(0, text.find('\n'));
  if (text.ends_with('\r')) text.remove_suffix(1);
  return text;
}

bool begins_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
}

// How many characters from `column` on belong together: a text in quotes, what stands in brackets,
// a word.
int marked_at(std::string_view line, int column) {
  std::size_t at = 0;
  for (int left = column - 1; left > 0 && at < line.size();) {
    ++at;
    if (at == line.size() || begins_character(line[at])) --left;
  }
  if (at >= line.size()) return 1;
  const char first = line[at];
  std::size_t end = at + 1;
  if (first == '"' || first == '\'') {
    while (end < line.size() && line[end] != first) end += line[end] == '\\' ? 2 : 1;
    end = std::min(end + 1, line.size());
  } else if (first == '[' || first == '{') {
    const std::size_t close = line.find(first == '[' ? ']' : '}', at);
    end = close == std::string_view::npos ? line.size() : close + 1;
    while (first == '[' && end < line.size() && line[end] == ']') ++end;
  } else {
    const auto goes_on = [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
             c == '_' || c == '-' || c == '.' || static_cast<unsigned char>(c) >= 0x80;
    };
    while (end < line.size() && goes_on(line[end])) ++end;
  }
  return static_cast<int>(std::count_if(line.begin() + static_cast<std::ptrdiff_t>(at),
                                        line.begin() + static_cast<std::ptrdiff_t>(end),
                                        begins_character));
}

PlacedMistake placed_one(std::string_view said, std::string_view file_name,
                         std::string_view file_text) {
  PlacedMistake mistake;
  if (said.starts_with(file_name) && said.substr(file_name.size()).starts_with(":")) {
    said.remove_prefix(file_name.size() + 1);
    mistake.line = take_number(said);
    if (mistake.line > 0) mistake.column = std::max(1, take_number(said));
    if (said.starts_with(" ")) said.remove_prefix(1);
  }
  const std::size_t colon = said.find(": ");
  const std::string_view key = said.substr(0, std::min(colon, said.find(", column ")));
  if (colon != std::string_view::npos && is_key(key)) {
    mistake.key = key;
    said.remove_prefix(colon + 2);
  }
  const std::size_t remedy = remedy_at(said);
  mistake.message = said.substr(0, remedy);
  if (remedy != std::string_view::npos) mistake.remedy = said.substr(remedy + 2);
  if (mistake.line > 0) {
    mistake.text = line_of(file_text, mistake.line);
    mistake.marked = std::max(1, marked_at(mistake.text, mistake.column));
  }
  return mistake;
}

}  // namespace

std::vector<PlacedMistake> placed_mistakes(std::string_view said, std::string_view file_name,
                                           std::string_view file_text) {
  std::vector<PlacedMistake> mistakes;
  while (!said.empty()) {
    const std::size_t end = std::min(said.find('\n'), said.size());
    mistakes.push_back(placed_one(said.substr(0, end), file_name, file_text));
    said.remove_prefix(std::min(end + 1, said.size()));
  }
  return mistakes;
}

}  // namespace understudy
