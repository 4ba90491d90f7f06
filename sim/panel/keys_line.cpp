// Rows of the key table: lines, when they are sent, their checks, and what the game promises.
#include <array>

#include "sim/panel/readers.h"

namespace understudy {
namespace {

using L = LineDescription;
using A = AnswerDescription;
constexpr auto kSend = &L::send;

constexpr std::string_view kToWords = "game|panel";
constexpr std::string_view kSendWords = "every loop";
// The checks of protocol/checks.h; a test holds the two lists together.
constexpr std::string_view kCheckWords =
    "xor|crc-8/maxim-dow|crc-16/ccitt-false|crc-16/xmodem|crc-16/kermit|crc-16/modbus|crc-32";
constexpr std::string_view kCoversWords = "text|start and text";
constexpr std::int64_t kHour = 3'600'000'000'000;

// The direction decides which list the line goes to (parse.cpp); here it is only checked.
void check_to(const KeyText& key, const Node& node, L&, Mistakes& mistakes) {
  (void)read_word(key, node, mistakes);
}

void read_ids(const KeyText& key, const Node& node, L& into, Mistakes& mistakes) {
  if (auto ids = read_integers(key, node, mistakes)) into.ids = *std::move(ids);
}

std::string write_ids(const L& from) {
  return from.ids.empty() ? "" : write_integers(from.ids);
}

std::string write_each(const L& from) {
  return from.each.empty() ? "" : write_texts(from.each);
}

void read_each(const KeyText& key, const Node& node, L& into, Mistakes& mistakes) {
  auto names = read_texts(key, node, mistakes);
  if (!names) return;
  if (names->empty()) return add_wrong(key, node, mistakes);
  into.each = *std::move(names);
}

void read_send(const KeyText& key, const Node& node, L& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kText) {
    (void)read_word(key, node, mistakes);
    return;
  }
  if (node.kind != NodeKind::kTable) return add_wrong(key, node, mistakes);
  const bool every = node.find("every") != nullptr;
  const bool change = node.find("on_change") != nullptr;
  const bool asked = node.find("asked") != nullptr;
  const bool refresh = node.find("refresh") != nullptr;
  read_table(keys_of_line(Section::kSend), node, into, mistakes);
  if (every + change + asked != 1 || (refresh && !change)) {
    mistakes.add({node.place, key.path(), shown(node),
                  "exactly one of every, on_change and asked, and refresh only beside on_change",
                  ""});
    return;
  }
  into.send.mode = every ? SendMode::kEvery : change ? SendMode::kOnChange : SendMode::kAsked;
}

std::string write_send(const L& from) {
  const SendDescription& send = from.send;
  switch (send.mode) {
    case SendMode::kEveryLoop:
      return "\"every loop\"";
    case SendMode::kEvery:
      return "{ every = " + quoted(write_duration(send.every)) + " }";
    case SendMode::kOnChange: {
      const std::string refresh =
          send.refresh.ns == 0 ? "" : ", refresh = " + quoted(write_duration(send.refresh));
      return "{ on_change = " + std::to_string(send.change) + refresh + " }";
    }
    case SendMode::kAsked:
      return "{ asked = " + quoted(send.asked) + " }";
  }
  return "";
}

void read_check(const KeyText& key, const Node& node, L& into, Mistakes& mistakes) {
  if (node.kind != NodeKind::kTable) return add_wrong(key, node, mistakes);
  read_table(keys_of_line(Section::kCheck), node, into, mistakes);
  if (node.find("kind") == nullptr)
    mistakes.add({node.place, key.path(), "no kind", "a kind of check such as \"xor\"", ""});
}

std::string write_check(const L& from) {
  return from.check.kind.empty() ? "" : write_inline(keys_of_line(Section::kCheck), from);
}

// A word that is kept as its text.
template <auto... Path>
KeyOf<Owner<Path...>> kept_word_row(KeyText key) {
  using T = Owner<Path...>;
  key.shape = ValueShape::kWord;
  return {key,
          [](const KeyText& row, const Node& node, T& into, Mistakes& mistakes) {
            if (read_word(row, node, mistakes)) reach<Path...>(into) = node.text;
          },
          [](const T& from) { return quoted(reach<Path...>(from)); }};
}

// lint: table
std::span<const KeyOf<L>> line_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<L>>({
      {{.section = S::kLine, .name = "to", .type = "a direction",
        .fallback = "none: every line has one", .meaning = "Who reads the line.",
        .example = "\"game\"", .shape = ValueShape::kWord, .words = kToWords},
       check_to, [](const L&) -> std::string { return ""; }},
      text_row<&L::text>({.section = S::kLine, .name = "text", .type = "a template such as "
          "\"{power},{bell}\"", .fallback = "none: every line has one", .meaning = "What the line "
          "looks like: names in braces stand for values; docs/line-format.md has the rest.",
          .example = "\"{power},{bell}\""}),
      {{.section = S::kLine, .name = "each", .type = "a list of names", .fallback = "none",
        .meaning = "One such line for each of these: {#name}, {#id} and {#value} stand for it.",
        .example = "[\"bell\", \"doors\"]", .shape = ValueShape::kTexts},
       read_each, write_each},
      {{.section = S::kLine, .name = "ids", .type = "a list of whole numbers",
        .fallback = "[0, 1, 2...]", .meaning = "What {#id} is for each of them.",
        .example = "[90, 91]", .shape = ValueShape::kIntegers, .most = 999'999},
       read_ids, write_ids},
      {{.section = S::kLine, .name = "send",
        .type = "\"every loop\", or a table with every, on_change or asked",
        .fallback = "\"every loop\"", .meaning = "When a line to the game is sent.",
        .example = "{ every = \"50 ms\" }", .shape = ValueShape::kWordOrTable,
        .words = kSendWords},
       read_send, write_send},
      {{.section = S::kLine, .name = "check", .type = "a table with kind, covers and as",
        .fallback = "none", .meaning = "A check after the text.",
        .example = "{ kind = \"xor\", as = \"*{HEX}\" }", .shape = ValueShape::kTable},
       read_check, write_check},
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<L>> send_rows() {
  using S = Section;
  using D = SendDescription;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<L>>({
      quantity_row<Unit::kTime, kSend, &D::every>({.section = S::kSend, .name = "every",
          .fallback = "none", .meaning = "At the first round after this time has passed: every 50 "
          "ms in a loop of 20 ms is every 60 ms.", .example = "\"50 ms\"", .least = 1'000,
          .most = kHour}),
      integer_row<kSend, &D::change>({.section = S::kSend, .name = "on_change",
          .fallback = "none", .meaning = "When a number has moved by at least this much.",
          .example = "2", .least = 1, .most = 1'000'000'000}),
      quantity_row<Unit::kTime, kSend, &D::refresh>({.section = S::kSend, .name = "refresh",
          .fallback = "none", .meaning = "Also when nothing has changed for so long.",
          .example = "\"1 s\"", .least = 1'000, .most = kHour}),
      text_row<kSend, &D::asked>({.section = S::kSend, .name = "asked", .fallback = "none",
          .meaning = "When the game sends this line.", .example = "\"?\""}),
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<L>> check_rows() {
  using S = Section;
  constexpr auto kCheck = &L::check;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<L>>({
      kept_word_row<kCheck, &LineCheckDescription::kind>({.section = S::kCheck, .name = "kind",
          .type = "a kind of check", .fallback = "none: every check has one",
          .meaning = "How it is worked out.", .example = "\"xor\"", .words = kCheckWords}),
      kept_word_row<kCheck, &LineCheckDescription::covers>({.section = S::kCheck,
          .name = "covers", .type = "what it covers", .fallback = "\"text\"",
          .meaning = "Whether the start marker counts as well.", .example = "\"start and text\"",
          .words = kCoversWords}),
      text_row<kCheck, &LineCheckDescription::as>({.section = S::kCheck, .name = "as",
          .fallback = "\"*{HEX}\"", .meaning = "How it is written: {HEX}, {hex} or {dec}, with any "
          "text around.", .example = "\"*{HEX}\""}),
  });
  // clang-format on
  return rows;
}

}  // namespace

std::span<const KeyOf<L>> keys_of_line(Section section) {
  if (section == Section::kSend) return send_rows();
  if (section == Section::kCheck) return check_rows();
  return line_rows();
}

std::span<const KeyOf<A>> keys_of_answer() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<A>>({
      text_row<&A::when>({.section = S::kAnswer, .name = "when",
          .type = "a control and what it does, such as \"doors press\"",
          .fallback = "none: every answer has one", .meaning = "What a hand does: press, down "
          "or up for contacts, moves or to 40% for pots and NAME.x of sticks, is and what it sends "
          "for selectors, turns for encoders; changes for sensors.", .example = "\"doors press\""}),
      text_row<&A::expect>({.section = S::kAnswer, .name = "expect",
          .type = "an output and what it shows, such as \"door_lamp lit\"",
          .fallback = "none: every answer has one", .meaning = "What the game shows for it: lit, "
          "dark or changes of lamps, moves of gauges, sounds or silent of buzzers, shows and a "
          "number of digits.", .example = "\"door_lamp lit\""}),
      quantity_row<Unit::kTime, &A::within>({.section = S::kAnswer, .name = "within",
          .fallback = "\"150 ms\"", .meaning = "How soon.", .example = "\"150 ms\"", .least = 1,
          .most = kHour}),
  });
  // clang-format on
  return rows;
}

}  // namespace understudy
