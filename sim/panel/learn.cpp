// Makes controls, outputs and templates of the shapes that were seen, and sees that they fit
// together.
#include "sim/panel/learn.h"

#include <algorithm>
#include <map>
#include <set>

#include "protocol/checks.h"
#include "sim/base/text.h"
#include "sim/panel/panel_file.h"
#include "sim/panel/shapes_seen.h"

namespace understudy {
namespace {

std::int64_t ten_to(int n) {
  std::int64_t power = 1;
  for (; n > 0; --n) power *= 10;
  return power;
}

// The range that a pot with such a largest value most likely has.
std::int64_t usual_top(const PlaceSeen& place) {
  const std::int64_t unit = ten_to(place.decimals);
  if (place.decimals > 0 && place.largest <= 1) return unit;
  for (const std::int64_t top : {1'023, 4'095, 65'535})
    if (place.largest <= static_cast<double>(top)) return top * unit;
  std::int64_t top = 1;
  while (static_cast<double>(top) <= place.largest) top *= 10;
  return (top - 1) * unit;
}

// Names stay unique over everything that is drafted.
class Names {
 public:
  std::string claim(const std::string& label, const std::string& kind) {
    std::string name;
    for (const char c : label) {
      const bool good = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
      if (name.size() < 32) name += good ? c : '_';
    }
    const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
    if (name.empty() || !letter(name.front())) name = kind + "_" + std::to_string(++numbers_[kind]);
    std::string unique = name;
    for (int n = 2; !taken_.insert(unique).second; ++n) unique = name + "_" + std::to_string(n);
    return unique;
  }

 private:
  std::map<std::string, int> numbers_;
  std::set<std::string> taken_;
};

bool is_sequence(const PlaceSeen& place) {
  return !place.word && place.counts_up && place.count >= 10;
}

bool is_contact(const PlaceSeen& place) {
  return place.word || (place.zeros + place.ones == place.count && !place.leading_zero);
}

DraftControl control_for(const PlaceSeen& place, bool many, Names& names) {
  DraftControl control;
  if (is_contact(place)) {
    control.kind = ControlKind::kButton;
    control.name = names.claim(place.label, "button");
    control.high = 1;
    if (place.word) control.words = {place.pair.rests, place.pair.acts};
    // What comes more often is a button that nobody presses.
    const bool reversed = many && !place.word && place.ones > place.zeros;
    if (reversed) std::swap(control.low, control.high);
    control.perhaps_reversed = !reversed && !place.word;
    control.note = reversed ? "it was 1 most of the time, so 0 is taken for pressed"
                            : "if it stays when let go, its kind is \"switch\"";
    return control;
  }
  control.name = names.claim(place.label, "pot");
  control.decimals = place.decimals;
  control.high = usual_top(place);
  control.low = place.negative ? -control.high : 0;
  return control;
}

// `{name}` with the width or the decimals that were seen.
std::string place_text(const PlaceSeen& place, const std::string& name) {
  if (!place.word && place.leading_zero)
    return "{" + name + ":" + std::to_string(place.width) + (place.width_varies ? "+}" : "}");
  if (!place.word && place.decimals_vary) return "{" + name + ":short}";
  return "{" + name + "}";
}

std::string with_doubled_braces(const std::string& text) {
  std::string out;
  for (const char c : text) {
    out += c;
    if (c == '{' || c == '}') out += c;
  }
  return out;
}

// A number of a fixed width cannot exceed what fits into it.
void fit_to_width(const PlaceSeen& place, DraftControl& control) {
  if (!place.leading_zero || place.decimals > 0 || place.width_varies) return;
  const int digits = static_cast<int>(place.width) - (place.negative ? 1 : 0);
  control.high = std::min(control.high, ten_to(digits) - 1);
  if (place.negative) control.low = -control.high;
}

void add_line_to_game(const ShapeSeen& seen, bool several, bool many, Names& names, Draft& draft) {
  DraftLine line;
  line.example = printable(seen.example);
  line.on_change = several;
  line.text = with_doubled_braces(seen.shape.texts.front());
  for (std::size_t i = 0; i < seen.places.size(); ++i) {
    if (is_sequence(seen.places[i])) {
      line.text += place_text(seen.places[i], "#sequence");
    } else {
      DraftControl control = control_for(seen.places[i], many, names);
      fit_to_width(seen.places[i], control);
      line.text += place_text(seen.places[i], control.name);
      draft.controls.push_back(std::move(control));
    }
    line.text += with_doubled_braces(seen.shape.texts[i + 1]);
  }
  draft.lines.push_back(std::move(line));
}

void add_line_to_panel(const ShapeSeen& seen, Names& names, Draft& draft) {
  DraftLine line;
  line.to_game = false;
  line.example = printable(seen.example);
  line.text = with_doubled_braces(seen.shape.texts.front());
  const auto colours = numbered_lamps(static_cast<int>(seen.places.size()));
  for (std::size_t i = 0; i < seen.places.size(); ++i) {
    const PlaceSeen& place = seen.places[i];
    DraftOutput lamp = colours[i];
    lamp.name = names.claim(place.label, "lamp");
    if (place.largest > 255) lamp.full = usual_top(place);
    if (place.largest <= 1) lamp.full = 1;
    line.text += place_text(place, lamp.name) + with_doubled_braces(seen.shape.texts[i + 1]);
    draft.outputs.push_back(std::move(lamp));
  }
  draft.lines.push_back(std::move(line));
}

// Markers that every line stands between: < and >, or the check of NMEA 0183 with or without its $.
struct Markers {
  std::string starts;
  std::string ends;
  bool nmea = false;
};

bool has_nmea_check(const std::string& text) {
  static constexpr char kHex[] = "0123456789ABCDEF";
  if (text.size() < 5 || text[text.size() - 3] != '*') return false;
  const std::size_t start = text[0] == '$' ? 1 : 0;
  const std::string_view covered = std::string_view(text).substr(start, text.size() - 3 - start);
  const std::uint32_t check = protocol::compute_check(protocol::CheckKind::kXor, covered);
  return text[text.size() - 2] == kHex[check >> 4] && text.back() == kHex[check & 15];
}

Markers markers_of(const std::vector<SampleLine>& lines) {
  std::size_t angles = 0;
  std::size_t nmea = 0;
  for (const SampleLine& line : lines) {
    if (line.text.size() > 2 && line.text.front() == '<' && line.text.back() == '>') ++angles;
    if (has_nmea_check(line.text)) ++nmea;
  }
  if (2 * angles > lines.size()) return {"<", ">", false};
  if (2 * nmea > lines.size()) return {lines.back().text[0] == '$' ? "$" : "", "", true};
  return {};
}

// Takes the markers off; lines without them are no lines of this panel.
std::vector<SampleLine> inside(const std::vector<SampleLine>& lines, const Markers& markers) {
  if (markers.starts.empty() && !markers.nmea) return lines;
  std::vector<SampleLine> rest;
  for (const SampleLine& line : lines) {
    const bool marked =
        markers.nmea ? has_nmea_check(line.text)
                     : line.text.size() > 2 && line.text.front() == '<' && line.text.back() == '>';
    if (!marked) continue;
    const std::size_t before = markers.starts.size();
    const std::size_t behind = markers.nmea ? 3 : 1;
    rest.push_back({line.text.substr(before, line.text.size() - before - behind), line.at});
  }
  return rest;
}

// A text that came once, among the first lines, and is followed by others: what the board says when
// it starts.
std::string hello_in(const std::vector<SampleLine>& lines, const std::vector<ShapeSeen>& shapes) {
  for (const ShapeSeen& seen : shapes) {
    const std::string& text = seen.example;
    const bool letters =
        !text.empty() && ((text[0] >= 'a' && text[0] <= 'z') || (text[0] >= 'A' && text[0] <= 'Z'));
    if (lines.size() >= 10 && seen.count == 1 && seen.first < 2 && letters && text.size() <= 80)
      return text;
  }
  return "";
}

// The time between most lines, in whole milliseconds, where it can be that of a loop.
Duration loop_of(const Samples& samples) {
  if (!samples.timed || samples.to_game.size() < 20) return milliseconds(20);
  std::vector<std::int64_t> gaps_ns;
  for (std::size_t i = 1; i < samples.to_game.size(); ++i)
    gaps_ns.push_back((samples.to_game[i].at - samples.to_game[i - 1].at).ns);
  const auto middle = gaps_ns.begin() + static_cast<std::ptrdiff_t>(gaps_ns.size() / 2);
  std::nth_element(gaps_ns.begin(), middle, gaps_ns.end());
  const std::int64_t each_ms = (*middle + 500'000) / 1'000'000;
  return each_ms >= 1 && each_ms <= 1'000 ? milliseconds(each_ms) : milliseconds(20);
}

void drop_last_line(Draft& draft) {
  const DraftLine line = draft.lines.back();
  draft.lines.pop_back();
  const auto carried = [&](const std::string& name) {
    return line.text.find("{" + name + "}") != std::string::npos ||
           line.text.find("{" + name + ":") != std::string::npos;
  };
  std::erase_if(draft.controls,
                [&](const DraftControl& c) { return line.to_game && carried(c.name); });
  std::erase_if(draft.outputs,
                [&](const DraftOutput& o) { return !line.to_game && carried(o.name); });
  draft.remarks.push_back("Left out, for it can be taken for another line: " +
                          printable(line.example));
}

// Guesses may not fit together; the last one goes until they do.
Result<Draft> made_right(Draft draft) {
  while (true) {
    const auto panel = parse_panel(draft_toml(draft), draft.title);
    if (panel.ok()) return draft;
    if (draft.lines.size() <= 1)
      return Error{ErrorCode::kUnusable,
                   "no panel file comes of these lines: " + panel.error().text};
    drop_last_line(draft);
  }
}

// Contacts were seen, and none at 0: pull-ups read 1 while nobody presses.
bool only_ones(const std::vector<ShapeSeen>& shapes) {
  std::size_t ones = 0;
  for (const ShapeSeen& seen : shapes) {
    for (const PlaceSeen& place : seen.places) {
      if (place.word || is_sequence(place) || !is_contact(place)) continue;
      if (place.zeros > 0) return false;
      ones += place.ones;
    }
  }
  return ones > 0;
}

void learn_to_panel(const Samples& samples, Names& names, Draft& draft) {
  if (samples.to_panel.empty()) return;
  const Markers markers = markers_of(samples.to_panel);
  const std::vector<SampleLine> lines = inside(samples.to_panel, markers);
  draft.to_panel_starts = markers.nmea ? "" : markers.starts;
  draft.to_panel_ends = markers.ends.empty() ? samples.to_panel_ends : markers.ends;
  for (const ShapeSeen& seen : believed(shapes_in(lines), lines.size())) {
    const bool words = std::any_of(seen.places.begin(), seen.places.end(),
                                   [](const PlaceSeen& place) { return place.word; });
    if (!words) add_line_to_panel(seen, names, draft);
  }
}

}  // namespace

Result<Draft> learn(const Samples& samples, const std::string& title) {
  Draft draft;
  draft.title = title;
  const Markers markers = markers_of(samples.to_game);
  const std::vector<SampleLine> lines = inside(samples.to_game, markers);
  draft.to_game_starts = markers.starts;
  draft.to_game_ends = markers.ends.empty() ? samples.to_game_ends : markers.ends;
  const std::vector<ShapeSeen> shapes = shapes_in(lines);
  const std::vector<ShapeSeen> often = believed(shapes, lines.size());
  if (often.empty()) {
    return Error{ErrorCode::kUnusable,
                 "no line to the game with a number or a state in it was found; a line such as "
                 "512,300,1,0 would do"};
  }
  draft.loop = loop_of(samples);
  draft.hello = hello_in(lines, shapes);
  Names names;
  const bool many = lines.size() >= 10;
  for (const ShapeSeen& seen : often) add_line_to_game(seen, often.size() > 1, many, names, draft);
  for (DraftLine& line : draft.lines) line.nmea_check = markers.nmea;
  if (!many && only_ones(often)) {
    draft.remarks.push_back(
        "All buttons sent 1: if nobody pressed them, 1 is up, and sends is [1, 0].");
  }
  learn_to_panel(samples, names, draft);
  return made_right(std::move(draft));
}

}  // namespace understudy
