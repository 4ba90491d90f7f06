// Rows of the key table: the wire, the host side and the framing of both directions.
#include <array>

#include "sim/model/panel.h"
#include "sim/panel/readers.h"
#include "sim/panel/rows.h"

namespace understudy {
namespace {

using P = PanelDescription;
using W = WireDescription;
using H = HostDescription;
constexpr auto kWire = &P::wire;
constexpr auto kHost = &P::host;

constexpr std::string_view kWireWords = "uart|native usb";
constexpr std::string_view kFullWords = "drops newest|holds the board";
constexpr std::string_view kDtrWords = "restarts the board|opens the gate|nothing";
constexpr std::string_view kParityLetters = "NEO";

// "8N1": data bits, parity, stop bits.
void read_byte_frame(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  const auto text = read_text(key, node, mistakes);
  if (!text) return;
  const std::size_t parity =
      text->size() == 3 ? kParityLetters.find((*text)[1]) : std::string::npos;
  if (parity == std::string::npos || (*text)[0] < '5' || (*text)[0] > '8' || (*text)[2] < '1' ||
      (*text)[2] > '2')
    return add_wrong(key, node, mistakes);
  into.wire.data_bits = (*text)[0] - '0';
  into.wire.parity = static_cast<Parity>(parity);
  into.wire.stop_bits = (*text)[2] - '0';
}

std::string write_byte_frame(const P& from) {
  return quoted(std::to_string(from.wire.data_bits) +
                kParityLetters[static_cast<std::size_t>(from.wire.parity)] +
                std::to_string(from.wire.stop_bits));
}

// Both directions have the same keys; `direction` is the member that they are written to.
template <auto direction>
std::vector<KeyOf<P>> framing_rows(Section section, std::string_view longest_default) {
  using F = FramingDescription;
  return {
      text_row<direction, &F::starts>({.section = section,
                                       .name = "starts",
                                       .fallback = "\"\"",
                                       .meaning = "What each line begins with; empty for nothing.",
                                       .example = "\"<\""}),
      text_row<direction, &F::ends>(
          {.section = section,
           .name = "ends",
           .fallback = "\"\\n\"",
           .meaning = "What each line ends with; empty makes each byte a line.",
           .example = "\"\\r\\n\""}),
      texts_row<direction, &F::accepts>(
          {.section = section,
           .name = "accepts",
           .fallback = "[]",
           .meaning = "Other endings that are taken as well when reading.",
           .example = "[\"\\r\\n\"]"}),
      integer_row<direction, &F::longest_bytes>(
          {.section = section,
           .name = "longest",
           .type = "a whole number of bytes",
           .fallback = longest_default,
           .meaning = "Most bytes of text a line may have; more is no line.",
           .example = "80",
           .least = 1,
           .most = kLongestBytesMax}),
  };
}

}  // namespace

std::span<const KeyOf<P>> wire_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      word_row<kWireWords, kWire, &W::kind>({.section = S::kWire, .name = "kind",
          .fallback = "the board's", .meaning = "A serial port of the chip, with a baud, or USB in "
          "the chip itself, without one.", .example = "\"uart\""}),
      integer_row<kWire, &W::baud>({.section = S::kWire, .name = "baud",
          .type = "a whole number of bits a second", .fallback = "115200",
          .meaning = "The speed that the board's program asks for.", .example = "9600",
          .least = 300, .most = 4'000'000}),
      {{.section = S::kWire, .name = "frame",
        .type = "data bits 5 to 8, parity N, E or O and stop bits 1 or 2, such as \"8N1\"",
        .fallback = "\"8N1\"", .meaning = "The bits of one byte on the wire.",
        .example = "\"8E1\""},
       read_byte_frame, write_byte_frame},
      quantity_row<Unit::kShare, kWire, &W::board_clock_error_ppm>({.section = S::kWire,
          .name = "board_clock_error", .fallback = "the preset's: \"-0.2 %\" of a resonator, "
          "\"-0.003 %\" of a crystal", .meaning = "By how much the board's clock is fast: its loop "
          "and its baud, on top of what dividing it down gives.", .example = "\"0.5 %\"",
          .least = -100'000, .most = 100'000}),
      quantity_row<Unit::kShare, kWire, &W::host_clock_error_ppm>({.section = S::kWire,
          .name = "host_clock_error", .fallback = "\"0%\"",
          .meaning = "By how much the computer's side is fast.", .example = "\"0.1 %\"",
          .least = -100'000, .most = 100'000}),
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<P>> host_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      quantity_row<Unit::kTime, kHost, &H::flush>({.section = S::kHost, .name = "flush",
          .fallback = "the board's: \"4 ms\", \"16 ms\" or \"1 ms\"", .meaning = "How long bytes "
          "to the game may wait to be passed on together.", .example = "\"4 ms\"",
          .least = 100'000, .most = 255'000'000}),
      integer_row<kHost, &H::chunk_bytes_max>({.section = S::kHost, .name = "chunk",
          .type = "a whole number of bytes", .fallback = "the board's: 64 or 62",
          .meaning = "Most bytes passed on at once.", .example = "64", .least = 1, .most = 64}),
      integer_row<kHost, &H::buffer_bytes>({.section = S::kHost, .name = "buffer",
          .type = "a whole number of bytes", .fallback = "4096",
          .meaning = "Bytes that wait for a game that does not read.", .example = "4096",
          .least = 64, .most = kHostBufferBytesMax}),
      integer_row<kHost, &H::write_buffer_bytes>({.section = S::kHost, .name = "write_buffer",
          .type = "a whole number of bytes", .fallback = "2048",
          .meaning = "Bytes from the game that wait for the wire.", .example = "2048",
          .least = 64, .most = kWriteBufferBytesMax}),
      word_row<kFullWords, kHost, &H::full>({.section = S::kHost, .name = "full",
          .fallback = "by the kind of wire: uart drops, native usb holds",
          .meaning = "What becomes of bytes that no longer fit.", .example = "\"drops newest\""}),
      word_row<kDtrWords, kHost, &H::dtr>({.section = S::kHost, .name = "dtr",
          .fallback = "by the kind of wire: uart restarts, native usb opens the gate",
          .meaning = "What raising DTR does, as opening the port mostly does.",
          .example = "\"restarts the board\""}),
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<P>> to_game_rows() {
  static const auto rows = framing_rows<&P::to_game>(
      Section::kToGame, "256, or as many as the line made without [[line]] needs");
  return rows;
}

std::span<const KeyOf<P>> to_panel_rows() {
  static const auto rows = framing_rows<&P::to_panel>(
      Section::kToPanel, "256, or as many as the line made without [[line]] needs");
  return rows;
}

}  // namespace understudy
