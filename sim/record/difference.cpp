// Words for differences, and the search for the field that differs.
#include "sim/record/difference.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "protocol/splitter.h"
#include "sim/base/text.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

using namespace recorded;

constexpr std::size_t kShownBytesMax = 80;

std::string quoted(std::string_view bytes) {
  if (bytes.size() <= kShownBytesMax) return "\"" + printable(bytes) + "\"";
  return "\"" + printable(bytes.substr(0, kShownBytesMax)) + "...\"";
}

std::string seconds_text(Instant at) {
  return fmt::format("{}.{:09} s", at.ns / 1'000'000'000, at.ns % 1'000'000'000);
}

std::string words_of(const ToGame& it) {
  return "a chunk " + quoted(it.bytes);
}
std::string whole_name(const OutputSet& it) {
  return printable(part_name(it.output, it.part));
}
std::string words_of(const OutputSet& it) {
  return fmt::format("output {} set to {}", whole_name(it), it.number);
}
std::string words_of(const Noted& it) {
  return fmt::format("the note \"{}\" ({})", name_of(it.kind), it.count);
}
std::string words_of(const Check& it) {
  return fmt::format("fingerprint {:016x}", it.fingerprint);
}
template <class Other>
std::string words_of(const Other&) {
  return "an input";
}
std::string words_of(const RecordedEvent& event) {
  return std::visit([](const auto& it) { return words_of(it); }, event.what) + " at " +
         seconds_text(event.at);
}

std::string_view stage_of(const ToGame&) {
  return "host";
}
std::string_view stage_of(const OutputSet&) {
  return "manners";
}
std::string_view stage_of(const Noted& it) {
  switch (it.kind) {
    case NoteKind::kRestarted:
    case NoteKind::kReceiveOverrun:
    case NoteKind::kLostInBoot:
    case NoteKind::kBrownedOut:
    case NoteKind::kHeldInLoader:
      return "board";
    case NoteKind::kFrameErrors:
      return "wire";
    case NoteKind::kReadTimedOut:
    case NoteKind::kProgramStopped:
      return "manners";
    case NoteKind::kHostBufferFull:
    case NoteKind::kNobodyListening:
    case NoteKind::kWriteBufferFull:
      return "host";
  }
  return "";
}
template <class Other>
std::string_view stage_of(const Other&) {
  return "state";
}

// Of two events of one kind at one time: what differs inside.
std::string inside(const ToGame& recorded, const ToGame& now) {
  return "recorded " + quoted(recorded.bytes) + ", now " + quoted(now.bytes);
}
std::string inside(const OutputSet& recorded, const OutputSet& now) {
  if (recorded.output != now.output || recorded.part != now.part)
    return "recorded " + words_of(recorded) + ", now " + words_of(now);
  return fmt::format("output {}: recorded {}, now {}", whole_name(now), recorded.number,
                     now.number);
}
std::string inside(const Noted& recorded, const Noted& now) {
  return "recorded " + words_of(recorded) + ", now " + words_of(now);
}
std::string inside(const Check& recorded, const Check& now) {
  return fmt::format(
      "fingerprint: recorded {:016x}, now {:016x}, though all that came out until "
      "then is the same",
      recorded.fingerprint, now.fingerprint);
}
template <class Other>
std::string inside(const Other&, const Other&) {
  return "an input differs";
}

std::string words_of(const Unequal& unequal) {
  const RecordedEvent* recorded = unequal.recorded;
  const RecordedEvent* now = unequal.now;
  if (recorded == nullptr) return "nothing is recorded, now " + words_of(*now);
  if (now == nullptr) return "recorded " + words_of(*recorded) + ", now nothing";
  const bool alike = recorded->what.index() == now->what.index() && recorded->seat == now->seat;
  if (!alike) return "recorded " + words_of(*recorded) + ", now " + words_of(*now);
  RecordedEvent moved = *now;
  moved.at = recorded->at;
  if (same_outcome(*recorded, moved))
    return "recorded at " + seconds_text(recorded->at) + ", now at " + seconds_text(now->at);
  return std::visit(
             [&](const auto& it) {
               return inside(it, std::get<std::decay_t<decltype(it)>>(now->what));
             },
             recorded->what) +
         (recorded->at == now->at
              ? ""
              : fmt::format(" (times: {}, {})", seconds_text(recorded->at), seconds_text(now->at)));
}

// The whole line that holds byte `place` of a stream that begins anywhere.
struct LineAt {
  bool found = false;
  std::string text;
};

LineAt line_at(const protocol::Framing& framing, std::string_view stream, std::size_t place) {
  LineAt line;
  protocol::Splitter splitter(framing);
  splitter.push(stream, [&](const protocol::SplitLine& split) {
    if (split.kind != protocol::LineKind::kWhole) return;
    if (split.first_byte <= place && place <= split.last_byte)
      line = {true, std::string(split.text)};
  });
  return line;
}

}  // namespace

std::string Difference::sentence() const {
  std::string text = line > 0 ? fmt::format("line {}: ", line) : "";
  text += fmt::format("at {}.{:06} s, ", at.ns / 1'000'000'000, at.ns % 1'000'000'000 / 1'000);
  text += seat.empty() ? "the whole session: " : "seat " + printable(seat) + ": ";
  text += what;
  if (!field.empty()) text += ": field " + field;
  if (!stage.empty()) text += " (look at the " + stage + " first)";
  return text;
}

bool same_outcome(const RecordedEvent& recorded, const RecordedEvent& now) {
  if (recorded.at != now.at || recorded.seat != now.seat) return false;
  if (const auto* chunk = std::get_if<ToGame>(&recorded.what)) {
    const auto* other = std::get_if<ToGame>(&now.what);
    return other != nullptr && chunk->bytes == other->bytes;
  }
  if (const auto* check = std::get_if<Check>(&recorded.what)) {
    const auto* other = std::get_if<Check>(&now.what);
    return other != nullptr && check->fingerprint == other->fingerprint;
  }
  return recorded.what == now.what;
}

Difference difference_of(const Unequal& unequal, const RecordingHeader& header) {
  // The earlier of the two is where the streams part.
  const RecordedEvent* first = unequal.recorded;
  if (first == nullptr || (unequal.now != nullptr && unequal.now->at < first->at))
    first = unequal.now;
  Difference difference;
  difference.at = first->at;
  if (first->seat != kWholeSession) difference.seat = header.seats[first->seat].name;
  difference.line = unequal.line;
  difference.what = words_of(unequal);
  if (std::holds_alternative<ToGame>(first->what))
    difference.what = fmt::format("chunk {}: {}", unequal.chunk, difference.what);
  difference.stage = std::visit([](const auto& it) { return stage_of(it); }, first->what);
  return difference;
}

void explain_by_lines(const Panel& panel, const TwoStreams& streams, Difference& difference) {
  const auto parting = std::mismatch(streams.recorded.begin(), streams.recorded.end(),
                                     streams.now.begin(), streams.now.end());
  // One stream ends before the other differs: only the cut into chunks is another.
  if (parting.first == streams.recorded.end() || parting.second == streams.now.end()) return;
  const auto place = static_cast<std::size_t>(parting.first - streams.recorded.begin());
  const LineAt recorded = line_at(panel.to_game_framing, streams.recorded, place);
  const LineAt now = line_at(panel.to_game_framing, streams.now, place);
  difference.stage = "manners";
  if (!recorded.found || !now.found) return;
  std::vector<std::int64_t> recorded_numbers(panel.to_game_fields.size());
  std::vector<std::int64_t> now_numbers(panel.to_game_fields.size());
  const protocol::Match as_recorded = panel.to_game.match(recorded.text, recorded_numbers);
  const protocol::Match as_now = panel.to_game.match(now.text, now_numbers);
  if (!as_now.ok() && !as_recorded.ok()) {
    difference.stage = "wire";
    return;
  }
  if (as_recorded.format != as_now.format) {
    const bool now_unknown = !as_now.ok();
    const protocol::Match closest = panel.to_game.explain(now_unknown ? now.text : recorded.text);
    if (closest.fault.field != protocol::kNoField)
      difference.field = panel.to_game_fields[static_cast<std::size_t>(closest.fault.field)].name;
    return;
  }
  for (const std::uint16_t field :
       panel.to_game.format(static_cast<std::size_t>(as_now.format)).fields()) {
    if (recorded_numbers[field] == now_numbers[field]) continue;
    difference.field = panel.to_game_fields[field].name;
    difference.stage = "board";
    return;
  }
}

}  // namespace understudy
