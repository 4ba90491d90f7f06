// Random line formats and values in their ranges, for the laws that must hold for all of them.
#pragma once

#include <rapidcheck.h>

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "protocol/line_format.h"

namespace understudy::protocol {

// A template with what it is compiled against, before it is known whether it can be compiled.
struct RandomFormat {
  std::vector<Field> catalogue;
  std::string text;
  std::optional<CheckSpec> check;
  Framing framing;

  Outcome<LineFormat> compile() const {
    return LineFormat::compile(
        {.text = text, .catalogue = catalogue, .check = check, .framing = framing});
  }
};

inline void showValue(const RandomFormat& format, std::ostream& out) {
  out << "`" << format.text << "` with";
  for (const Field& field : format.catalogue) {
    out << " " << field.name << ":" << field.min << ".." << field.max << "/" << field.decimals;
    for (const std::string& word : field.words) out << "|" << word;
  }
  if (format.check) out << " check " << check_name(format.check->kind) << " " << format.check->as;
}

inline int draw_int(int low, int high) {
  return *rc::gen::inRange(low, high + 1);
}

template <class T>
T draw_of(std::vector<T> choices) {
  return choices[static_cast<std::size_t>(draw_int(0, static_cast<int>(choices.size()) - 1))];
}

inline Field draw_field(std::size_t index) {
  Field field{.name = "f" + std::to_string(index)};
  switch (draw_int(0, 5)) {
    case 0:
      field.max = 1;
      break;
    case 1:
      field.max = draw_of<std::int64_t>({1, 9, 255, 1023, 4095, 65535, kWireNumberMax});
      break;
    case 2: {
      const auto ends = std::minmax({draw_int(-70000, 70000), draw_int(-70000, 70000)});
      field.min = ends.first;
      field.max = ends.second;
      break;
    }
    case 3:
      field.decimals = draw_int(1, 6);
      field.min = -draw_int(0, 2000000);
      field.max = draw_int(0, 2000000);
      break;
    case 4:
      field.min = draw_int(-3, 3);
      field.words = draw_of<std::vector<std::string>>(
          {{"UP", "DOWN"}, {"r", "R"}, {"A", "AB", "ABC"}, {"0", "1", "10"}, {"false", "true"}});
      field.max = field.min + static_cast<std::int64_t>(field.words.size()) - 1;
      break;
    default:
      field.min = -kWireNumberMax;
      field.max = kWireNumberMax;
      break;
  }
  return field;
}

inline std::string draw_style(const Field& field) {
  if (!field.words.empty()) return "";
  const bool can_hex = field.min >= 0 && field.decimals == 0;
  switch (draw_int(0, 6)) {
    case 0:
      return ":" + std::to_string(draw_int(1, 20));
    case 1:
      return ":" + std::to_string(draw_int(1, 20)) + "+";
    case 2:
      return can_hex ? draw_of<std::string>({":x", ":X", ":4x", ":16X", ":3+x"}) : "";
    case 3:
      return field.decimals > 0 ? ":short" : ":5";
    default:
      return "";
  }
}

inline std::string draw_separator() {
  return draw_of<std::string>(
      {",", ",", ",", ", ", ";", "\t", "=", ".", "-", " raw: ", "T", "}}", "5", ""});
}

inline RandomFormat draw_format() {
  RandomFormat random;
  const int count = draw_int(1, 5);
  random.text = draw_of<std::string>({"", "", "P1 ", "T", "{{\"a\":"});
  for (int index = 0; index < count; ++index) {
    const Field field = draw_field(static_cast<std::size_t>(index));
    if (index > 0) random.text += draw_separator();
    random.text += "{" + field.name + draw_style(field) + "}";
    random.catalogue.push_back(field);
  }
  switch (draw_int(0, 7)) {
    case 0:
      random.text += ",{#sequence" + draw_of<std::string>({"", ":3", ":4+"}) + "}";
      break;
    case 1:
      random.text += " {#uptime_ms:8}";
      break;
    case 2:
      random.text +=
          draw_of<std::string>({" {bits low first: g h i}", "|{bits high first: g h i:2x}"});
      for (const char* name : {"g", "h", "i"}) random.catalogue.push_back({.name = name, .max = 1});
      break;
    default:
      break;
  }
  if (draw_int(0, 2) == 0) {
    random.check.emplace();
    random.check->kind = static_cast<CheckKind>(draw_int(0, kCheckKindCount - 1));
    random.check->as = draw_of<std::string>({"*{HEX}", "#{hex}", ";{dec}", " [{hex}]", "{HEX}"});
    random.check->covers = draw_of<CheckCovers>({CheckCovers::kText, CheckCovers::kStartAndText});
  }
  if (draw_int(0, 1) == 0) random.framing = {.starts = "<", .ends = ">"};
  return random;
}

// A format that can be compiled, which most random ones can.
inline rc::Gen<RandomFormat> formats_that_compile() {
  return rc::gen::suchThat(rc::gen::exec(draw_format),
                           [](const RandomFormat& format) { return format.compile().ok(); });
}

inline std::int64_t draw_value(const Field& field) {
  const auto span = static_cast<std::uint64_t>(field.max - field.min);
  std::int64_t value = field.min;
  switch (draw_int(0, 4)) {
    case 0:
      return field.min;
    case 1:
      return field.max;
    case 2:
      return std::clamp<std::int64_t>(draw_int(-12, 12), field.min, field.max);
    default:
      if (span > 0) {
        value += static_cast<std::int64_t>(*rc::gen::arbitrary<std::uint64_t>() % (span + 1));
      }
  }
  // A round number now and then, for the sake of zeros at the end.
  const std::int64_t unit = draw_of<std::int64_t>({1, 10, 1000, 1000000});
  const std::int64_t round = value / unit * unit;
  return field.min <= round && round <= field.max ? round : value;
}

inline std::vector<std::int64_t> draw_values(const std::vector<Field>& catalogue) {
  std::vector<std::int64_t> values;
  for (const Field& field : catalogue) values.push_back(draw_value(field));
  return values;
}

inline std::string make_line(const LineFormat& format, const std::vector<std::int64_t>& values,
                             const BuiltIns& built_ins = {}) {
  std::string line(format.line_bytes_max(), '\0');
  line.resize(format.encode(values, built_ins, line));
  return line;
}

// The line with one to three bytes changed, added or left out; often where a number begins or ends,
// as that is where strictness shows.
inline std::string draw_damaged(std::string line) {
  for (int damage = draw_int(1, 3); damage > 0; --damage) {
    auto at = static_cast<std::size_t>(draw_int(0, static_cast<int>(line.size())));
    if (draw_int(0, 1) == 0) at = std::min(line.find_first_of("0123456789", at), line.size());
    const char byte = draw_of<char>({'0', '0', '1', '9', '-', '.', ',', ' ', 'a', 'F', '\r', '*'});
    switch (draw_int(0, 2)) {
      case 0:
        line.insert(at, 1, byte);
        break;
      case 1:
        line.erase(std::min(at, line.size()), 1);
        break;
      default:
        if (at < line.size()) line[at] = byte;
        break;
    }
  }
  return line;
}

}  // namespace understudy::protocol
