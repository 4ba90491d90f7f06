// The questions a finished format is asked: can each of its lines be read in one way only, and can
// the framing find its lines in a stream?
#include "protocol/digits.h"
#include "protocol/format_builder.h"
#include "protocol/line_automaton.h"

namespace understudy::protocol {
namespace {

std::string shown(std::string_view bytes) {
  std::string text;
  for (const char byte : bytes) {
    if (byte == '\n')
      text += "\\n";
    else if (byte == '\r')
      text += "\\r";
    else if (byte == '\t')
      text += "\\t";
    else
      text += byte;
  }
  return "\"" + text + "\"";
}

void add_digits_to(std::set<char>& bytes, Notation notation) {
  for (char byte = '0'; byte <= '9'; ++byte) bytes.insert(byte);
  if (notation == Notation::kDecimal) return;
  const char letter = notation == Notation::kHexUpper ? 'A' : 'a';
  for (int at = 0; at < 6; ++at) bytes.insert(static_cast<char>(letter + at));
}

}  // namespace

std::set<char> FormatBuilder::first_bytes(const LineItem& item) const {
  std::set<char> bytes;
  if (item.kind == ItemKind::kWord) {
    for (std::size_t word = 0; word < item.count; ++word) {
      bytes.insert(format_.words_[item.first + word][0]);
    }
    return bytes;
  }
  if (item.min < 0) bytes.insert('-');
  if (item.max >= 0) add_digits_to(bytes, item.notation);
  return bytes;
}

std::set<char> FormatBuilder::bytes_after(std::size_t index) const {
  if (index + 1 < format_.items_.size()) {
    const LineItem& next = format_.items_[index + 1];
    if (next.text_bytes > 0) return {next.text_first};
    return first_bytes(next);
  }
  const CheckItem& check = format_.check_;
  std::set<char> bytes;
  if (!check.present) return bytes;
  if (check.before_bytes > 0) return {format_.literals_[check.before_at]};
  add_digits_to(bytes, check.notation);
  return bytes;
}

// A number of varying width ends where no digit follows, and a word is the longest that fits. So a
// line is read in one way if nothing after them looks like more of them.
FormatBuilder::Fault FormatBuilder::find_second_reading() const {
  for (std::size_t index = 0; index < format_.items_.size(); ++index) {
    const LineItem& item = format_.items_[index];
    if (item.kind == ItemKind::kEnd || item.width_exact) continue;
    const std::set<char> after = bytes_after(index);
    // The next place is where a reader would have to guess.
    const std::size_t column = columns_[std::min(index + 1, columns_.size() - 1)];
    if (item.kind == ItemKind::kWord) {
      for (std::size_t a = 0; a < item.count; ++a) {
        for (std::size_t b = 0; b < item.count; ++b) {
          const std::string& word = format_.words_[item.first + a];
          const std::string& longer = format_.words_[item.first + b];
          if (longer.size() <= word.size() || !longer.starts_with(word)) continue;
          if (after.contains(longer[word.size()])) {
            return FormatError{
                .column = column,
                .found = "what can make the word " + shown(word) + " into " + shown(longer),
                .expected = "a separator between"};
          }
        }
      }
      continue;
    }
    std::set<char> more;
    add_digits_to(more, item.notation);
    if (item.short_decimals) more.insert('.');
    for (const char byte : after) {
      if (!more.contains(byte)) continue;
      return FormatError{.column = column,
                         .found = "what can begin with " + shown(std::string(1, byte)) +
                                  " directly after `{" + format_.names_[index] + "}`",
                         .expected = "a separator between, or an exact width such as {" +
                                     format_.names_[index] + ":4}"};
    }
  }
  return std::nullopt;
}

FormatBuilder::Fault FormatBuilder::find_quarrel_with_framing() const {
  const Framing& framing = options_.framing;
  const std::size_t most = format_.line_bytes_max_;
  if (framing.each_byte_is_a_line()) {
    if (most == 1) return std::nullopt;
    return FormatError{.found = "lines of up to " + std::to_string(most) + " bytes",
                       .expected = "lines of one byte, for without `ends` each byte is a line"};
  }
  if (most > framing.longest) {
    return FormatError{.found = "lines of up to " + std::to_string(most) + " bytes",
                       .expected = "at most `longest` = " + std::to_string(framing.longest)};
  }
  return find_marker_in_lines();
}

FormatBuilder::Fault FormatBuilder::find_marker_in_lines() const {
  const Framing& framing = options_.framing;
  const LineAutomaton automaton(format_);
  std::vector<std::string> endings = framing.accepts;
  endings.push_back(framing.ends);
  if (!framing.starts.empty()) {
    if (auto line = automaton.find_marker(framing.starts, framing.ends, false)) {
      return FormatError{.found = "the start marker " + shown(framing.starts) +
                                  " inside a line that begins " + shown(*line),
                         .expected = "lines without it"};
    }
  }
  for (const std::string& ending : endings) {
    const bool may_close = ending.size() <= framing.ends.size();
    if (auto line = automaton.find_marker(ending, framing.ends, may_close)) {
      return FormatError{
          .found = "the ending " + shown(ending) + " inside a line that begins " + shown(*line),
          .expected = "lines without it"};
    }
    // After "\r" a splitter that also takes "\r\n" skips a "\n".
    if (ending.size() <= framing.ends.size() || !ending.starts_with(framing.ends)) continue;
    const std::string rest = ending.substr(framing.ends.size());
    if (automaton.can_begin_with(rest)) {
      return FormatError{
          .found = "a line that begins with " + shown(rest),
          .expected = "another beginning, for that is the rest of the ending " + shown(ending)};
    }
  }
  return std::nullopt;
}

}  // namespace understudy::protocol
