// Rows of the key table: the board's program.
#include <array>

#include "sim/panel/readers.h"
#include "sim/panel/rows.h"

namespace understudy {
namespace {

using P = PanelDescription;
using M = MannersDescription;
constexpr auto kManners = &P::manners;

constexpr std::string_view kParseWords = "integers in a row|whole line|one letter|between markers";
constexpr std::string_view kGatherWords = "as it comes|one byte a loop";
constexpr std::string_view kHeapWords = "enough";
constexpr std::int64_t kHeapBytesMost = 1'000'000;
constexpr std::int64_t kTenSeconds = 10'000'000'000;

void read_loop(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kText && node.text == "free") {
    into.manners.loop = {};
  } else if (const auto ns = read_quantity(key, node, Unit::kTime, mistakes)) {
    into.manners.loop = {*ns};
  }
}

std::string write_loop(const P& from) {
  return from.manners.loop.ns == 0 ? "\"free\"" : quoted(write_duration(from.manners.loop));
}

void read_gather(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kTable) {
    into.manners.gather = Gathering::kUntil;
    into.manners.gather_at_most = seconds(1);
    read_table(gather_rows(), node, into, mistakes);
  } else if (node.kind != NodeKind::kText) {
    add_wrong(key, node, mistakes);
  } else if (const auto index = read_word(key, node, mistakes)) {
    into.manners.gather = *index == 0 ? Gathering::kAsItComes : Gathering::kOneByteALoop;
  }
}

std::string write_gather(const P& from) {
  switch (from.manners.gather) {
    case Gathering::kUntil:
      return write_inline(gather_rows(), from);
    case Gathering::kAsItComes:
      return "\"as it comes\"";
    case Gathering::kOneByteALoop:
      return "\"one byte a loop\"";
  }
  return "";
}

void read_until(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  const auto text = read_text(key, node, mistakes);
  if (!text) return;
  if (text->size() == 1)
    into.manners.gather_until = *text;
  else
    add_wrong(key, node, mistakes);
}

std::string write_until(const P& from) {
  return quoted(from.manners.gather_until);
}

constexpr HeapDescription kHeapThatLasts;
constexpr std::int64_t kHeapFreeByDefault = 1'200;

void read_heap(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kTable) {
    into.manners.heap = {.free_bytes = kHeapFreeByDefault};
    read_table(heap_rows(), node, into, mistakes);
  } else if (node.kind != NodeKind::kText) {
    add_wrong(key, node, mistakes);
  } else if (read_word(key, node, mistakes)) {
    into.manners.heap = kHeapThatLasts;
  }
}

std::string write_heap(const P& from) {
  if (from.manners.heap.free_bytes == 0) return quoted(kHeapWords);
  return write_inline(heap_rows(), from);
}

}  // namespace

// lint: table
std::span<const KeyOf<P>> manners_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      {{.section = S::kManners, .name = "loop", .type = "a time such as \"20 ms\", or \"free\"",
        .fallback = "\"20 ms\"", .meaning = "How often the program goes round: a fixed time, or "
        "free, as fast as reading and printing allow.", .example = "\"20 ms\"",
        .shape = ValueShape::kQuantityOrWord, .words = "free", .least = 100'000,
        .most = kTenSeconds, .unit = Unit::kTime},
       read_loop, write_loop},
      quantity_row<Unit::kTime, kManners, &M::work>({.section = S::kManners, .name = "work",
          .fallback = "\"0 ns\"", .meaning = "What else one round costs, besides reading controls "
          "and printing.", .example = "\"2 ms\"", .most = kTenSeconds}),
      {{.section = S::kManners, .name = "gather",
        .type = "\"as it comes\", \"one byte a loop\" or a table with until and at_most",
        .fallback = "\"as it comes\"", .meaning = "How bytes from the game become lines: put aside "
        "as they come, one byte each round, or waiting for a byte, which holds the loop up.",
        .example = "{ until = \"\\n\", at_most = \"1 s\" }", .shape = ValueShape::kWordOrTable,
        .words = kGatherWords},
       read_gather, write_gather},
      word_row<kParseWords, kManners, &M::parse>({.section = S::kManners, .name = "parse",
          .fallback = "\"integers in a row\"", .meaning = "How the board's own reader takes a line "
          "apart, which decides what its lamps do.", .example = "\"between markers\""}),
      text_row<kManners, &M::hello>({.section = S::kManners, .name = "hello", .fallback = "\"\"",
          .meaning = "A line printed once after each start; empty for none.",
          .example = "\"tram-desk 1\""}),
      {{.section = S::kManners, .name = "heap",
        .type = "\"enough\" or a table with free, lost and lines", .fallback = "\"enough\"",
        .meaning = "Memory that the program builds its lines in: enough for ever, or so little "
        "that it goes to pieces and the box fails after hours.",
        .example = "{ free = 1200, lost = 1, lines = 500 }", .shape = ValueShape::kWordOrTable,
        .words = kHeapWords},
       read_heap, write_heap},
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<P>> gather_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      {{.section = S::kGather, .name = "until", .type = "a text of one byte",
        .fallback = "\"\\n\"", .meaning = "The byte that ends the waiting.",
        .example = "\"\\n\""},
       read_until, write_until},
      quantity_row<Unit::kTime, kManners, &M::gather_at_most>({.section = S::kGather,
          .name = "at_most", .fallback = "\"1 s\"", .meaning = "How long it waits for that byte "
          "before it goes on with what it has; the loop stands still meanwhile.",
          .example = "\"1 s\"", .most = 60'000'000'000}),
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<P>> heap_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      integer_row<kManners, &M::heap, &HeapDescription::free_bytes>({.section = S::kHeap,
          .name = "free", .fallback = "1200", .meaning = "Bytes that are free in one piece when "
          "the program starts; a text of n characters takes n + 1.", .example = "1200",
          .least = 1, .most = kHeapBytesMost}),
      integer_row<kManners, &M::heap, &HeapDescription::lost_bytes>({.section = S::kHeap,
          .name = "lost", .fallback = "1", .meaning = "Bytes by which that piece is shorter each "
          "time.", .example = "1", .least = 0, .most = kHeapBytesMost}),
      integer_row<kManners, &M::heap, &HeapDescription::lines>({.section = S::kHeap,
          .name = "lines", .fallback = "100", .meaning = "After how many printed lines it is, each "
          "time; 500 at 50 lines a second is 10 s.", .example = "500", .least = 1,
          .most = 1'000'000'000}),
  });
  // clang-format on
  return rows;
}

}  // namespace understudy
