// Reads protocol/cases/line_cases.tsv, the table that every implementation of the line format is
// tested against. docs/line-format.md says what its columns mean.
#pragma once

#include <charconv>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "protocol/line_format.h"

namespace understudy::protocol {

struct LineCase {
  std::string id, level, template_text, line;
  std::vector<Field> catalogue;
  Framing framing;
  std::optional<CheckSpec> check;
  std::optional<EachSubject> each;
  // The outcome: one of "ok", "error", "refused" and what follows it, cut at spaces.
  std::string outcome;
  std::vector<std::string> details;
};

inline std::string without_escapes(const std::string& text) {
  std::string plain;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] != '\\') {
      plain += text[at];
      continue;
    }
    const char code = text.at(++at);
    if (code == 'x') {
      plain += static_cast<char>(std::stoi(text.substr(at + 1, 2), nullptr, 16));
      at += 2;
    } else {
      plain += code == 't'   ? '\t'
               : code == 'n' ? '\n'
               : code == 'r' ? '\r'
               : code == 's' ? ' '
                             : code;
    }
  }
  return plain;
}

inline std::vector<std::string> cut(const std::string& text, char at) {
  std::vector<std::string> parts;
  std::string part;
  std::istringstream stream(text);
  while (std::getline(stream, part, at)) parts.push_back(part);
  return parts;
}

// "key=value" at the first "=", value without escapes.
inline std::pair<std::string, std::string> cut_pair(const std::string& text) {
  const std::size_t at = text.find('=');
  return {text.substr(0, at), without_escapes(text.substr(at + 1))};
}

// "stick.x:-100..100/2" or "bell:=UP|DOWN".
inline Field read_field(const std::string& text) {
  const std::size_t colon = text.find(':');
  Field field{.name = text.substr(0, colon)};
  const std::string range = text.substr(colon + 1);
  if (range[0] == '=') {
    for (const std::string& word : cut(range.substr(1), '|')) {
      field.words.push_back(without_escapes(word));
    }
    field.max = static_cast<std::int64_t>(field.words.size()) - 1;
    return field;
  }
  const std::size_t dots = range.find("..");
  const std::size_t slash = range.find('/');
  field.min = std::stoll(range.substr(0, dots));
  field.max = std::stoll(range.substr(dots + 2));
  if (slash != std::string::npos) field.decimals = std::stoi(range.substr(slash + 1));
  return field;
}

inline LineCase read_case(const std::string& row) {
  std::vector<std::string> columns = cut(row, '\t');
  LineCase read;
  read.id = columns.at(0);
  read.level = columns.at(1);
  read.template_text = without_escapes(columns.at(2));
  for (const std::string& field : cut(columns.at(3), ' ')) {
    read.catalogue.push_back(read_field(field));
  }
  for (const std::string& part : cut(columns.at(4), ' ')) {
    const auto [key, value] = cut_pair(part);
    if (key == "starts") read.framing.starts = value;
    if (key == "ends") read.framing.ends = value;
    if (key == "accepts") read.framing.accepts.push_back(value);
  }
  if (columns.at(5) != "-") {
    read.check.emplace();
    for (const std::string& part : cut(columns.at(5), ' ')) {
      const auto [key, value] = cut_pair(part);
      if (key == "kind") read.check->kind = find_check(value).value();
      if (key == "covers" && value != "text") read.check->covers = CheckCovers::kStartAndText;
      if (key == "as") read.check->as = value;
    }
  }
  if (columns.at(6) != "-") {
    const auto parts = cut(columns.at(6), '/');
    read.each =
        EachSubject{.name = parts.at(0), .id = std::stoll(parts.at(1)), .field = parts.at(2)};
  }
  read.line = without_escapes(columns.at(7));
  read.details = cut(columns.at(8), ' ');
  read.outcome = read.details.at(0);
  read.details.erase(read.details.begin());
  return read;
}

inline std::vector<LineCase> read_line_cases(const std::string& path) {
  std::vector<LineCase> cases;
  std::ifstream file(path);
  std::string row;
  bool named = false;
  while (std::getline(file, row)) {
    if (row.empty() || row[0] == '#') continue;
    if (named) cases.push_back(read_case(row));
    named = true;
  }
  return cases;
}

// The format of a case, its only subject put in where it has one.
inline Outcome<LineFormat> compile_case(const LineCase& line_case) {
  const LineFormatOptions options{.text = line_case.template_text,
                                  .catalogue = line_case.catalogue,
                                  .check = line_case.check,
                                  .framing = line_case.framing};
  if (!line_case.each) return LineFormat::compile(options);
  auto formats = LineFormat::compile_each(options, {&*line_case.each, 1});
  if (!formats) return formats.error();
  return std::move(formats).value().at(0);
}

}  // namespace understudy::protocol
