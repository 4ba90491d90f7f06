// The one table of keys of a panel file. Each row says what a key is (path, unit, default, words,
// meaning, example) and how it is read and written; parsing, messages, `explain`, the schema for
// editors, the documentation and resolved files are all made from it.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/units.h"
#include "sim/model/panel_description.h"
#include "sim/panel/mistakes.h"
#include "sim/panel/node.h"

namespace understudy {

// The tables that a panel file consists of; sub-tables after the table they stand in.
enum class Section : std::uint8_t {
  kTop,
  kFace,
  kBoard,
  kGroup,
  kManners,
  kGather,
  kHeap,
  kWire,
  kHost,
  kToGame,
  kToPanel,
  kMatrix,
  kControl,
  kBounce,
  kKeys,
  kOutput,
  kLine,
  kSend,
  kCheck,
  kAnswer,
};
inline constexpr int kSectionCount = 20;

// "", "face", "manners.gather", "control"...
std::string_view section_path(Section section);
// What the table is for, one sentence.
std::string_view section_meaning(Section section);
// True for [[control]], [[output]], [[line]], [[answer]] and board.groups.
bool is_list_of_tables(Section section);

// What may stand at a key; more than a unit where several shapes are allowed.
enum class ValueShape : std::uint8_t {
  kText,
  kInteger,
  kNumber,
  kFlag,
  kWord,
  kQuantity,
  kTexts,
  kIntegers,
  kNumbersOrTexts,
  kPlace,
  kPin,
  kPins,
  kCell,
  kNumbers,
  kIntegerOrText,
  kQuantityOrWord,
  kTwoQuantities,
  kTable,
  kWordOrTable,
  kTables,
};

// Which kinds of control (of output, in its section) have a key: a bit for each.
using KindBits = std::uint16_t;
inline constexpr KindBits kForAnyKind = 0;
template <class Kind>
constexpr KindBits kind_bit(Kind kind) {
  return static_cast<KindBits>(1U << static_cast<unsigned>(kind));
}

// What a row says to people. All texts are constants.
struct KeyText {
  Section section = Section::kTop;
  std::string_view name = {};
  std::string_view type = {};      // "a time such as \"20 ms\""
  std::string_view fallback = {};  // the default, as it would be written, or in words
  std::string_view meaning = {};   // one sentence
  std::string_view example = {};   // what may stand to the right of the =
  ValueShape shape = ValueShape::kText;
  std::string_view words = {};  // allowed words, separated by |
  std::int64_t least = 0;       // for integers and quantities, in the smallest part of the unit
  std::int64_t most = std::numeric_limits<std::int64_t>::max();
  KindBits kinds = kForAnyKind;             // which controls or outputs have it
  std::optional<Unit> unit = std::nullopt;  // of a quantity

  [[nodiscard]] std::string path() const;
};

// All rows in the order of the documentation.
std::span<const KeyText> all_keys();
// Whether a control or output of this kind has the key.
template <class Kind>
bool is_for_kind(const KeyText& key, Kind kind) {
  return key.kinds == kForAnyKind || (key.kinds & kind_bit(kind)) != 0;
}
// The kinds that have it, as they are called in the plural: "pots", "buttons"...; none: any kind.
std::vector<std::string> kinds_with(const KeyText& key);
// "a|b c" -> {"a", "b c"}
std::vector<std::string> words_of(const KeyText& key);

// One row for a table that is read into a T.
template <class T>
struct KeyOf {
  KeyText text;
  // Puts the value in its place, or adds a mistake.
  void (*read)(const KeyText& key, const Node& node, T& into, Mistakes& mistakes);
  // The right-hand side that reads back to the same; empty: leave the key out.
  std::string (*write)(const T& from);
};

// Rows of each table; defined in the keys_*.cpp files.
std::span<const KeyOf<PanelDescription>> keys_of_panel(Section section);
std::span<const KeyOf<PortGroup>> keys_of_group();
std::span<const KeyOf<ControlDescription>> keys_of_control(Section section);
std::span<const KeyOf<OutputDescription>> keys_of_output();
std::span<const KeyOf<LineDescription>> keys_of_line(Section section);
std::span<const KeyOf<AnswerDescription>> keys_of_answer();

// Reads a table by its rows: known keys in the order of the rows, then complains of unknown ones.
// What is not for the kind of `into` is a mistake too.
template <class T>
void read_table(std::span<const KeyOf<T>> rows, const Node& table, T& into, Mistakes& mistakes);
extern template void read_table(std::span<const KeyOf<PanelDescription>>, const Node&,
                                PanelDescription&, Mistakes&);
extern template void read_table(std::span<const KeyOf<PortGroup>>, const Node&, PortGroup&,
                                Mistakes&);
extern template void read_table(std::span<const KeyOf<ControlDescription>>, const Node&,
                                ControlDescription&, Mistakes&);
extern template void read_table(std::span<const KeyOf<OutputDescription>>, const Node&,
                                OutputDescription&, Mistakes&);
extern template void read_table(std::span<const KeyOf<LineDescription>>, const Node&,
                                LineDescription&, Mistakes&);
extern template void read_table(std::span<const KeyOf<AnswerDescription>>, const Node&,
                                AnswerDescription&, Mistakes&);

}  // namespace understudy
