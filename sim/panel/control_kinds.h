// What the panel folder knows of each kind of control: its words, its keys, how they are read and
// checked, and a whole example. A new kind is one file keys_KIND.cpp with its row, and one line in
// the list of keys_control.cpp. Its parts in lines and under the hand stand in sim/model/kinds.h.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "sim/model/kinds.h"
#include "sim/panel/key_table.h"
#include "sim/panel/layout.h"

namespace understudy {

// What may stand at `sends`, and what stands there where it is left out.
struct SendsRule {
  std::string_view type;      // "two numbers for the ends, such as [0, 1023]"
  std::size_t words_min = 0;  // 0: no words
  std::size_t words_max = 0;
  bool reads_pin = true;  // "what the pin reads" means something
};

struct ControlKindRow {
  ControlKind kind = ControlKind::kPot;
  std::string_view one;      // "a pot"
  std::string_view many;     // "pots"
  std::string_view meaning;  // "turned or slid"
  // A whole [[control]] (and what it needs beside it), for `explain`.
  std::string_view example;
  // Keys of other rows that it has as well, separated by |; those of control.keys as keys.hold.
  std::string_view has;
  SendsRule sends;
  Footprint (*size)(const ControlDescription& control) = nullptr;  // as one buys it
  std::string_view pins_are;  // what its pins are for, where it has several
  // Its own keys; null: it has only those of others.
  std::span<const KeyOf<ControlDescription>> (*rows)() = nullptr;
  // What the n-th pin reads, for people: "button, pull-up".
  std::string (*pin_text)(const ControlDescription& control, std::size_t n) = nullptr;
  // Before the keys are read: values that differ from those of other kinds; may be null.
  void (*begin)(ControlDescription& into) = nullptr;
  // After all keys of `table` were read: what must fit together; may be null.
  void (*finish)(const Node& table, ControlDescription& into, Mistakes& mistakes) = nullptr;
  // Fills in what follows from the board and the rest. Doing it again changes nothing.
  void (*complete)(ControlDescription& control, const BoardDescription& board) = nullptr;
  // Where it lies at power-on; null: it has no such key.
  void (*read_rest)(const KeyText& key, const Node& node, ControlDescription& into,
                    Mistakes& mistakes) = nullptr;
  std::string (*write_rest)(const ControlDescription& from) = nullptr;
};

// All kinds in the order of ControlKind.
std::span<const ControlKindRow> control_kinds();
const ControlKindRow& control_kind(ControlKind kind);

// The rows of the kinds; each in keys_KIND.cpp.
ControlKindRow pot_kind();
ControlKindRow button_kind();  // keys_contact.cpp
ControlKindRow switch_kind();  // keys_contact.cpp
ControlKindRow selector_kind();
ControlKindRow stick_kind();
ControlKindRow encoder_kind();
ControlKindRow sensor_kind();

// Shared by the files of the kinds.
// "pull-up" or "pull-down" behind the name of a pin: "button, pull-up".
std::string with_wiring(std::string text, const ControlDescription& control);
// Reads 0 to the converter's highest number where nothing is said.
void send_analogue_reading(ControlDescription& control, const BoardDescription& board);
// What a contact's pin reads when it is open and closed.
Sends contact_reading(Wiring wired);
// The table `bounce`, read by its own rows (keys_contact.cpp).
std::span<const KeyOf<ControlDescription>> bounce_rows();
// A mistake at `name`, which stands in `table`.
void add_at(const Node& table, std::string_view name, std::string found, std::string expected,
            std::string remedy, Mistakes& mistakes);

}  // namespace understudy
