// Reads who is told and when; what is read by hand_verbs.cpp.
#include "sim/faults/hand_words.h"

#include <algorithm>
#include <optional>

#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/faults/hand_verbs.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

Error mistake(std::string_view line, const std::string& what) {
  return {ErrorCode::kUnusable, "cannot follow '" + printable(line) + "': " + what};
}

std::vector<std::string_view> words_of(std::string_view line) {
  std::vector<std::string_view> words;
  for (std::size_t i = 0; i < line.size();) {
    const std::size_t begin = line.find_first_not_of(" \t\r", i);
    if (begin == std::string_view::npos) break;
    i = std::min(line.find_first_of(" \t\r", begin), line.size());
    words.push_back(line.substr(begin, i - begin));
  }
  return words;
}

// When it is to happen.
struct Timing {
  Duration from = {};
  std::optional<Duration> in;
};

void read_adverbs(Words& words, const HandTarget& target, Timing& timing, HandRequest& request) {
  while (!words.empty() && request.wrong.empty()) {
    const std::string_view adverb = words[0];
    words = words.subspan(1);
    const auto time = take_time(words);
    if (adverb != "in" && adverb != "from" && adverb != "for") {
      request.wrong = "'" + printable(adverb) + "' is not expected here; " + hand_forms(target);
    } else if (!time) {
      request.wrong =
          "after '" + std::string(adverb) + "' comes " + std::string(unit_example(Unit::kTime));
    } else if (adverb == "in") {
      timing.in = *time;
    } else if (adverb == "from") {
      timing.from = *time;
    } else if (request.back.empty()) {
      request.wrong = "'for' goes with what springs or is taken back; '" +
                      printable(target.written) + "' stays until it is moved again";
    } else {
      request.lasts = *time;
    }
  }
}

struct Who {
  std::uint16_t seat = 0;
  std::uint16_t control = 0;
  std::optional<std::uint8_t> part;
};

// Where a control of the name stands in the seats from `first` to `last`.
std::vector<Who> find_controls(std::string_view name, std::span<const HandSeat> seats) {
  std::vector<Who> found;
  for (std::size_t seat = 0; seat < seats.size(); ++seat) {
    const auto& controls = seats[seat].panel->description.controls;
    for (std::size_t i = 0; i < controls.size(); ++i)
      if (controls[i].name == name)
        found.push_back({static_cast<std::uint16_t>(seat), static_cast<std::uint16_t>(i), {}});
  }
  return found;
}

std::string nearest_control(std::string_view name, std::span<const HandSeat> seats) {
  std::vector<std::string> names;
  for (const HandSeat& seat : seats)
    for (const ControlDescription& control : seat.panel->description.controls)
      names.push_back(control.name);
  const std::string near = nearest_word(name, names);
  if (!near.empty()) return "; the nearest is '" + near + "'";
  std::string all;
  for (const std::string& known : names) all += (all.empty() ? "" : ", ") + known;
  return "; there are " + all;
}

Result<Who> find_control(std::string_view line, std::string_view word,
                         std::span<const HandSeat> seats) {
  const std::size_t slash = word.rfind('/');
  if (slash == std::string_view::npos) {
    const std::vector<Who> found = find_controls(word, seats);
    if (found.size() == 1) return found.front();
    if (found.empty())
      return mistake(
          line, "no control is named '" + printable(word) + "'" + nearest_control(word, seats));
    return mistake(line, "several seats have a '" + printable(word) + "'; say which, such as " +
                             std::string(seats[found.front().seat].name) + "/" + std::string(word));
  }
  const std::string_view seat_name = word.substr(0, slash);
  for (std::size_t i = 0; i < seats.size(); ++i) {
    if (seats[i].name != seat_name) continue;
    const std::vector<Who> found = find_controls(word.substr(slash + 1), seats.subspan(i, 1));
    if (found.empty())
      return mistake(line, "'" + printable(seat_name) + "' has no control '" +
                               printable(word.substr(slash + 1)) + "'" +
                               nearest_control(word.substr(slash + 1), seats.subspan(i, 1)));
    return Who{static_cast<std::uint16_t>(i), found.front().control, {}};
  }
  return mistake(line, "there is no seat '" + printable(seat_name) + "'");
}

const ControlDescription& control_of(const Who& who, std::span<const HandSeat> seats) {
  return seats[who.seat].panel->description.controls[who.control];
}

// Names have no dot of their own: what follows one is a part.
Result<Who> find_who(std::string_view line, std::string_view word,
                     std::span<const HandSeat> seats) {
  const std::size_t after_seat = word.rfind('/') == std::string_view::npos ? 0 : word.rfind('/');
  const std::size_t dot = word.find('.', after_seat);
  Result<Who> who = find_control(line, word.substr(0, dot), seats);
  if (!who.ok() || dot == std::string_view::npos) return who;
  const ControlDescription& control = control_of(who.value(), seats);
  const std::span<const HandPart> parts = hand_parts(control);
  const std::string_view named = word.substr(dot + 1);
  std::string known;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].name.empty()) continue;
    if (parts[i].name == named) who.value().part = static_cast<std::uint8_t>(i);
    known += (known.empty() ? "" : ", ") + std::string(parts[i].name);
  }
  if (who.value().part) return who;
  const std::string whose = "'" + printable(control.name) + "'";
  if (known.empty())
    return mistake(line, "a hand knows no parts of " + whose + ", which is " + a_kind(control) +
                             "; leave '" + printable(word.substr(dot)) + "' out");
  return mistake(line, whose + " has no part '" + printable(named) + "'; it has " + known);
}

HandTarget target_of(const Who& who, std::string_view word, std::span<const HandSeat> seats) {
  const HandSeat& seat = seats[who.seat];
  const ControlDescription& control = control_of(who, seats);
  const std::size_t slash = word.rfind('/');
  return {.control = &control,
          .part = who.part,
          .written = slash == std::string_view::npos ? word : word.substr(slash + 1),
          .heading = [&seat, &control, place = who.control](std::uint8_t part) {
            return seat.heading ? seat.heading(place, part) : rest_ppm(control, part);
          }};
}

std::vector<TimedHand> actions_of(const Who& who, const HandRequest& request,
                                  const Timing& timing) {
  std::vector<TimedHand> actions;
  const auto add = [&](const HandMove& move, Duration after, Duration duration) {
    const Curve curve = duration.ns == 0 ? Curve::kAtOnce : request.curve;
    actions.push_back({after, who.seat,
                       HandAction{.control = who.control,
                                  .part = move.part,
                                  .to_ppm = move.ppm,
                                  .duration = duration,
                                  .curve = curve}});
  };
  for (const HandMove& move : request.moves)
    add(move, timing.from, timing.in.value_or(request.duration));
  if (!request.lasts) return actions;
  // A contact comes back as it went; what springs takes its own time.
  const bool sprung = request.back_duration > Duration{};
  for (const HandMove& move : request.back)
    add(move, timing.from + *request.lasts,
        sprung ? request.back_duration : timing.in.value_or(request.duration));
  return actions;
}

}  // namespace

std::optional<SeatSource> read_box_words(std::string_view line) {
  const std::vector<std::string_view> words = words_of(line);
  if (words.size() != 2 || words[0] != "box") return std::nullopt;
  if (words[1] == "out") return SeatSource::kDevice;
  if (words[1] == "in") return SeatSource::kBox;
  return std::nullopt;
}

std::optional<std::vector<SaidPart>> read_let_go(std::string_view line,
                                                 std::span<const HandSeat> seats) {
  const std::vector<std::string_view> words = words_of(line);
  const std::size_t count = words.size();
  if (count < 2 || count > 3 || words[count - 2] != "let" || words[count - 1] != "go")
    return std::nullopt;
  std::vector<SaidPart> said;
  const auto add = [&](const Who& who) {
    const std::size_t parts = hand_parts(control_of(who, seats)).size();
    for (std::size_t part = 0; part < parts; ++part)
      if (!who.part || *who.part == part)
        said.push_back({who.seat, who.control, static_cast<std::uint8_t>(part)});
  };
  if (count == 3) {
    const Result<Who> who = find_who(line, words[0], seats);
    if (!who.ok()) return std::nullopt;
    add(who.value());
    return said;
  }
  for (std::size_t seat = 0; seat < seats.size(); ++seat)
    for (std::size_t i = 0; i < seats[seat].panel->description.controls.size(); ++i)
      add({static_cast<std::uint16_t>(seat), static_cast<std::uint16_t>(i), {}});
  return said;
}

bool says_nothing(std::string_view line) {
  const std::vector<std::string_view> all = words_of(line);
  return all.empty() || all.front().front() == '#';
}

Error nothing_said() {
  return {ErrorCode::kUnusable, "no movement is said: " + std::string(all_hand_forms())};
}

Result<std::vector<TimedHand>> parse_hand_words(std::string_view line,
                                                std::span<const HandSeat> seats) {
  if (says_nothing(line)) return std::vector<TimedHand>{};
  const std::vector<std::string_view> all = words_of(line);
  const Result<Who> who = find_who(line, all.front(), seats);
  if (!who.ok() && all.size() < 2) return mistake(line, std::string(all_hand_forms()));
  if (!who.ok()) return who.error();
  const HandTarget target = target_of(who.value(), all.front(), seats);
  if (all.size() < 2) return mistake(line, hand_forms(target));
  Words rest = std::span(all).subspan(1);
  HandRequest request = read_hand_verb(target, rest);
  Timing timing;
  if (request.wrong.empty()) read_adverbs(rest, target, timing, request);
  if (!request.wrong.empty()) return mistake(line, request.wrong);
  return actions_of(who.value(), request, timing);
}

}  // namespace understudy
