// Order decides here: what was stamped first must reach the session in the state that the links
// were served by, so a byte passes at once only where nothing that alters it is due before.
#include "sim/app/box_run.h"

#include <fmt/format.h>

#include <algorithm>

#include "sim/model/kinds.h"
#include "sim/session/shown_hands.h"

namespace understudy {
namespace {

SerialSettings settings_of(const Panel& panel) {
  const WireDescription& wire = panel.description.wire;
  return {.baud = wire.baud,
          .data_bits = wire.data_bits,
          .parity = wire.parity,
          .stop_bits = wire.stop_bits};
}

}  // namespace

Result<std::unique_ptr<BoxRun>> BoxRun::open(Pacer& pacer, const std::string& port,
                                             const Panel& panel) {
  auto box = open_box(pacer, {.port = port, .settings = settings_of(panel)});
  if (!box.ok()) return box.error();
  // As without us: the lines are down until a game opens its end.
  box.value()->raise({.dtr = false, .rts = false});
  return std::unique_ptr<BoxRun>(new BoxRun(pacer, std::move(box).value()));
}

void BoxRun::read(const Session& session, const HandQueue& hands, SeatLinks& links,
                  std::vector<SeatInput>& inputs) {
  events_.clear();
  passed_ = 0;
  port_->read_events(pacer_, events_);
  for (BoxEvent& event : events_) {
    auto* bytes = std::get_if<BoxBytes>(&event.what);
    if (bytes == nullptr) continue;
    const Instant altered = earlier(hands.next_due(), next_planned());
    if (session.passes_unaltered(0) && altered > event.at) {
      links.write(bytes->bytes);
      passed_ += bytes->bytes.size();
    }
    inputs.push_back({0, {event.at, std::move(*bytes)}});
  }
}

std::string_view BoxRun::not_passed(std::string_view chunk) {
  const std::size_t known = std::min(passed_, chunk.size());
  passed_ -= known;
  return chunk.substr(known);
}

std::optional<std::size_t> BoxRun::room(const Session& session) const {
  if (session.source(0) != SeatSource::kBox) return std::nullopt;
  return port_->room();
}

void BoxRun::hear(const Input& of_link, const Session& session) {
  if (const auto* bytes = std::get_if<BytesFromGame>(&of_link.what)) {
    for_box_.clear();
    witness_.take(bytes->bytes, for_box_);
    if (session.source(0) == SeatSource::kBox && !for_box_.empty()) port_->write(for_box_);
  } else if (const auto* opened = std::get_if<LinkOpened>(&of_link.what)) {
    witness_.begin_anew();
    port_->raise({.dtr = opened->dtr, .rts = true});
  } else if (std::holds_alternative<LinkClosed>(of_link.what)) {
    witness_.begin_anew();
    port_->raise({.dtr = false, .rts = false});
  } else if (const auto* lines = std::get_if<ModemLines>(&of_link.what)) {
    port_->raise(*lines);
  } else if (const auto* settings = std::get_if<LineSettings>(&of_link.what)) {
    follow(*settings);
  }
}

// The game set its end of the line: so is the box's port.
void BoxRun::follow(const LineSettings& line) {
  if (line.baud <= 0) return;
  SerialSettings settings = port_->settings();
  settings.baud = line.baud;
  settings.stop_bits = line.stop_bits;
  const Result<Done> set = port_->set(settings);
  if (set.ok() || line.baud == refused_baud_) return;
  refused_baud_ = line.baud;
  notices_.push_back(fmt::format("the game asked for {} baud, and the box's port stays at {}: {}",
                                 line.baud, written(port_->settings()), set.error().text));
}

void BoxRun::plan(Instant at, decltype(Input::what) what) {
  const auto place =
      std::upper_bound(planned_.begin(), planned_.end(), at,
                       [](Instant t, const SeatInput& input) { return t < input.input.at; });
  planned_.insert(place, {0, {at, std::move(what)}});
}

// Where the virtual controls stand elsewhere than the newest lines say.
std::vector<HandAction> BoxRun::moves_to_lines(const Session& session) const {
  const Traffic& traffic = session.observer(0).traffic_to_game();
  if (traffic.last_known_at() < Instant{}) return {};
  return hands_that_show(session.device(0), traffic.numbers());
}

bool BoxRun::is_planned_to_hold(const HandAction& hand) const {
  return std::any_of(planned_.begin(), planned_.end(), [&](const SeatInput& input) {
    const auto* held = std::get_if<ControlHeld>(&input.input.what);
    return held != nullptr && held->held && held->control == hand.control &&
           held->part == hand.part;
  });
}

void BoxRun::take_due(Instant until, std::size_t first, const Session& session, HandQueue& hands,
                      std::vector<SeatInput>& inputs) {
  if (session.source(0) != SeatSource::kDevice) {
    const std::vector<SeatInput> due(inputs.begin() + static_cast<std::ptrdiff_t>(first),
                                     inputs.end());
    inputs.resize(first);
    for (const SeatInput& hand : due) hold_first(hand, session, hands, inputs);
  }
  while (!planned_.empty() && planned_.front().input.at <= until) {
    inputs.push_back(std::move(planned_.front()));
    inputs.back().input.at = later(inputs.back().input.at, session.now() + nanoseconds(1));
    planned_.erase(planned_.begin());
  }
}

// The hand itself waits until the virtual control has been brought to where the box's stands, and
// the board's program has read it there: only then is its number better than the box's.
void BoxRun::hold_first(const SeatInput& hand, const Session& session, HandQueue& hands,
                        std::vector<SeatInput>& inputs) {
  const Instant at = hand.input.at;
  const auto& asked = std::get<HandAction>(hand.input.what);
  const Duration wait = time_to_show(session.panel(0));
  if (session.holds(0, asked.control, asked.part)) return inputs.push_back(hand);
  if (is_planned_to_hold(asked)) {
    hands.add(at, {{wait + nanoseconds(1), 0, asked}});
    return;
  }
  const std::vector<HandAction> moves = moves_to_lines(session);
  const auto move = std::find_if(moves.begin(), moves.end(), [&](const HandAction& one) {
    return one.control == asked.control && one.part == asked.part;
  });
  const ControlHeld held{.control = asked.control, .part = asked.part, .held = true};
  if (move == moves.end()) {
    inputs.push_back(hand);
    inputs.push_back({0, {at, held}});
    return;
  }
  inputs.push_back({0, {at, *move}});
  plan(at + wait, held);
  hands.add(at, {{wait + nanoseconds(1), 0, asked}});
}

std::optional<Error> BoxRun::change(SeatSource source, const Session& session,
                                    std::vector<SeatInput>& inputs) {
  const bool under_way = std::any_of(planned_.begin(), planned_.end(), [](const SeatInput& input) {
    return std::holds_alternative<SourceChanged>(input.input.what);
  });
  const auto wrong = [](const std::string& text) { return Error{ErrorCode::kUnusable, text}; };
  if (source == session.source(0) || under_way)
    return wrong(source == SeatSource::kDevice || under_way
                     ? "the box is out already; 'box in' gives it its place back"
                     : "the box is in already; 'box out' puts the virtual one in its place");
  if (source == SeatSource::kBox) {
    if (!port_->there())
      return wrong("cannot take the box in: it is away from " + port_->where() +
                   "; plug it in first");
    plan(pacer_.next(), SourceChanged{source});
    notices_.push_back("the box is in");
    return std::nullopt;
  }
  if (session.panel(0).to_game_fields.empty())
    return wrong(
        "cannot replace the box: no panel file says what it is like; begin with 'understudy tap "
        "PANEL --box PORT'");
  const Instant now = pacer_.next();
  for (const HandAction& move : moves_to_lines(session)) inputs.push_back({0, {now, move}});
  plan(now + time_to_show(session.panel(0)), SourceChanged{source});
  notices_.push_back("the box is out, and the virtual one plays on");
  return std::nullopt;
}

std::optional<Error> BoxRun::let_go(const std::vector<SaidPart>& places, const Session& session,
                                    std::vector<SeatInput>& inputs) {
  const Instant now = pacer_.next();
  bool any = false;
  for (const SaidPart& place : places) {
    if (!session.holds(0, place.control, place.part)) continue;
    inputs.push_back(
        {0, {now, ControlHeld{.control = place.control, .part = place.part, .held = false}}});
    any = true;
  }
  if (any) return std::nullopt;
  return Error{ErrorCode::kUnusable, "nothing of that is held in the box's place"};
}

std::vector<std::string> BoxRun::take_notices() {
  std::vector<std::string> all = port_->take_notices();
  for (std::string& notice : notices_) all.push_back(std::move(notice));
  notices_.clear();
  return all;
}

std::string BoxRun::summary() const {
  const BoxCounts& counts = port_->counts();
  std::string text = fmt::format("the box at {}: {} bytes from it, {} to it", port_->where(),
                                 counts.bytes_from_box, counts.bytes_to_box);
  const std::uint64_t dropped = counts.dropped_full + counts.dropped_gone;
  if (dropped > 0) text += fmt::format(", {} to it lost", dropped);
  if (counts.lost > 0) text += fmt::format(", {} times away", counts.lost);
  return text;
}

}  // namespace understudy
