// Readers of keys that controls and outputs share: name, kind, pin or pins, place.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/panel/readers.h"

namespace understudy {

inline constexpr std::string_view kNameType =
    "a name that begins with a letter, of letters, digits, _ and -, at most 40";
inline constexpr std::string_view kPinType = "the name of a pin such as \"A0\" or 3";
inline constexpr std::string_view kPinsType = "a list of pins such as [\"D2\", \"D3\"]";
inline constexpr std::string_view kAtType = "two numbers of millimetres such as [40, 70]";

bool is_name(std::string_view text);

// "3" and 3 are D3; other names stay as they are.
std::optional<std::string> read_pin_name(const KeyText& key, const Node& node, Mistakes& mistakes);
std::optional<std::vector<std::string>> read_pin_names(const KeyText& key, const Node& node,
                                                       Mistakes& mistakes);
// Where a table gives other than `needed` pins; `which` says which they are and may be empty.
void complain_of_pin_count(const KeyText& key, const Node& table, std::size_t needed,
                           std::string_view which, Mistakes& mistakes);
std::optional<Place> read_place(const KeyText& key, const Node& node, Mistakes& mistakes);

template <class T>
void read_name(const KeyText& key, const Node& node, T& into, Mistakes& mistakes) {
  auto text = read_text(key, node, mistakes);
  if (!text) return;
  if (is_name(*text))
    into.name = *std::move(text);
  else
    add_wrong(key, node, mistakes);
}

// Of a part with one pin.
template <class T>
void read_pin(const KeyText& key, const Node& node, T& into, Mistakes& mistakes) {
  if (auto pin = read_pin_name(key, node, mistakes)) into.pins = {*std::move(pin)};
}

// Of a part with several, in the order of its kind. Whether they are as many as it needs is seen
// once all of its keys are read (complain_of_pin_count).
template <class T>
void read_pins(const KeyText& key, const Node& node, T& into, Mistakes& mistakes) {
  if (auto pins = read_pin_names(key, node, mistakes)) into.pins = *std::move(pins);
}

// Where no pin was left to give out, the key is left out again.
template <class T>
std::string write_pin(const T& from) {
  return from.pins.size() != 1 || from.pins[0].empty() ? "" : quoted(from.pins[0]);
}

template <class T>
std::string write_pins(const T& from) {
  for (const std::string& pin : from.pins)
    if (pin.empty()) return "";
  return from.pins.empty() ? "" : write_texts(from.pins);
}

template <class T>
void read_at(const KeyText& key, const Node& node, T& into, Mistakes& mistakes) {
  if (const auto place = read_place(key, node, mistakes)) into.place = *place;
}

template <class T>
std::string write_at(const T& from) {
  if (!from.place.placed) return "";
  return "[" + write_millimetres(from.place.x_um) + ", " + write_millimetres(from.place.y_um) + "]";
}

}  // namespace understudy
