// Numbers are values unless they end a label; words are values where they name a state.
#include "sim/panel/line_shape.h"

#include <algorithm>
#include <array>
#include <utility>

namespace understudy {
namespace {

constexpr std::size_t kDigitsMax = 12;

constexpr std::array<std::pair<std::string_view, std::string_view>, 7> kStates = {
    {
     {"UP", "DOWN"},
     {"OFF", "ON"},
     {"CLOSED", "OPEN"},
     {"RELEASED", "PRESSED"},
     {"RELEASE", "PRESS"},
     {"LOW", "HIGH"},
     {"FALSE", "TRUE"},
     }
};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_upper(char c) {
  return c >= 'A' && c <= 'Z';
}
bool is_letter(char c) {
  return is_upper(c) || (c >= 'a' && c <= 'z') || c == '_';
}

std::string upper(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return out;
}

// `model` in capitals, small letters, or with a capital in front, as `like` is written.
std::string in_case_of(std::string_view like, std::string_view model) {
  std::string out(model);
  const bool first_upper = is_upper(like.front());
  const bool last_upper = is_upper(like.back());
  for (std::size_t i = 0; i < out.size(); ++i) {
    const bool stays = i == 0 ? first_upper : last_upper;
    if (!stays) out[i] = static_cast<char>(out[i] - 'A' + 'a');
  }
  return out;
}

std::size_t letters_from(std::string_view line, std::size_t at) {
  std::size_t end = at;
  while (end < line.size() && is_letter(line[end])) ++end;
  return end - at;
}

// Digits, or a minus before digits that no letter or digit stands before; a point with digits
// behind.
std::size_t number_at(std::string_view line, std::size_t at) {
  std::size_t end = at;
  if (line[end] == '-') {
    const bool free = at == 0 || (!is_letter(line[at - 1]) && !is_digit(line[at - 1]));
    if (!free) return 0;
    ++end;
  }
  const std::size_t first = end;
  while (end < line.size() && is_digit(line[end])) ++end;
  if (end == first) return 0;
  if (end + 1 < line.size() && line[end] == '.' && is_digit(line[end + 1])) {
    ++end;
    while (end < line.size() && is_digit(line[end])) ++end;
  }
  return end - at > kDigitsMax + 2 ? 0 : end - at;
}

// Digits behind a letter belong to a label where the label goes on or is followed by = or :, as the
// 1 of `pot1=512` and of `P1 raw: 512`, and not the 512 of `T512`.
bool ends_a_label(std::string_view line, std::size_t at, std::size_t size) {
  if (at == 0 || !is_letter(line[at - 1])) return false;
  std::size_t next = at + size;
  while (next < line.size() && line[next] == ' ') ++next;
  if (next == line.size()) return false;
  return is_letter(line[next]) || line[next] == '=' || line[next] == ':' || line[next] == '"';
}

// The label at the end of the text before a value.
std::string label_of(std::string_view text) {
  const auto between = [](char c) {
    return c == '=' || c == ':' || c == '"' || c == '\'' || c == ' ';
  };
  while (!text.empty() && between(text.back())) text.remove_suffix(1);
  std::size_t first = text.size();
  while (first > 0 &&
         (is_letter(text[first - 1]) || is_digit(text[first - 1]) || text[first - 1] == ' '))
    --first;
  text.remove_prefix(first);
  while (!text.empty() && !is_letter(text.front())) text.remove_prefix(1);
  return std::string(text);
}

}  // namespace

std::string LineShape::key() const {
  std::string key;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    // With its size in front, no text can be taken for the mark of a value.
    key += std::to_string(texts[i].size()) + ":" + texts[i];
    if (i < values.size()) key += values[i].word ? 'w' : 'n';
  }
  return key;
}

LineShape shape_of(std::string_view line) {
  LineShape shape;
  std::string text;
  const auto take = [&](std::size_t at, std::size_t size, bool word) {
    shape.values.push_back({std::string(line.substr(at, size)), word, label_of(text)});
    shape.texts.push_back(std::exchange(text, ""));
  };
  for (std::size_t at = 0; at < line.size();) {
    const std::size_t letters = letters_from(line, at);
    const std::size_t digits = letters > 0 ? 0 : number_at(line, at);
    StatePair pair;
    if (letters > 0 && find_state_pair(line.substr(at, letters), pair) &&
        (at + letters == line.size() || !is_digit(line[at + letters]))) {
      take(at, letters, true);
    } else if (digits > 0 && !ends_a_label(line, at, digits)) {
      take(at, digits, false);
    } else {
      text += line.substr(at, std::max<std::size_t>({letters, digits, 1}));
    }
    at += std::max<std::size_t>({letters, digits, 1});
  }
  shape.texts.push_back(std::move(text));
  return shape;
}

bool find_state_pair(std::string_view word, StatePair& pair) {
  const std::string wanted = upper(word);
  for (const auto& [rests, acts] : kStates) {
    if (wanted != rests && wanted != acts) continue;
    pair = {in_case_of(word, rests), in_case_of(word, acts), wanted == acts ? 1 : 0};
    return true;
  }
  return false;
}

}  // namespace understudy
