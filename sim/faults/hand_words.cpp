// Reads the words of a hand, one after the other.
#include "sim/faults/hand_words.h"

#include <algorithm>
#include <optional>

#include "sim/base/text.h"
#include "sim/base/units.h"

namespace understudy {
namespace {

constexpr std::string_view kForms =
    "a hand's words are: NAME down|up|on|off, NAME press [TIME], NAME to SHARE% [in TIME], "
    "each with [from TIME] [for TIME]";

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

// A number and its unit may stand apart: "120 ms" is one time.
std::optional<Duration> take_time(std::span<const std::string_view>& words) {
  for (const std::size_t count : {std::size_t{2}, std::size_t{1}}) {
    if (words.size() < count) continue;
    std::string text(words[0]);
    if (count == 2) text += words[1];
    const auto time = parse_duration(text);
    if (!time || time->ns < 0) continue;
    words = words.subspan(count);
    return time;
  }
  return std::nullopt;
}

// What the words after WHO ask for.
struct Request {
  std::int32_t to_ppm = 0;
  Duration duration = {};
  Duration from = {};
  std::optional<Duration> lasts;  // then it goes back
  bool stays = false;             // a pot stays where it is put
  std::string wrong;              // not empty: what could not be read
};

struct FixedVerb {
  std::string_view word;
  std::int32_t to_ppm;
};
constexpr FixedVerb kFixedVerbs[] = {
    {"down", kFullTravel}, {"up", 0}, {"on", kFullTravel}, {"off", 0}};

bool read_to(std::span<const std::string_view>& words, Request& request) {
  if (words.empty()) return false;
  std::string share(words[0]);
  words = words.subspan(1);
  if (!words.empty() && words[0] == "%") {
    share += '%';
    words = words.subspan(1);
  }
  const auto ppm = parse_quantity(share, Unit::kShare);
  if (!ppm || share.back() != '%' || *ppm < 0 || *ppm > kFullTravel) return false;
  request.to_ppm = static_cast<std::int32_t>(*ppm);
  request.stays = true;
  return true;
}

void read_verb(std::span<const std::string_view>& words, Request& request) {
  const std::string_view verb = words[0];
  words = words.subspan(1);
  for (const FixedVerb& fixed : kFixedVerbs) {
    if (verb != fixed.word) continue;
    request.to_ppm = fixed.to_ppm;
    return;
  }
  if (verb == "press") {
    request.to_ppm = kFullTravel;
    request.lasts = take_time(words).value_or(kPressDefault);
  } else if (verb == "to") {
    if (!read_to(words, request)) request.wrong = "after 'to' comes a share from 0% to 100%";
  } else {
    static const std::string known[] = {"down", "up", "on", "off", "press", "to"};
    const std::string near = nearest_word(verb, known);
    request.wrong = "'" + printable(verb) + "' is no movement" +
                    (near.empty() ? "" : "; the nearest is '" + near + "'") + "; " +
                    std::string(kForms);
  }
}

void read_adverbs(std::span<const std::string_view>& words, Request& request) {
  while (!words.empty() && request.wrong.empty()) {
    const std::string_view adverb = words[0];
    words = words.subspan(1);
    const auto time = take_time(words);
    if (adverb != "in" && adverb != "from" && adverb != "for") {
      request.wrong = "'" + printable(adverb) + "' is not expected here; " + std::string(kForms);
    } else if (!time) {
      request.wrong = "after '" + std::string(adverb) + "' comes " +
                      std::string(unit_example(Unit::kTime));
    } else if (adverb == "in") {
      request.duration = *time;
    } else if (adverb == "from") {
      request.from = *time;
    } else if (request.stays) {
      request.wrong = "'for' goes with down, up, on, off; a share stays until it is moved again";
    } else {
      request.lasts = *time;
    }
  }
}

struct Who {
  std::uint16_t seat = 0;
  std::uint16_t control = 0;
};

// Where a control of the name stands in the seats from `first` to `last`.
std::vector<Who> find_controls(std::string_view name, std::span<const HandSeat> seats) {
  std::vector<Who> found;
  for (std::size_t seat = 0; seat < seats.size(); ++seat) {
    const auto& controls = seats[seat].panel->description.controls;
    for (std::size_t i = 0; i < controls.size(); ++i)
      if (controls[i].name == name)
        found.push_back({static_cast<std::uint16_t>(seat), static_cast<std::uint16_t>(i)});
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

Result<Who> find_who(std::string_view line, std::string_view word,
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
    return Who{static_cast<std::uint16_t>(i), found.front().control};
  }
  return mistake(line, "there is no seat '" + printable(seat_name) + "'");
}

std::vector<TimedHand> actions_of(const Who& who, const Request& request) {
  const auto moved = [&](std::int32_t to_ppm) {
    const Curve curve = request.duration.ns == 0 ? Curve::kAtOnce : Curve::kMinimumJerk;
    return HandAction{
        .control = who.control, .to_ppm = to_ppm, .duration = request.duration, .curve = curve};
  };
  std::vector<TimedHand> actions{{request.from, who.seat, moved(request.to_ppm)}};
  if (request.lasts)
    actions.push_back({request.from + *request.lasts, who.seat,
                       moved(request.to_ppm == 0 ? kFullTravel : 0)});
  return actions;
}

}  // namespace

Result<std::vector<TimedHand>> parse_hand_words(std::string_view line,
                                                std::span<const HandSeat> seats) {
  const std::vector<std::string_view> all = words_of(line);
  if (all.empty() || all.front().front() == '#') return std::vector<TimedHand>{};
  if (all.size() < 2) return mistake(line, std::string(kForms));
  const Result<Who> who = find_who(line, all.front(), seats);
  if (!who.ok()) return who.error();
  std::span<const std::string_view> rest = std::span(all).subspan(1);
  Request request;
  read_verb(rest, request);
  if (request.wrong.empty()) read_adverbs(rest, request);
  if (!request.wrong.empty()) return mistake(line, request.wrong);
  return actions_of(who.value(), request);
}

}  // namespace understudy
