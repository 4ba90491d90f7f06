// Rows of the key table: encoders, two contacts that tell how far and which way they were turned.
#include <algorithm>
#include <array>

#include "sim/panel/control_kinds.h"
#include "sim/panel/readers.h"
#include "sim/panel/sends.h"

namespace understudy {
namespace {

using C = ControlDescription;
constexpr auto kEncoder = &C::encoder;
constexpr std::string_view kReadWords = "once a loop|every edge";
constexpr std::string_view kCountsWords = "whole detents|quarters";
// Bourns PEC11R sheet: bounces for 2 ms at most, at 15 turns a minute. The mean is common practice,
// no source.
constexpr std::int64_t kBounceMeanNs = 500'000;
constexpr std::int64_t kBounceMaxNs = 2'000'000;

void read_step_sends(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  Sends sends;
  read_sends(key, node, {}, sends, mistakes);
  if (!sends.given) return;
  if (std::min(sends.low, sends.high) <= 0 && std::max(sends.low, sends.high) >= 0) {
    into.encoder.step_sends = sends;
    return;
  }
  mistakes.add({node.place, key.path(), shown(node), "0 among the numbers from one to the other",
                "an encoder that was not turned sends 0; the default is [-127, 127]"});
}

// lint: table
std::span<const KeyOf<C>> encoder_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      integer_row<kEncoder, &EncoderPart::detents>({.section = S::kControl, .name = "detents",
          .fallback = "24", .meaning = "Detents of an encoder in one turn.", .example = "24",
          .least = 1, .most = 400}),
      integer_row<kEncoder, &EncoderPart::pulses>({.section = S::kControl, .name = "pulses",
          .fallback = "24", .meaning = "Pulses of each contact of an encoder in one turn; each has "
          "four edges of both contacts together.", .example = "24", .least = 1, .most = 400}),
      word_row<kReadWords, kEncoder, &EncoderPart::interrupts>({.section = S::kControl,
          .name = "read", .fallback = "\"once a loop\"", .meaning = "Whether the board's program "
          "looks at an encoder once a loop, or at every edge by interrupts.",
          .example = "\"every edge\""}),
      word_row<kCountsWords, kEncoder, &EncoderPart::counts_quarters>({.section = S::kControl,
          .name = "counts", .fallback = "\"whole detents\"", .meaning = "What an encoder counts as "
          "one: a detent, or each edge, of which a pulse has four.", .example = "\"quarters\""}),
      {{.section = S::kControl, .name = "step_sends", .type = "two numbers such as [-127, 127]",
        .fallback = "[-127, 127]", .meaning = "The ends of NAME.step, which says how far an "
        "encoder was turned since the line before; more than that is held to them.",
        .example = "[-10, 10]", .shape = ValueShape::kNumbersOrTexts},
       read_step_sends, [](const C& from) { return write_sends(from.encoder.step_sends); }},
  });
  // clang-format on
  return rows;
}

// A detent lies at the same place of the pulse all round.
void finish(const Node& table, C& into, Mistakes& mistakes) {
  const int edges = 4 * into.encoder.pulses;
  if (edges % into.encoder.detents == 0) return;
  add_at(table, table.find("detents") != nullptr ? "detents" : "pulses",
         std::to_string(into.encoder.detents) + " detents and " +
             std::to_string(into.encoder.pulses) + " pulses",
         "as many detents as pulses, or a number that divides their " + std::to_string(edges) +
             " edges",
         "", mistakes);
}

// Read as the 16 bits with a sign that most programs count in.
void complete(C& control, const BoardDescription&) {
  if (control.sends.given) return;
  control.sends = {};
  control.sends.low = -32'768;
  control.sends.high = 32'767;
  control.sends.given = true;
}

}  // namespace

ControlKindRow encoder_kind() {
  return {.kind = ControlKind::kEncoder,
          .one = "an encoder",
          .many = "encoders",
          .meaning = "turns without ends and is counted",
          .example =
              "[[control]]\nname = \"knob\"\nkind = \"encoder\"\npins = [\"D2\", \"D3\"]\n"
              "detents = 24\npulses = 24\nread = \"every edge\"\n"
              "keys = { more = \"E\", less = \"Q\" }\n",
          .has = "pins|wired|bounce|contact|keys|keys.more|keys.less|gamepad",
          .sends = {.type = "two numbers between which the count goes round, such as [0, 255]",
                    .reads_pin = false},
          .size = [](const C&) -> Footprint { return {.width_um = 20'000, .height_um = 20'000}; },
          .pins_are = "its two contacts",
          .rows = encoder_rows,
          .pin_text =
              [](const C& control, std::size_t n) {
                return with_wiring(n == 0 ? "encoder, first contact" : "encoder, second contact",
                                   control);
              },
          .begin =
              [](C& into) {
                into.contact.bounce_mean_ns = kBounceMeanNs;
                into.contact.bounce_max_ns = kBounceMaxNs;
              },
          .finish = finish,
          .complete = complete};
}

}  // namespace understudy
