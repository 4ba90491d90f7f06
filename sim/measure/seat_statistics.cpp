// Brings each number to those who count it.
#include "sim/measure/seat_statistics.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <utility>

#include "sim/base/check.h"
#include "sim/model/inputs.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

constexpr std::size_t kLineSpansMax = 4'096;
constexpr int kDataBits = 8;  // where no panel says otherwise

bool same_fields(const Panel& a, const Panel& b) {
  return a.to_game_fields == b.to_game_fields && a.to_panel_fields == b.to_panel_fields &&
         a.description.controls == b.description.controls &&
         a.description.outputs == b.description.outputs &&
         a.description.answers == b.description.answers;
}

bool is_lamp(const OutputDescription& output) {
  return output.kind == OutputKind::kLamp || output.kind == OutputKind::kRgb;
}

std::vector<std::unique_ptr<LampStatistics>> lamps_of(const PanelDescription& panel) {
  std::vector<std::unique_ptr<LampStatistics>> lamps(panel.outputs.size());
  for (std::size_t i = 0; i < lamps.size(); ++i)
    if (is_lamp(panel.outputs[i]))
      lamps[i] = std::make_unique<LampStatistics>(panel.outputs[i], panel.board);
  return lamps;
}

}  // namespace

ControlStatisticsOptions promised_by(const Panel& panel, std::size_t field) {
  const FieldSource& source = panel.to_game_sources[field];
  const ControlDescription& control = panel.description.controls[source.part_of];
  const Sends& sends = sends_of(control, source.part);
  ControlStatisticsOptions promised = {
      .way = FieldWay::kSlides, .low = sends.low, .high = sends.high};
  switch (control.kind) {
    case ControlKind::kButton:
    case ControlKind::kSwitch:
      promised.way = FieldWay::kContact;
      break;
    case ControlKind::kSelector:
      promised.way = FieldWay::kPlaces;
      break;
    case ControlKind::kEncoder:
      promised.way = FieldWay::kCounts;
      break;
    case ControlKind::kStick:
      if (line_parts(control)[source.part] == "press") promised.way = FieldWay::kContact;
      break;
    case ControlKind::kPot:
    case ControlKind::kSensor:
      break;
  }
  return promised;
}

SeatStatistics::SeatStatistics(const SeatStatisticsOptions& options)
    : options_(options),
      to_game_({.direction = Direction::kToGame,
                .panel = options.panel,
                .gap_bound = options.gap_bound}),
      to_panel_({.direction = Direction::kToPanel,
                 .panel = options.panel,
                 .gap_bound = options.gap_bound}),
      to_game_lines_(kLineSpansMax),
      to_panel_lines_(kLineSpansMax) {
  take_panel();
}

void SeatStatistics::take_panel() {
  fields_.clear();
  field_traces_.clear();
  hand_places_.clear();
  told_lamps_.clear();
  shown_lamps_.clear();
  saw_outputs_ = false;
  if (!options_.panel) return;
  const Panel& panel = *options_.panel;
  for (std::size_t i = 0; i < panel.to_game_fields.size(); ++i)
    fields_.emplace_back(promised_by(panel, i));
  if (options_.trace_spans_max > 0)
    field_traces_.assign(fields_.size(), Trace(options_.trace_spans_max));
  for (const ControlDescription& control : panel.description.controls) {
    std::vector<std::int64_t>& places = hand_places_.emplace_back();
    for (std::size_t part = 0; part < hand_parts(control).size(); ++part)
      places.push_back(rest_ppm(control, part));
  }
  game_answers_.emplace(options_.panel);
  shown_answers_.emplace(options_.panel);
  asked_fields_ = game_answers_->fields_asked_for();
  asked_numbers_.assign(asked_fields_.size(), 0);
  asked_known_ = false;
  told_lamps_ = lamps_of(panel.description);
  shown_lamps_ = lamps_of(panel.description);
  shown_numbers_.clear();
  for (const FieldSource& source : panel.to_panel_sources)
    shown_numbers_.push_back(sends_of(panel.description.outputs[source.part_of], source.part).low);
}

void SeatStatistics::take_to_game(const MeasuredLine& line) {
  const auto carried =
      options_.panel->to_game.format(static_cast<std::size_t>(line.format)).fields();
  for (const std::uint16_t field : carried) fields_[field].add(line.at, line.numbers[field]);
  if (!field_traces_.empty()) {
    for (const std::uint16_t field : carried)
      field_traces_[field].add(line.at, static_cast<double>(line.numbers[field]));
  }
  if (line.repeats || !asks_for(line.numbers)) return;
  game_answers_->to_game(line.at, carried, line.numbers);
  shown_answers_->to_game(line.at, carried, line.numbers);
}

// Whether a number that answers wait for is another than before.
bool SeatStatistics::asks_for(std::span<const std::int64_t> numbers) {
  bool asks = !std::exchange(asked_known_, true);
  for (std::size_t i = 0; i < asked_fields_.size(); ++i) {
    asks = asks || numbers[asked_fields_[i]] != asked_numbers_[i];
    asked_numbers_[i] = numbers[asked_fields_[i]];
  }
  return asks;
}

void SeatStatistics::take_to_panel(const MeasuredLine& line) {
  if (line.repeats) return;
  const Panel& panel = *options_.panel;
  const auto carried = panel.to_panel.format(static_cast<std::size_t>(line.format)).fields();
  game_answers_->to_panel(line.at, carried, line.numbers);
  for (std::size_t i = 0; i < carried.size(); ++i) {
    const FieldSource& source = panel.to_panel_sources[carried[i]];
    LampStatistics* const lamp = told_lamps_[source.part_of].get();
    if (lamp == nullptr) continue;
    bool whole = true;  // no further part of it comes in this line
    for (std::size_t later = i + 1; later < carried.size(); ++later)
      whole = whole && panel.to_panel_sources[carried[later]].part_of != source.part_of;
    lamp->set(line.at, source.part, line.numbers[carried[i]], whole);
  }
}

void SeatStatistics::to_game(Instant t, std::string_view bytes) {
  if (first_at_.ns < 0) first_at_ = t;
  const std::int64_t before = to_game_.lines();
  to_game_.add(t, bytes, [this](const MeasuredLine& line) { take_to_game(line); });
  if (options_.trace_spans_max == 0) return;
  for (std::int64_t i = to_game_.lines() - before; i > 0; --i) to_game_lines_.add(t, 0);
}

void SeatStatistics::to_panel(Instant t, std::string_view bytes) {
  if (first_at_.ns < 0) first_at_ = t;
  if (sieve_.on_the_way() > 0 || bytes.find('#') != std::string_view::npos) {
    sieved_.clear();
    sieve_.take(bytes, sieved_);
    bytes = sieved_;
  }
  const std::int64_t before = to_panel_.lines();
  to_panel_.add(t, bytes, [this](const MeasuredLine& line) { take_to_panel(line); });
  if (options_.trace_spans_max == 0) return;
  for (std::int64_t i = to_panel_.lines() - before; i > 0; --i) to_panel_lines_.add(t, 0);
}

void SeatStatistics::output_set(Instant t, std::size_t output, std::size_t part,
                                std::int64_t number) {
  CHECK(options_.panel && output < shown_lamps_.size(), "outputs are those of the panel");
  saw_outputs_ = true;
  if (shown_lamps_[output]) shown_lamps_[output]->set(t, part, number, true);
  const auto& sources = options_.panel->to_panel_sources;
  for (std::uint16_t field = 0; field < sources.size(); ++field) {
    if (sources[field].part_of != output || sources[field].part != part) continue;
    shown_numbers_[field] = number;
    shown_answers_->to_panel(t, std::array{field}, shown_numbers_);
  }
}

// A hand that moves one part is asked of all fields that it can be seen in.
void SeatStatistics::ask(Instant t, std::size_t control, std::string_view part, std::int64_t by_ppm,
                         Duration duration) {
  const Panel& panel = *options_.panel;
  for (std::size_t field = 0; field < fields_.size(); ++field) {
    const FieldSource& source = panel.to_game_sources[field];
    if (source.part_of != control) continue;
    const ControlDescription& moved = panel.description.controls[control];
    if (!part.empty() && line_parts(moved)[source.part] != part) continue;
    fields_[field].hand_moved(t, by_ppm, duration);
  }
}

void SeatStatistics::hand_to(Instant t, std::size_t control, std::size_t hand_part,
                             std::int64_t to_ppm, Duration duration) {
  CHECK(control < hand_places_.size() && hand_part < hand_places_[control].size(),
        "hands move what the panel has");
  std::int64_t& place = hand_places_[control][hand_part];
  const std::int64_t to = std::clamp<std::int64_t>(to_ppm, 0, kFullTravel);
  const std::string_view part =
      hand_parts(options_.panel->description.controls[control])[hand_part].name;
  ask(t, control, part, to - std::exchange(place, to), duration);
}

void SeatStatistics::hand_turned(Instant t, std::size_t control, std::int64_t by_ppm,
                                 Duration duration) {
  ask(t, control, "", std::clamp<std::int64_t>(by_ppm, -kFullTravel, kFullTravel), duration);
}

void SeatStatistics::interrupt() {
  for (ControlStatistics& field : fields_) field.interrupt();
  if (game_answers_) game_answers_->interrupt();
  if (shown_answers_) shown_answers_->interrupt();
  asked_known_ = false;
}

void SeatStatistics::port_opened(Instant t) {
  if (first_at_.ns < 0) first_at_ = t;
  ++opened_;
  sieve_.begin_anew();
  to_game_.port_opened();
  to_panel_.port_opened();
  interrupt();
}

void SeatStatistics::port_closed(Instant t) {
  if (first_at_.ns < 0) first_at_ = t;
  sieve_.begin_anew();
}

void SeatStatistics::line_settings(std::int64_t baud, int stop_bits) {
  if (options_.panel || baud <= 0) return;
  const int bits = 1 + kDataBits + stop_bits;
  to_game_.set_speed(baud, bits);
  to_panel_.set_speed(baud, bits);
}

void SeatStatistics::panel_read(Instant t, std::shared_ptr<const Panel> panel) {
  CHECK(panel != nullptr, "a panel was read");
  const bool same = options_.panel && same_fields(*options_.panel, *panel);
  to_game_.change_panel(panel);
  to_panel_.change_panel(panel);
  options_.panel = std::move(panel);
  if (same) return interrupt();
  anew_since_ = t;
  take_panel();
}

SeatFigures SeatStatistics::figures(Instant now) const {
  SeatFigures figures;
  figures.to_game = to_game_.figures();
  figures.to_panel = to_panel_.figures();
  figures.anew_since = anew_since_;
  figures.opened = opened_;
  if (!options_.panel) return figures;
  const Panel& panel = *options_.panel;
  figures.has_panel = true;
  figures.panel = panel.description.name;
  for (std::size_t i = 0; i < fields_.size(); ++i) {
    const ControlDescription& control =
        panel.description.controls[panel.to_game_sources[i].part_of];
    figures.fields.push_back({.name = panel.to_game_fields[i].name,
                              .kind = std::string(kind_word(control.kind)),
                              .promised = fields_[i].options(),
                              .figures = fields_[i].figures(now)});
  }
  const Instant since = anew_since_.value_or(first_at_);
  figures.answers = game_answers_->answers();
  figures.pairs = game_answers_->pairs(now - since);
  if (saw_outputs_) figures.shown = shown_answers_->answers();
  const Lamps& lamps = saw_outputs_ ? shown_lamps_ : told_lamps_;
  for (std::size_t i = 0; i < lamps.size(); ++i)
    if (lamps[i]) figures.lamps.push_back({panel.description.outputs[i].name, lamps[i]->figures()});
  return figures;
}

}  // namespace understudy
