// One automaton with one state a byte of "#seen ", and a parser of words.
#include "protocol/witness.h"

#include <charconv>

namespace understudy::protocol {
namespace {

constexpr std::string_view kMark = "#seen ";
constexpr std::size_t kLineBytesMax = 1024;  // beyond it is not from a reader of ours

std::string_view next_word(std::string_view& line) {
  const std::size_t end = line.find(' ');
  const std::string_view word = line.substr(0, end);
  line = end == std::string_view::npos ? std::string_view() : line.substr(end + 1);
  return word;
}

template <class Number>
bool read_number(std::string_view word, Number& number) {
  const char* end = word.data() + word.size();
  const auto [stop, error] = std::from_chars(word.data(), end, number);
  return !word.empty() && error == std::errc() && stop == end;
}

}  // namespace

std::optional<Witness> read_witness(std::string_view line) {
  if (!line.starts_with(kMark)) return std::nullopt;
  line.remove_prefix(kMark.size());
  Witness witness;
  const bool age = read_number(next_word(line), witness.age_ms);
  const bool backlog = read_number(next_word(line), witness.backlog_bytes);
  if (!age || !backlog || witness.age_ms < 0 || witness.backlog_bytes < 0) return std::nullopt;
  witness.state = next_word(line);
  if (witness.state.empty()) return std::nullopt;
  while (!line.empty())
    if (!read_number(next_word(line), witness.values.emplace_back())) return std::nullopt;
  return witness;
}

void WitnessSieve::take(std::string_view bytes, std::string& rest) {
  for (const char byte : bytes) take_byte(byte, rest);
  if (line_.size() >= kMark.size()) return;
  rest.append(line_, passed_);
  passed_ = line_.size();
}

void WitnessSieve::take_byte(char byte, std::string& rest) {
  if (line_.size() >= kMark.size()) {
    if (byte != '\n' && line_.size() < kLineBytesMax) {
      line_ += byte;
      return;
    }
    newest_.swap(line_);
    ++count_;
    begin_anew();
    return;
  }
  if (byte == kMark[line_.size()]) {
    line_ += byte;
    return;
  }
  rest.append(line_, passed_);
  begin_anew();
  if (byte == kMark[0])
    line_ += byte;
  else
    rest += byte;
}

void WitnessSieve::begin_anew() {
  line_.clear();
  passed_ = 0;
}

}  // namespace understudy::protocol
