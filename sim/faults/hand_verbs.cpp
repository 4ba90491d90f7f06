// A table of verbs for each way of moving; each verb reads its own words.
#include "sim/faults/hand_verbs.h"

#include <algorithm>
#include <array>
#include <charconv>

#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/faults/hand_words.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

// A verb being read.
struct Reading {
  const HandTarget& target;
  Words& words;
  HandRequest request;

  [[nodiscard]] const ControlDescription& control() const { return *target.control; }
  [[nodiscard]] std::uint8_t part() const { return target.part.value_or(0); }
  void fail(std::string wrong) { request.wrong = std::move(wrong); }
};

struct Verb {
  std::string_view word;
  void (*read)(Reading&);
};

std::string quoted(std::string_view word) {
  return "'" + printable(word) + "'";
}

std::string nearest_of(std::string_view word, std::span<const std::string> known) {
  const std::string near = nearest_word(word, known);
  return near.empty() ? "" : "; the nearest is '" + near + "'";
}

// ---- contacts: buttons, switches, what a stick presses

std::uint8_t contact_part(const Reading& reading) {
  const bool whole_stick = reading.control().kind == ControlKind::kStick && !reading.target.part;
  return whole_stick ? 2 : reading.part();
}
void read_down(Reading& reading) {
  const std::uint8_t part = contact_part(reading);
  reading.request.moves = {{part, kFullTravel}};
  reading.request.back = {{part, 0}};
}
void read_up(Reading& reading) {
  const std::uint8_t part = contact_part(reading);
  reading.request.moves = {{part, 0}};
  reading.request.back = {{part, kFullTravel}};
}
void read_press(Reading& reading) {
  read_down(reading);
  reading.request.lasts = take_time(reading.words).value_or(kPressDefault);
}

// ---- shares: pots, the two ways of a stick

// "40%" or "40 %"; nothing where that is not a share of the travel.
std::optional<std::int32_t> take_share(Words& words) {
  if (words.empty()) return std::nullopt;
  std::string share(words[0]);
  const bool apart = words.size() > 1 && words[1] == "%";
  if (apart) share += '%';
  const auto ppm = parse_quantity(share, Unit::kShare);
  if (!ppm || share.back() != '%' || *ppm < 0 || *ppm > kFullTravel) return std::nullopt;
  words = words.subspan(apart ? 2 : 1);
  return static_cast<std::int32_t>(*ppm);
}

bool springs(const ControlDescription& control) {
  return control.kind == ControlKind::kStick && control.stick.springs;
}
HandMove to_centre(const ControlDescription& control, std::uint8_t part) {
  return {part, rest_ppm(control, part)};
}

void read_to_share(Reading& reading) {
  const auto share = take_share(reading.words);
  if (!share) return reading.fail("after 'to' comes a share from 0% to 100%");
  reading.request.moves = {{reading.part(), *share}};
  if (!springs(reading.control())) return;
  reading.request.back = {to_centre(reading.control(), reading.part())};
  reading.request.back_duration = kSpringBack;
}

void read_to_both(Reading& reading) {
  const auto x = take_share(reading.words);
  const auto y = take_share(reading.words);
  if (!x || !y)
    return reading.fail("after 'to' come two shares from 0% to 100%, x and y, such as '" +
                        reading.control().name + " to 80% 20%'; for one of them: '" +
                        reading.control().name + ".x to 80%'");
  reading.request.moves = {{0, *x}, {1, *y}};
  if (!springs(reading.control())) return;
  reading.request.back = {to_centre(reading.control(), 0), to_centre(reading.control(), 1)};
  reading.request.back_duration = kSpringBack;
}

void read_let_go(Reading& reading) {
  if (reading.words.empty() || reading.words[0] != "go")
    return reading.fail("after 'let' comes 'go'");
  reading.words = reading.words.subspan(1);
  const ControlDescription& control = reading.control();
  if (!springs(control))
    return reading.fail(quoted(control.name) + " has no springs: it stays where it is put");
  if (reading.target.part) {
    reading.request.moves = {to_centre(control, *reading.target.part)};
  } else {
    reading.request.moves = {to_centre(control, 0), to_centre(control, 1)};
  }
  reading.request.duration = kSpringBack;
}

// ---- places: selectors

std::string places_text(const ControlDescription& control) {
  std::string text =
      "places 1 to " + std::to_string(control.selector.places) + " of " + quoted(control.name);
  std::string words;
  for (const std::string& word : control.sends.words) words += (words.empty() ? "" : ", ") + word;
  return words.empty() ? text : text + ", or one of " + words;
}

// A word of its `sends`, else a number; 0-based, or -1.
std::int64_t place_called(const ControlDescription& control, std::string_view word) {
  const std::vector<std::string>& words = control.sends.words;
  const auto found = std::find(words.begin(), words.end(), word);
  if (found != words.end()) return found - words.begin();
  std::int64_t place = 0;
  const auto [stop, error] = std::from_chars(word.data(), word.data() + word.size(), place);
  const bool number = error == std::errc{} && stop == word.data() + word.size();
  return number && place >= 1 && place <= control.selector.places ? place - 1 : -1;
}

void read_to_place(Reading& reading) {
  const ControlDescription& control = reading.control();
  if (reading.words.empty()) return reading.fail("after 'to' comes one of " + places_text(control));
  const std::string_view word = reading.words[0];
  const std::int64_t place = place_called(control, word);
  if (place < 0)
    return reading.fail("there is no place " + quoted(word) +
                        nearest_of(word, control.sends.words) + "; there are " +
                        places_text(control));
  reading.words = reading.words.subspan(1);
  reading.request.moves = {{0, place_ppm(place, control.selector.places)}};
}

// At the ends it stays: a rotary switch has stops.
void read_step(Reading& reading, int by) {
  const std::int64_t places = reading.control().selector.places;
  const std::int64_t place = place_at(reading.target.heading(0), places) + by;
  reading.request.moves = {{0, place_ppm(std::clamp<std::int64_t>(place, 0, places - 1), places)}};
}
void read_next(Reading& reading) {
  read_step(reading, 1);
}
void read_previous(Reading& reading) {
  read_step(reading, -1);
}

// ---- turns: encoders

constexpr std::string_view kHowFar =
    "after 'turn' comes how far, such as 3 clicks, -1.5 turns or 90deg";

enum class TurnUnit : std::uint8_t { kClicks, kTurns, kDegrees };
struct TurnWord {
  std::string_view word;
  TurnUnit unit;
};
constexpr std::array<TurnWord, 5> kTurnWords = {{{"clicks", TurnUnit::kClicks},
                                                 {"click", TurnUnit::kClicks},
                                                 {"turns", TurnUnit::kTurns},
                                                 {"turn", TurnUnit::kTurns},
                                                 {"deg", TurnUnit::kDegrees}}};

// A number with up to six decimals, in millionths, and its unit, apart or not.
struct HowFar {
  std::int64_t millionths = 0;
  TurnUnit unit = TurnUnit::kClicks;
};
std::optional<HowFar> take_how_far(Words& words) {
  if (words.empty()) return std::nullopt;
  std::string_view number = words[0];
  const std::size_t letter = number.find_first_not_of("+-.0123456789");
  const bool joined = letter != std::string_view::npos;
  if (!joined && words.size() < 2) return std::nullopt;
  const std::string_view unit = joined ? number.substr(letter) : words[1];
  if (joined) number = number.substr(0, letter);
  const auto found = std::find_if(kTurnWords.begin(), kTurnWords.end(),
                                  [&](const TurnWord& word) { return word.word == unit; });
  // A bare share is a number in millionths.
  const auto millionths = parse_quantity(number, Unit::kShare);
  if (found == kTurnWords.end() || !millionths) return std::nullopt;
  words = words.subspan(joined ? 1 : 2);
  return HowFar{*millionths, found->unit};
}

std::int64_t rounded(__int128 number, std::int64_t by) {
  const __int128 half = number < 0 ? -by / 2 : by / 2;
  return static_cast<std::int64_t>((number + half) / by);
}

// A hand lets go where the next detent draws the knob, so all ends at whole clicks.
void read_turn(Reading& reading) {
  const auto how_far = take_how_far(reading.words);
  if (!how_far) return reading.fail(std::string(kHowFar));
  const std::int64_t detents = reading.control().encoder.detents;
  std::int64_t a_turn = 1;  // of the unit
  if (how_far->unit == TurnUnit::kClicks) a_turn = detents;
  if (how_far->unit == TurnUnit::kDegrees) a_turn = 360;
  constexpr std::int64_t kMillion = 1'000'000;
  if (how_far->unit == TurnUnit::kClicks && how_far->millionths % kMillion != 0)
    return reading.fail("a knob rests on whole clicks, such as 3 clicks");
  const __int128 most = static_cast<__int128>(kTurnsMax) * a_turn * kMillion;
  if (how_far->millionths > most || how_far->millionths < -most)
    return reading.fail("that is further than " + std::to_string(kTurnsMax) +
                        " turns in one movement");
  const std::int64_t clicks =
      rounded(static_cast<__int128>(how_far->millionths) * detents, a_turn * kMillion);
  if (clicks == 0)
    return reading.fail("that is less than half a click of " + quoted(reading.control().name) +
                        ", which has " + std::to_string(detents) + " a turn");
  reading.request.moves = {{0, turn_ppm(clicks, detents)}};
  reading.request.duration = kClickDefault * (clicks < 0 ? -clicks : clicks);
  reading.request.curve = Curve::kLinear;
}

// ---- the table

constexpr Verb kContactVerbs[] = {{"down", read_down},
                                  {"up", read_up},
                                  {"on", read_down},
                                  {"off", read_up},
                                  {"press", read_press}};
constexpr Verb kShareVerbs[] = {{"to", read_to_share}};
constexpr Verb kAxisVerbs[] = {{"to", read_to_share}, {"let", read_let_go}};
constexpr Verb kStickVerbs[] = {{"to", read_to_both}, {"let", read_let_go}, {"press", read_press}};
constexpr Verb kPlaceVerbs[] = {
    {"to", read_to_place}, {"next", read_next}, {"previous", read_previous}};
constexpr Verb kTurnVerbs[] = {{"turn", read_turn}};

// NAME stands for who is told.
constexpr std::string_view kContactForms = "NAME down|up|on|off, NAME press [TIME]";
constexpr std::string_view kShareForms = "NAME to SHARE%";
constexpr std::string_view kAxisForms = "NAME to SHARE%, NAME let go";
constexpr std::string_view kStickForms =
    "NAME to SHARE% SHARE%, NAME let go, NAME press [TIME], NAME.x to SHARE%, NAME.press down|up";
constexpr std::string_view kPressless = "NAME to SHARE% SHARE%, NAME let go, NAME.x to SHARE%";
constexpr std::string_view kPlaceForms = "NAME to PLACE, NAME next, NAME previous";
constexpr std::string_view kTurnForms = "NAME turn NUMBER clicks|turns|deg";

struct Abilities {
  std::span<const Verb> verbs;
  std::string_view forms;
  bool goes_back = false;  // `for` takes it back
};

Abilities abilities_of(const HandTarget& target) {
  const ControlDescription& control = *target.control;
  const bool stick = control.kind == ControlKind::kStick;
  if (stick && !target.part) {
    if (control.stick.presses) return {kStickVerbs, kStickForms, springs(control)};
    return {std::span(kStickVerbs).first(2), kPressless, springs(control)};
  }
  const std::span<const HandPart> parts = hand_parts(control);
  if (parts.empty()) return {};
  switch (parts[target.part.value_or(0)].way) {
    case HandWay::kSlides:
      if (stick) return {kAxisVerbs, kAxisForms, springs(control)};
      return {kShareVerbs, kShareForms};
    case HandWay::kPlaces:
      return {kPlaceVerbs, kPlaceForms};
    case HandWay::kPresses:
    case HandWay::kToggles:
      return {kContactVerbs, kContactForms, true};
    case HandWay::kTurns:
      return {kTurnVerbs, kTurnForms};
  }
  return {};
}

}  // namespace

std::string a_kind(const ControlDescription& control) {
  const std::string kind(kind_word(control.kind));
  return (kind == "encoder" ? "an " : "a ") + kind;
}

std::optional<Duration> take_time(Words& words) {
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

std::string hand_forms(const HandTarget& target) {
  const Abilities abilities = abilities_of(target);
  std::string forms(abilities.forms);
  for (std::size_t at = 0; (at = forms.find("NAME", at)) != std::string::npos;)
    forms.replace(at, 4, target.written);
  return quoted(target.written) + " is " + (target.part ? "a part of " : "") +
         a_kind(*target.control) + ": " + forms + ", each with [in TIME] [from TIME]" +
         (abilities.goes_back ? " [for TIME]" : "");
}

std::string_view all_hand_forms() {
  return "a hand's words are: NAME down|up|on|off, NAME press [TIME], NAME to SHARE%, NAME to "
         "PLACE, NAME turn 3 clicks, NAME let go, each with [in TIME] [from TIME] [for TIME]";
}

HandRequest read_hand_verb(const HandTarget& target, Words& words) {
  const Abilities abilities = abilities_of(target);
  Reading reading{target, words, {}};
  if (abilities.verbs.empty()) {
    reading.fail("no hand moves " + quoted(target.written) + ", " + a_kind(*target.control) +
                 "; what it measures is its course in the panel file, such as course = \"sine\"");
    return std::move(reading.request);
  }
  const std::string_view word = words[0];
  words = words.subspan(1);
  std::vector<std::string> known;
  for (const Verb& verb : abilities.verbs) {
    if (verb.word == word) {
      verb.read(reading);
      return std::move(reading.request);
    }
    known.emplace_back(verb.word);
  }
  reading.fail(quoted(word) + " is no movement of it" + nearest_of(word, known) + "; " +
               hand_forms(target));
  return std::move(reading.request);
}

}  // namespace understudy
