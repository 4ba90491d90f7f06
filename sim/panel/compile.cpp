// Description -> catalogues, framings, formats and matchers of both directions.
#include "sim/panel/compile.h"

#include <algorithm>
#include <utility>

#include "protocol/checks.h"
#include "protocol/line_format.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

protocol::Field field_of(const std::string& name, const Sends& sends) {
  protocol::Field field;
  field.name = name;
  field.min = std::min(sends.low, sends.high);
  field.max = std::max(sends.low, sends.high);
  field.decimals = sends.decimals;
  field.words = sends.words;
  return field;
}

// A field for each part of each control or output, in the order of its kind.
template <class Part>
void add_fields(const std::vector<Part>& parts, std::vector<protocol::Field>& fields,
                std::vector<FieldSource>& sources) {
  fields.clear();
  sources.clear();
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto names = line_parts(parts[i]);
    for (std::size_t n = 0; n < names.size(); ++n) {
      fields.push_back(field_of(part_name(parts[i].name, names[n]), sends_of(parts[i], n)));
      sources.push_back({static_cast<std::uint16_t>(i), static_cast<std::uint8_t>(n)});
    }
  }
}

template <class Part>
std::vector<std::string> names_of(const std::vector<Part>& parts) {
  std::vector<std::string> names;
  for (const Part& part : parts) names.push_back(part.name);
  return names;
}

protocol::Framing framing_of(const FramingDescription& from) {
  protocol::Framing framing;
  framing.starts = from.starts;
  framing.ends = from.ends;
  framing.accepts = from.accepts;
  framing.longest = static_cast<std::size_t>(from.longest_bytes);
  return framing;
}

// One direction of a panel, and what is made of it.
struct Direction {
  bool to_game = true;
  const std::vector<LineDescription>& lines;
  const std::vector<protocol::Field>& fields;
  std::vector<std::string> names;  // of the controls or outputs, in their order
  const protocol::Framing& framing;
  protocol::Matcher& matcher;
  std::vector<std::size_t> line_of;  // for each format
  std::vector<std::size_t> part_of;  // for each format of an `each` line: which control
  std::vector<protocol::LineFormat> formats;
};
constexpr std::size_t kNoPart = static_cast<std::size_t>(-1);

std::optional<protocol::CheckSpec> check_of(const LineCheckDescription& from) {
  const auto kind = protocol::find_check(from.kind);
  if (!kind) return std::nullopt;
  protocol::CheckSpec spec;
  spec.kind = *kind;
  spec.covers =
      from.covers == "text" ? protocol::CheckCovers::kText : protocol::CheckCovers::kStartAndText;
  spec.as = from.as;
  return spec;
}

void compile_each_line(Direction& direction, std::size_t line,
                       const protocol::LineFormatOptions& options,
                       std::vector<CompileFault>& faults) {
  const LineDescription& described = direction.lines[line];
  std::vector<protocol::EachSubject> subjects;
  std::vector<std::size_t> parts;
  for (std::size_t i = 0; i < described.each.size(); ++i) {
    const std::string& name = described.each[i];
    const std::int64_t id =
        i < described.ids.size() ? described.ids[i] : static_cast<std::int64_t>(i);
    subjects.push_back({name, id, name});
    const auto at = std::find(direction.names.begin(), direction.names.end(), name);
    parts.push_back(at == direction.names.end()
                        ? kNoPart
                        : static_cast<std::size_t>(at - direction.names.begin()));
  }
  auto compiled = protocol::LineFormat::compile_each(options, subjects);
  if (!compiled.ok()) {
    faults.push_back({CompileFaultAt::kLine, direction.to_game, line, line, compiled.error()});
    return;
  }
  for (std::size_t i = 0; i < parts.size(); ++i) {
    direction.formats.push_back(std::move(compiled.value()[i]));
    direction.line_of.push_back(line);
    direction.part_of.push_back(parts[i]);
  }
}

void compile_line(Direction& direction, std::size_t line, std::vector<CompileFault>& faults) {
  const LineDescription& described = direction.lines[line];
  protocol::LineFormatOptions options;
  options.text = described.text;
  options.catalogue = direction.fields;
  options.check = check_of(described.check);
  options.framing = direction.framing;
  if (!described.each.empty()) return compile_each_line(direction, line, options, faults);
  auto compiled = protocol::LineFormat::compile(options);
  if (!compiled.ok()) {
    faults.push_back({CompileFaultAt::kLine, direction.to_game, line, line, compiled.error()});
    return;
  }
  direction.formats.push_back(std::move(compiled).value());
  direction.line_of.push_back(line);
  direction.part_of.push_back(kNoPart);
}

// False, with a fault, where the direction holds more than a device can.
bool fits(const Direction& direction, std::vector<CompileFault>& faults) {
  std::size_t formats = 0;
  for (const LineDescription& line : direction.lines)
    formats += std::max<std::size_t>(line.each.size(), 1);
  if (direction.lines.size() <= kLinesMax && formats <= kFormatsMax) return true;
  protocol::FormatError error;
  const bool lines = direction.lines.size() > kLinesMax;
  error.found = lines ? std::to_string(direction.lines.size()) + " lines"
                      : std::to_string(formats) + " formats, counting one for each name of each";
  error.expected = "at most " + std::to_string(lines ? kLinesMax : kFormatsMax);
  const std::size_t last = direction.lines.size() - 1;
  faults.push_back({CompileFaultAt::kLineCount, direction.to_game, last, last, error});
  return false;
}

void compile_direction(Direction& direction, std::vector<CompileFault>& faults) {
  const std::size_t before = faults.size();
  if (auto error = protocol::find_fault_in_catalogue(direction.fields))
    faults.push_back({CompileFaultAt::kFields, direction.to_game, 0, 0, *error});
  if (auto error = protocol::find_fault_in_framing(direction.framing))
    faults.push_back({CompileFaultAt::kFraming, direction.to_game, 0, 0, *error});
  if (faults.size() > before || !fits(direction, faults)) return;
  for (std::size_t line = 0; line < direction.lines.size(); ++line)
    compile_line(direction, line, faults);
  if (faults.size() > before) return;
  auto matcher = protocol::Matcher::compile(direction.formats);
  if (!matcher.ok()) {
    const protocol::FormatError& error = matcher.error();
    const std::size_t one = direction.line_of[error.format_index];
    const std::size_t other = direction.line_of[error.other_index];
    faults.push_back({CompileFaultAt::kLine, direction.to_game, std::max(one, other),
                      std::min(one, other), error});
    return;
  }
  direction.matcher = std::move(matcher).value();
}

}  // namespace

void compile_formats(Panel& panel, std::vector<CompileFault>& faults) {
  const PanelDescription& description = panel.description;
  add_fields(description.controls, panel.to_game_fields, panel.to_game_sources);
  add_fields(description.outputs, panel.to_panel_fields, panel.to_panel_sources);
  panel.to_game_framing = framing_of(description.to_game);
  panel.to_panel_framing = framing_of(description.to_panel);
  Direction to_game{.to_game = true,
                    .lines = description.lines_to_game,
                    .fields = panel.to_game_fields,
                    .names = names_of(description.controls),
                    .framing = panel.to_game_framing,
                    .matcher = panel.to_game,
                    .line_of = {},
                    .part_of = {},
                    .formats = {}};
  Direction to_panel{.to_game = false,
                     .lines = description.lines_to_panel,
                     .fields = panel.to_panel_fields,
                     .names = names_of(description.outputs),
                     .framing = panel.to_panel_framing,
                     .matcher = panel.to_panel,
                     .line_of = {},
                     .part_of = {},
                     .formats = {}};
  compile_direction(to_game, faults);
  compile_direction(to_panel, faults);
  panel.game_formats.clear();
  for (std::size_t i = 0; i < to_game.line_of.size(); ++i) {
    GameFormat format;
    format.send = description.lines_to_game[to_game.line_of[i]].send;
    if (to_game.part_of[i] != kNoPart) format.control = static_cast<int>(to_game.part_of[i]);
    panel.game_formats.push_back(std::move(format));
  }
}

}  // namespace understudy
