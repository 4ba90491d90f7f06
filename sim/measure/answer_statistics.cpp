// Presses that wait, answers that come, and which pairs are no chance.
#include "sim/measure/answer_statistics.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/base/check.h"
#include "sim/base/units.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

constexpr std::int64_t kMissedAfter = 10;  // times `within`
constexpr Duration kMissedLeast = seconds(2);

LatencyFigures latency_of(const Quantiles& latencies) {
  LatencyFigures figures;
  figures.count = latencies.count();
  if (figures.count == 0) return figures;
  figures.median = Duration{*latencies.median()};
  figures.percentile_95 = Duration{*latencies.at(0.95)};
  figures.worst = Duration{*latencies.most()};
  return figures;
}

// That at least `hits` of `trials` happen where each does by `chance`: the tail of the binomial
// distribution, summed from its mode's side by logarithms.
double binomial_tail(std::int64_t trials, std::int64_t hits, double chance) {
  if (hits <= 0 || chance >= 1) return 1;
  if (chance <= 0) return 0;
  const auto n = static_cast<double>(trials);
  double log_term = n * std::log1p(-chance);  // of none
  const double log_odds = std::log(chance) - std::log1p(-chance);
  double sum = 0;
  for (std::int64_t k = 1; k <= trials; ++k) {
    log_term += std::log(static_cast<double>(trials - k + 1) / static_cast<double>(k)) + log_odds;
    if (k >= hits) sum += std::exp(log_term);
  }
  return std::min(sum, 1.0);
}

// A quarter above the worst, rounded up to 10, 50 or 100 ms.
Duration promised_within(Duration worst) {
  const Duration wanted = worst + worst / 4;
  const Duration step = wanted <= milliseconds(100)   ? milliseconds(10)
                        : wanted <= milliseconds(500) ? milliseconds(50)
                                                      : milliseconds(100);
  return grid_at_or_after({std::max<std::int64_t>(wanted.ns, 1)}, {}, step) - Instant{};
}

const char* word_of(ShowsKind kind, OutputKind output) {
  const bool sounds = output == OutputKind::kBuzzer;
  if (kind == ShowsKind::kLit) return sounds ? "sounds" : "lit";
  if (kind == ShowsKind::kDark) return sounds ? "silent" : "dark";
  return "changes";
}

bool can_be_dark(OutputKind kind) {
  return kind == OutputKind::kLamp || kind == OutputKind::kRgb || kind == OutputKind::kBuzzer;
}

}  // namespace

AnswerStatistics::AnswerStatistics(std::shared_ptr<const Panel> panel) : panel_(std::move(panel)) {
  CHECK(panel_ != nullptr, "answers are those of a panel");
  sent_.resize(panel_->to_game_fields.size());
  sent_known_.resize(sent_.size());
  causes_of_.resize(sent_.size());
  watched_of_.resize(sent_.size());
  shown_.resize(panel_->to_panel_fields.size());
  outputs_.resize(panel_->description.outputs.size());
  for (std::size_t i = 0; i < shown_.size(); ++i)
    outputs_[panel_->to_panel_sources[i].part_of].fields.push_back(static_cast<std::uint16_t>(i));
  for (const AnswerDescription& answer : panel_->description.answers) {
    Watched watched;
    watched.triggers = triggers_of(answer.when, *panel_);
    watched.expected = expectation_of(answer.expect, *panel_);
    watched.within = answer.within;
    for (const TriggerOf& trigger : watched.triggers)
      watched_of_[trigger.field].push_back(static_cast<std::uint16_t>(watched_.size()));
    watched_.push_back(std::move(watched));
  }
  add_causes();
}

void AnswerStatistics::add_causes() {
  for (std::size_t i = 0; i < sent_.size(); ++i) {
    const FieldSource& source = panel_->to_game_sources[i];
    const ControlDescription& control = panel_->description.controls[source.part_of];
    for (const char* does : {"press", "down", "up", "moves", "turns"}) {
      const bool springs =
          control.kind == ControlKind::kButton || control.kind == ControlKind::kStick;
      const std::string_view word = does;
      if (word == (springs ? "down" : "press")) continue;
      // What slides moves for long, and much changes meanwhile by chance.
      if (word == "moves" && control.kind != ControlKind::kSelector) continue;
      if (word == "turns" && control.kind != ControlKind::kEncoder) continue;
      for (TriggerOf& of :
           triggers_of(fmt::format("{} {}", to_game_name(*panel_, i), word), *panel_)) {
        if (of.field != i) continue;
        causes_of_[i].push_back(static_cast<std::uint16_t>(causes_.size()));
        causes_.push_back({.field = of.field, .does = does, .trigger = of.trigger, .at = {}});
      }
    }
  }
}

std::vector<std::uint16_t> AnswerStatistics::fields_asked_for() const {
  std::vector<std::uint16_t> fields;
  for (std::uint16_t i = 0; i < sent_.size(); ++i)
    if (!causes_of_[i].empty() || !watched_of_[i].empty()) fields.push_back(i);
  return fields;
}

void AnswerStatistics::press(Watched& watched, Instant t) {
  if (watched.pressed_at) ++watched.missed;
  watched.pressed_at.reset();
  ++watched.presses;
  if (shown_known_ && is_shown(*watched.expected, shown_, *panel_))
    ++watched.already;
  else
    watched.pressed_at = t;
}

void AnswerStatistics::to_game(Instant t, std::span<const std::uint16_t> carried,
                               std::span<const std::int64_t> numbers) {
  if (!began_) began_ = t;
  for (const std::uint16_t field : carried) {
    if (sent_known_[field] != 0 && numbers[field] == sent_[field]) continue;
    sent_known_[field] = 1;
    sent_[field] = numbers[field];
    for (const std::uint16_t place : watched_of_[field]) {
      Watched& watched = watched_[place];
      if (!watched.expected) continue;
      for (TriggerOf& of : watched.triggers)
        if (of.field == field && of.trigger.take(t, numbers[field])) press(watched, t);
    }
    for (const std::uint16_t place : causes_of_[field]) {
      Cause& cause = causes_[place];
      if (!cause.trigger.take(t, numbers[field])) continue;
      ++cause.count;
      cause.at = t;
      if (!cause.fresh) fresh_.push_back(place);
      cause.fresh = true;
    }
  }
}

void AnswerStatistics::answer(Watched& watched, Instant t) {
  const Duration latency = t - *watched.pressed_at;
  watched.pressed_at.reset();
  if (latency > std::max(watched.within * kMissedAfter, kMissedLeast)) {
    ++watched.missed;
    return;
  }
  if (latency > watched.within) ++watched.late;
  watched.latencies.add(latency.ns);
  watched.trace.add(t, static_cast<double>(latency.ns) / 1e6);
}

void AnswerStatistics::happened(std::size_t output, ShowsKind kind, Instant t) {
  const auto how = static_cast<std::size_t>(kind);
  OutputSeen& seen = outputs_[output];
  seen.gaps[how].add((t - seen.last[how].value_or(began_.value_or(t))).ns);
  seen.last[how] = t;
  std::erase_if(fresh_, [&](std::uint16_t place) {
    Cause& cause = causes_[place];
    cause.fresh = t - cause.at <= kPairWithin;
    return !cause.fresh;
  });
  for (const std::uint16_t place : fresh_) {
    const PairKey key = {place, static_cast<std::uint16_t>(output), kind};
    auto found = pairs_.find(key);
    if (found == pairs_.end()) {
      if (pairs_.size() >= kPairsMax) continue;
      found = pairs_.try_emplace(key).first;
    }
    Pair& pair = found->second;
    if (pair.answered == causes_[place].count) continue;
    pair.answered = causes_[place].count;
    pair.latencies.add((t - causes_[place].at).ns);
  }
}

void AnswerStatistics::take_output(std::size_t output, Instant t, bool changed) {
  OutputSeen& seen = outputs_[output];
  const Expectation lit = {.kind = ShowsKind::kLit, .fields = seen.fields};
  const bool was_lit = seen.lit;
  seen.lit = is_shown(lit, shown_, *panel_);
  if (!changed) return;
  if (can_be_dark(panel_->description.outputs[output].kind) && seen.lit != was_lit)
    happened(output, seen.lit ? ShowsKind::kLit : ShowsKind::kDark, t);
  happened(output, ShowsKind::kChanges, t);
}

void AnswerStatistics::to_panel(Instant t, std::span<const std::uint16_t> carried,
                                std::span<const std::int64_t> numbers) {
  if (!began_) began_ = t;
  std::array<bool, kOutputsMax> changed = {};
  bool any = false;
  for (const std::uint16_t field : carried) {
    if (numbers[field] == shown_[field] && shown_known_) continue;
    any = true;
    changed[panel_->to_panel_sources[field].part_of] = true;
    shown_[field] = numbers[field];
  }
  if (!any) return;
  const bool first = !std::exchange(shown_known_, true);
  for (std::size_t output = 0; output < outputs_.size(); ++output)
    if (changed[output]) take_output(output, t, !first);
  for (Watched& watched : watched_) {
    if (!watched.pressed_at) continue;
    const bool touched = std::any_of(
        watched.expected->fields.begin(), watched.expected->fields.end(),
        [&](std::uint16_t field) { return changed[panel_->to_panel_sources[field].part_of]; });
    if (!touched) continue;
    if (watched.expected->kind == ShowsKind::kChanges
            ? !first
            : is_shown(*watched.expected, shown_, *panel_))
      answer(watched, t);
  }
}

void AnswerStatistics::interrupt() {
  for (Watched& watched : watched_) {
    if (watched.pressed_at) ++watched.missed;
    watched.pressed_at.reset();
    for (TriggerOf& of : watched.triggers) of.trigger.interrupt();
  }
  for (Cause& cause : causes_) {
    cause.trigger.interrupt();
    cause.fresh = false;
  }
  fresh_.clear();
  std::fill(sent_known_.begin(), sent_known_.end(), char{0});
  shown_known_ = false;
}

std::vector<AnswerFigures> AnswerStatistics::answers() const {
  std::vector<AnswerFigures> all;
  for (std::size_t i = 0; i < watched_.size(); ++i) {
    const AnswerDescription& said = panel_->description.answers[i];
    const Watched& watched = watched_[i];
    all.push_back({.when = said.when,
                   .expect = said.expect,
                   .within = said.within,
                   .measurable = !watched.triggers.empty() && watched.expected.has_value(),
                   .presses = watched.presses,
                   .latency = latency_of(watched.latencies),
                   .late = watched.late,
                   .missed = watched.missed,
                   .already = watched.already});
  }
  return all;
}

std::optional<PairFigures> AnswerStatistics::judge(const PairKey& key, const Pair& pair,
                                                   Duration length) const {
  const auto& [place, output, kind] = key;
  const Cause& cause = causes_[place];
  const std::int64_t hits = pair.latencies.count();
  if (cause.count < kPairPressesLeast || length.ns <= 0) return std::nullopt;
  if (static_cast<double>(hits) < kPairShareLeast * static_cast<double>(cause.count))
    return std::nullopt;
  PairFigures figures;
  figures.latency = latency_of(pair.latencies);
  // The share of all moments that have such a change close behind them.
  const std::int64_t within = figures.latency.percentile_95->ns + 1;
  const Quantiles& gaps = outputs_[output].gaps[static_cast<std::size_t>(kind)];
  const double by_chance = gaps.sum_up_to(within) / static_cast<double>(length.ns);
  figures.chance = binomial_tail(cause.count, hits * 95 / 100, by_chance);
  if (figures.chance >= kPairChanceMost) return std::nullopt;
  const OutputDescription& described = panel_->description.outputs[output];
  figures.when = to_game_name(*panel_, cause.field) + " " + cause.does;
  figures.expect = described.name + " " + word_of(kind, described.kind);
  figures.presses = cause.count;
  figures.within = promised_within(*figures.latency.worst);
  const auto& answers = panel_->description.answers;
  figures.written = std::any_of(answers.begin(), answers.end(), [&](const AnswerDescription& said) {
    return said.when == figures.when && said.expect == figures.expect;
  });
  return figures;
}

std::vector<PairFigures> AnswerStatistics::pairs(Duration length) const {
  // Of one field and one output only the best is told: what comes soonest after the press or the
  // release, and lit or dark rather than that anything changes.
  std::map<std::pair<std::uint16_t, std::uint16_t>, std::pair<ShowsKind, PairFigures>> best;
  for (const auto& [key, pair] : pairs_) {
    auto figures = judge(key, pair, length);
    if (!figures) continue;
    const auto& [place, output, shows] = key;
    const ShowsKind kind = shows;  // which a lambda may take
    const auto at = best.find({causes_[place].field, output});
    const auto worse = [&](const std::pair<ShowsKind, PairFigures>& known) {
      const bool vague = known.first == ShowsKind::kChanges;
      if (vague != (kind == ShowsKind::kChanges)) return vague;
      return *figures->latency.median < *known.second.latency.median;
    };
    if (at == best.end())
      best.emplace(std::pair(causes_[place].field, output), std::pair(kind, *figures));
    else if (worse(at->second))
      at->second = {kind, *figures};
  }
  std::vector<PairFigures> all;
  for (auto& [key, figures] : best) all.push_back(std::move(figures.second));
  std::stable_sort(all.begin(), all.end(),
                   [](const PairFigures& a, const PairFigures& b) { return a.chance < b.chance; });
  return all;
}

std::string proposed_answers(std::span<const PairFigures> pairs) {
  std::string text;
  for (const PairFigures& pair : pairs) {
    if (pair.written) continue;
    text +=
        fmt::format("{}[[answer]]\nwhen = \"{}\"\nexpect = \"{}\"\nwithin = \"{}\"\n",
                    text.empty() ? "" : "\n", pair.when, pair.expect, write_duration(pair.within));
  }
  return text;
}

}  // namespace understudy
