// All formats of one direction at once: a table over the first byte, then each candidate in turn.
#include "protocol/matcher.h"

#include "protocol/line_automaton.h"
#include "protocol/sentence_writer.h"

namespace understudy::protocol {
namespace {

// The automaton takes any digits for a check. Where possible, shows a line with the right ones.
std::string with_right_check(const LineFormat& one, const LineFormat& other, std::string line) {
  std::vector<std::int64_t> values(std::max(one.catalogue_fields(), other.catalogue_fields()));
  std::string made(std::max(one.line_bytes_max(), other.line_bytes_max()), '\0');
  for (const LineFormat* format : {&one, &other}) {
    BuiltIns built_ins;
    format->decode(line, values, &built_ins);
    const std::size_t size = format->encode(values, built_ins, made);
    if (size > 0 && format->decode({made.data(), size}, values)) {
      const LineFormat& second = format == &one ? other : one;
      if (second.decode({made.data(), size}, values)) return made.substr(0, size);
    }
  }
  return line;
}

}  // namespace

Outcome<Matcher> Matcher::compile(std::vector<LineFormat> formats) {
  if (formats.size() > kMatcherFormatsMax) {
    return FormatError{.found = std::to_string(formats.size()) + " line formats",
                       .expected = "at most " + std::to_string(kMatcherFormatsMax)};
  }
  std::vector<LineAutomaton> automata;
  automata.reserve(formats.size());
  for (const LineFormat& format : formats) automata.emplace_back(format);
  for (std::size_t other = 1; other < formats.size(); ++other) {
    for (std::size_t one = 0; one < other; ++one) {
      auto line = LineAutomaton::find_common_line(automata[one], automata[other]);
      if (!line) continue;
      return FormatError{
          .found = "`" + formats[one].text() + "` and `" + formats[other].text() +
                   "`, which can both be read from one line",
          .expected = "formats that differ in every line, by a letter in front for example",
          .witness = with_right_check(formats[one], formats[other], std::move(*line)),
          .format_index = one,
          .other_index = other};
    }
  }
  Matcher matcher;
  for (std::size_t byte = 0; byte < 256; ++byte) {
    for (std::size_t index = 0; index < formats.size(); ++index) {
      if (!automata[index].can_begin_with(static_cast<unsigned char>(byte))) continue;
      matcher.candidates_.push_back(static_cast<std::uint16_t>(index));
    }
    matcher.starts_[byte + 1] = static_cast<std::uint32_t>(matcher.candidates_.size());
  }
  matcher.formats_ = std::move(formats);
  return matcher;
}

std::span<const std::uint16_t> Matcher::candidates(std::string_view line) const {
  if (line.empty()) return {};
  const auto first = static_cast<unsigned char>(line[0]);
  return std::span(candidates_).subspan(starts_[first], starts_[first + 1] - starts_[first]);
}

std::int32_t Matcher::classify(std::string_view line) const {
  for (const std::uint16_t index : candidates(line)) {
    if (formats_[index].read(line, nullptr, nullptr).kind == LineFaultKind::kNone) return index;
  }
  return kUnknownLine;
}

Match Matcher::match(std::string_view line, std::span<std::int64_t> values,
                     BuiltIns* built_ins) const {
  // Twice over the line, so that one of no format leaves the values alone.
  const std::int32_t index = classify(line);
  if (index == kUnknownLine) return {};
  const LineFormat& format = formats_[static_cast<std::size_t>(index)];
  if (values.size() < format.catalogue_fields()) return {index, {.kind = LineFaultKind::kNoRoom}};
  format.read(line, values.data(), built_ins);
  return {index, {}};
}

Match Matcher::explain(std::string_view line) const {
  Match closest;
  for (std::size_t index = 0; index < formats_.size(); ++index) {
    const LineFault fault = formats_[index].read(line, nullptr, nullptr);
    const auto format = static_cast<std::int32_t>(index);
    if (fault.kind == LineFaultKind::kNone) return {format, {}};
    // Where nothing is in common, no format is closest; alone, it is always the one meant.
    const bool in_common = fault.column > 1 || formats_.size() == 1;
    if (in_common && fault.column > closest.fault.column) closest = {format, fault};
  }
  if (closest.format != kUnknownLine) {
    const LineFormat& format = formats_[static_cast<std::size_t>(closest.format)];
    closest.fault.hint = format.guess_why(closest.fault, line);
  }
  return closest;
}

std::size_t Matcher::write_sentence(const Match& match, std::string_view line,
                                    std::span<char> buffer) const {
  if (match.format != kUnknownLine) {
    return formats_[static_cast<std::size_t>(match.format)].write_sentence(match.fault, line,
                                                                           buffer);
  }
  SentenceWriter out(buffer);
  if (formats_.empty()) return out.text("no line format is known here").size();
  out.text("none of the ").number(static_cast<std::int64_t>(formats_.size()));
  return out.text(" line formats begins like ").quoted(line).size();
}

std::string Matcher::sentence(const Match& match, std::string_view line) const {
  std::array<char, 1024> buffer;
  return std::string(buffer.data(), write_sentence(match, line, buffer));
}

}  // namespace understudy::protocol
