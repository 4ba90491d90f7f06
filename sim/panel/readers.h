// How values of each shape are read out of a node and written back; the parts that the rows of the
// key table are put together from. Which key has which shape is said in the keys_*.cpp files.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "sim/base/units.h"
#include "sim/panel/key_table.h"

namespace understudy {

// Adds "found <node>, expected <key.type>" with an optional remedy.
void add_wrong(const KeyText& key, const Node& node, Mistakes& mistakes, std::string remedy = "");

// Each gives the value, or adds a mistake and gives nothing.
std::optional<std::string> read_text(const KeyText& key, const Node& node, Mistakes& mistakes);
std::optional<std::int64_t> read_integer(const KeyText& key, const Node& node, Mistakes& mistakes);
std::optional<bool> read_flag(const KeyText& key, const Node& node, Mistakes& mistakes);
std::optional<std::int64_t> read_quantity(const KeyText& key, const Node& node, Unit unit,
                                          Mistakes& mistakes);
// A bare number of millimetres, as micrometres.
std::optional<std::int64_t> read_millimetres(const KeyText& key, const Node& node,
                                             Mistakes& mistakes);
// The place of the word in key.words.
std::optional<int> read_word(const KeyText& key, const Node& node, Mistakes& mistakes);
std::optional<std::vector<std::string>> read_texts(const KeyText& key, const Node& node,
                                                   Mistakes& mistakes);
std::optional<std::vector<std::int64_t>> read_integers(const KeyText& key, const Node& node,
                                                       Mistakes& mistakes);

std::string write_texts(const std::vector<std::string>& texts);
std::string write_integers(const std::vector<std::int64_t>& integers);
std::string write_millimetres(std::int64_t um);
// "280 deg" <-> thousandths of a degree.
std::optional<std::int64_t> parse_degrees(std::string text);
std::string write_degrees(std::int64_t thousandths);
std::string write_quoted_quantity(std::int64_t value, Unit unit);

// The member at the end of a path of member pointers.
template <auto First, auto... Rest, class T>
constexpr auto& reach(T& from) {
  if constexpr (sizeof...(Rest) == 0)
    return from.*First;
  else
    return reach<Rest...>(from.*First);
}

template <class Pointer>
struct OwnerOf;
template <class Owner, class Member>
struct OwnerOf<Member Owner::*> {
  using Type = Owner;
};
template <auto... Path>
struct OwnerOfPath;
template <auto First, auto... Rest>
struct OwnerOfPath<First, Rest...> : OwnerOf<decltype(First)> {};
template <auto... Path>
using Owner = typename OwnerOfPath<Path...>::Type;

inline std::int64_t as_parts(std::int64_t value) {
  return value;
}
inline std::int64_t as_parts(Duration value) {
  return value.ns;
}

// Rows by shape. `key` comes without its shape and, for quantities and words, without its type.
template <auto... Path>
KeyOf<Owner<Path...>> text_row(KeyText key) {
  using T = Owner<Path...>;
  key.shape = ValueShape::kText;
  if (key.type.empty()) key.type = "a text";
  return {key,
          [](const KeyText& row, const Node& node, T& into, Mistakes& mistakes) {
            if (auto text = read_text(row, node, mistakes)) reach<Path...>(into) = *std::move(text);
          },
          [](const T& from) { return quoted(reach<Path...>(from)); }};
}

template <auto... Path>
KeyOf<Owner<Path...>> integer_row(KeyText key) {
  using T = Owner<Path...>;
  key.shape = ValueShape::kInteger;
  if (key.type.empty()) key.type = "a whole number";
  return {key,
          [](const KeyText& row, const Node& node, T& into, Mistakes& mistakes) {
            using Member = std::remove_reference_t<decltype(reach<Path...>(into))>;
            if (const auto value = read_integer(row, node, mistakes))
              reach<Path...>(into) = static_cast<Member>(*value);
          },
          [](const T& from) { return std::to_string(reach<Path...>(from)); }};
}

template <auto... Path>
KeyOf<Owner<Path...>> flag_row(KeyText key) {
  using T = Owner<Path...>;
  key.shape = ValueShape::kFlag;
  key.type = "true or false";
  return {key,
          [](const KeyText& row, const Node& node, T& into, Mistakes& mistakes) {
            if (const auto value = read_flag(row, node, mistakes)) reach<Path...>(into) = *value;
          },
          [](const T& from) -> std::string { return reach<Path...>(from) ? "true" : "false"; }};
}

template <Unit unit, auto... Path>
KeyOf<Owner<Path...>> quantity_row(KeyText key) {
  using T = Owner<Path...>;
  key.shape = ValueShape::kQuantity;
  key.type = unit_example(unit);
  key.unit = unit;
  return {
      key,
      [](const KeyText& row, const Node& node, T& into, Mistakes& mistakes) {
        auto& member = reach<Path...>(into);
        if (const auto value = read_quantity(row, node, unit, mistakes))
          member = std::remove_reference_t<decltype(member)>{*value};
      },
      [](const T& from) { return write_quoted_quantity(as_parts(reach<Path...>(from)), unit); }};
}

template <auto... Path>
KeyOf<Owner<Path...>> millimetres_row(KeyText key) {
  using T = Owner<Path...>;
  key.shape = ValueShape::kNumber;
  key.type = "a number of millimetres";
  return {key,
          [](const KeyText& row, const Node& node, T& into, Mistakes& mistakes) {
            if (const auto um = read_millimetres(row, node, mistakes)) reach<Path...>(into) = *um;
          },
          [](const T& from) { return write_millimetres(reach<Path...>(from)); }};
}

template <auto... Path>
KeyOf<Owner<Path...>> texts_row(KeyText key) {
  using T = Owner<Path...>;
  key.shape = ValueShape::kTexts;
  if (key.type.empty()) key.type = "a list of texts";
  return {key,
          [](const KeyText& row, const Node& node, T& into, Mistakes& mistakes) {
            if (auto texts = read_texts(row, node, mistakes))
              reach<Path...>(into) = *std::move(texts);
          },
          [](const T& from) { return write_texts(reach<Path...>(from)); }};
}

// The word that stands at `index` of the list "a|b|c".
std::string_view word_at(std::string_view words, int index);

// An enum (or bool) whose values are the places of the words. `kWords` is a constant with linkage
// so that the writer reaches it as well.
template <const std::string_view& kWords, auto... Path>
KeyOf<Owner<Path...>> word_row(KeyText key) {
  using T = Owner<Path...>;
  key.shape = ValueShape::kWord;
  if (key.type.empty()) key.type = "one of its words";
  key.words = kWords;
  return {key,
          [](const KeyText& row, const Node& node, T& into, Mistakes& mistakes) {
            auto& member = reach<Path...>(into);
            if (const auto index = read_word(row, node, mistakes))
              member = static_cast<std::remove_reference_t<decltype(member)>>(*index);
          },
          [](const T& from) {
            return quoted(word_at(kWords, static_cast<int>(reach<Path...>(from))));
          }};
}

// A sub-table that belongs to the same T: written as { a = 1, b = 2 }.
template <class T>
std::string write_inline(std::span<const KeyOf<T>> rows, const T& from) {
  std::string text;
  for (const KeyOf<T>& row : rows) {
    const std::string value = row.write(from);
    if (!value.empty()) {
      text += (text.empty() ? " " : ", ") + std::string(row.text.name) + " = " + value;
    }
  }
  return text.empty() ? "" : "{" + text + " }";
}

}  // namespace understudy
