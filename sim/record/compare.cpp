// Checks that the two can be compared, then pairs the changes of each output.
#include "sim/record/compare.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdlib>

#include "sim/base/text.h"
#include "sim/record/match_changes.h"

namespace understudy {
namespace {

constexpr std::array<std::string_view, 6> kKindNames{"alike",   "earlier", "later",
                                                     "missing", "extra",   "other"};

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

double ms(Duration length) {
  return static_cast<double>(length.ns) / 1e6;
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + printable(word);
  return text.empty() ? "none" : text;
}

// What of `one` is not in `other`.
std::vector<std::string> without(std::vector<std::string> one, std::vector<std::string> other) {
  std::sort(one.begin(), one.end());
  std::sort(other.begin(), other.end());
  std::vector<std::string> rest;
  std::set_difference(one.begin(), one.end(), other.begin(), other.end(), std::back_inserter(rest));
  return rest;
}

class Comparing {
 public:
  Comparing(const Named& a, const Named& b, const CompareOptions& options)
      : names_{a.name, b.name}, a_(a.performance), b_(b.performance), options_(options) {}

  Result<Comparison> run() {
    for (const auto step : {&Comparing::pair_seats, &Comparing::pair_deeds, &Comparing::find_zero,
                            &Comparing::pair_outputs}) {
      const Result<Done> done = (this->*step)();
      if (!done.ok()) return done.error();
    }
    for (std::size_t output = 0; output < a_.outputs.size(); ++output)
      if (output_of_b_[output]) compare_output(static_cast<std::uint16_t>(output));
    sum_up();
    return std::move(found_);
  }

 private:
  // One moment that latencies are counted from.
  struct Anchor {
    Instant a;
    Instant b;
    std::optional<std::size_t> deed;  // place in found_.deeds
  };

  // By their names where those are the same, else in their order.
  Result<Done> pair_seats() {
    if (a_.seats.size() != b_.seats.size())
      return unusable(
          fmt::format("{} has {} seats and {} has {}; compare recordings of the same "
                      "panels",
                      names_[0], a_.seats.size(), names_[1], b_.seats.size()));
    const bool same_names = without(a_.seats, b_.seats).empty();
    for (std::size_t i = 0; i < a_.seats.size(); ++i) {
      const auto found = std::find(b_.seats.begin(), b_.seats.end(), a_.seats[i]);
      const std::size_t other = same_names ? static_cast<std::size_t>(found - b_.seats.begin()) : i;
      seat_of_b_.push_back(static_cast<std::uint16_t>(other));
      const auto missing = without(a_.controls[i], b_.controls[other]);
      const auto extra = without(b_.controls[other], a_.controls[i]);
      if (missing.empty() && extra.empty()) continue;
      return unusable(fmt::format("seat {} has other controls: only in {}: {}; only in {}: {}",
                                  printable(a_.seats[i]), names_[0], listed(missing), names_[1],
                                  listed(extra)));
    }
    return Done{};
  }

  Result<Done> pair_deeds() {
    common_ = std::min(a_.deeds.size(), b_.deeds.size());
    for (std::size_t i = 0; i < common_; ++i) {
      const Deed& a = a_.deeds[i];
      const Deed& b = b_.deeds[i];
      if (a.words == b.words && seat_of_b_[a.seat] == b.seat) continue;
      return unusable(fmt::format(
          "these are not the same hands: the {}. is '{}' at {:.6f} s in {} and '{}' at {:.6f} s "
          "in {}",
          i + 1, a.words, static_cast<double>(a.at.ns) / 1e9, names_[0], b.words,
          static_cast<double>(b.at.ns) / 1e9, names_[1]));
    }
    end_a_ = a_.end;
    end_b_ = b_.end;
    if (a_.deeds.size() > common_) end_a_ = a_.deeds[common_].at;
    if (b_.deeds.size() > common_) end_b_ = b_.deeds[common_].at;
    if (a_.deeds.size() != b_.deeds.size())
      found_.remarks.push_back(
          fmt::format("{} has {} hands and {} has {}: compared are the first {}", names_[0],
                      a_.deeds.size(), names_[1], b_.deeds.size(), common_));
    return Done{};
  }

  // The deed that times are counted from.
  [[nodiscard]] std::optional<std::size_t> deed_of_control() const {
    const std::string& wanted = options_.align.control;
    for (std::size_t i = 0; i < common_; ++i)
      for (const std::string& control : a_.deeds[i].controls)
        if (control == wanted || a_.seats[a_.deeds[i].seat] + "/" + control == wanted) return i;
    return std::nullopt;
  }

  Result<Done> find_zero() {
    std::optional<std::size_t> first = 0;
    switch (options_.align.by) {
      case AlignBy::kStart:
        anchors_.push_back({Instant{}, Instant{}, std::nullopt});
        break;
      case AlignBy::kOpened:
        if (!a_.opened || !b_.opened)
          return unusable(fmt::format("in {} no game opened a port; --align hand or start",
                                      names_[a_.opened ? 1 : 0]));
        anchors_.push_back({*a_.opened, *b_.opened, std::nullopt});
        break;
      case AlignBy::kControl:
        first = deed_of_control();
        if (!first)
          return unusable(fmt::format("no hand moves '{}' in both, so there is nothing to align by",
                                      printable(options_.align.control)));
        [[fallthrough]];
      case AlignBy::kFirstHand:
        if (common_ == 0)
          return unusable(
              fmt::format("no hand moves in {}, so there is nothing to align by; "
                          "--align start or opened",
                          names_[a_.deeds.empty() ? 0 : 1]));
        break;
    }
    add_deeds(*first);
    return Done{};
  }

  void add_deeds(std::size_t first) {
    const bool by_hand = anchors_.empty();
    found_.zero_a = by_hand ? a_.deeds[first].at : anchors_[0].a;
    found_.zero_b = by_hand ? b_.deeds[first].at : anchors_[0].b;
    Duration apart;
    for (std::size_t i = first; i < common_; ++i) {
      const Deed& deed = a_.deeds[i];
      if (deed.at < found_.zero_a || b_.deeds[i].at < found_.zero_b) continue;
      anchors_.push_back({deed.at, b_.deeds[i].at, found_.deeds.size()});
      found_.deeds.push_back({deed.at - found_.zero_a, deed.seat, deed.words});
      const Duration off = (b_.deeds[i].at - found_.zero_b) - (deed.at - found_.zero_a);
      if (std::abs(off.ns) > std::abs(apart.ns)) apart = off;
    }
    if (std::abs(apart.ns) > options_.tolerance.ns)
      found_.remarks.push_back(
          fmt::format("the hands themselves come up to {} apart in {}; each "
                      "answer is counted from its own hand",
                      signed_ms(apart), names_[1]));
  }

  Result<Done> pair_outputs() {
    std::vector<std::string> wanted = options_.outputs;
    std::vector<std::string> only_a;
    for (const ShownOutput& output : a_.outputs) {
      const auto is_same = [&](const ShownOutput& other) {
        return other.name == output.name && other.seat == seat_of_b_[output.seat];
      };
      const auto found = std::find_if(b_.outputs.begin(), b_.outputs.end(), is_same);
      const bool asked = options_.outputs.empty() ||
                         std::find(options_.outputs.begin(), options_.outputs.end(), output.name) !=
                             options_.outputs.end();
      std::erase(wanted, output.name);
      if (asked && found == b_.outputs.end()) only_a.push_back(output.name);
      std::optional<std::uint16_t> place;
      if (asked && found != b_.outputs.end())
        place = static_cast<std::uint16_t>(found - b_.outputs.begin());
      output_of_b_.push_back(place);
    }
    if (!wanted.empty())
      return unusable(fmt::format("{} has no output {}", names_[0], listed(wanted)));
    if (!only_a.empty())
      found_.remarks.push_back(
          fmt::format("not compared, for {} has no such output: {}", names_[1], listed(only_a)));
    return Done{};
  }

  // The anchor before `at` in one of the two; none before time zero.
  template <class Member>
  [[nodiscard]] const Anchor* anchor_before(Instant at, Member member) const {
    const auto after =
        std::upper_bound(anchors_.begin(), anchors_.end(), at,
                         [&](Instant t, const Anchor& anchor) { return t < anchor.*member; });
    return after == anchors_.begin() ? nullptr : &*(after - 1);
  }

  struct Shown {
    TimedNumber change;  // in the first recording's time
    const Anchor* anchor = nullptr;
    Instant own;          // in its own time
    bool beyond = false;  // the other recording ends too soon to tell that it is missing there
  };

  // What an output showed at time zero, and its changes from then on.
  std::vector<Shown> shown_in_a(std::uint16_t output, std::int64_t& at_zero) const {
    std::vector<Shown> shown;
    for (const ShownChange& change : a_.changes) {
      if (change.output != output) continue;
      const Anchor* anchor = anchor_before(change.at, &Anchor::a);
      if (anchor == nullptr) at_zero = change.number;
      if (anchor == nullptr || change.at >= end_a_) continue;
      const bool beyond = anchor->b + (change.at - anchor->a) + options_.tolerance >= end_b_;
      shown.push_back({{change.at, change.number}, anchor, change.at, beyond});
    }
    return shown;
  }

  std::vector<Shown> shown_in_b(std::uint16_t output, std::int64_t& at_zero) const {
    std::vector<Shown> shown;
    for (const ShownChange& change : b_.changes) {
      if (change.output != output) continue;
      const Anchor* anchor = anchor_before(change.at, &Anchor::b);
      if (anchor == nullptr) at_zero = change.number;
      if (anchor == nullptr || change.at >= end_b_) continue;
      const Instant in_a = anchor->a + (change.at - anchor->b);
      // Behind a hand that comes later in the first recording, time would go back.
      const Instant last = shown.empty() ? in_a : shown.back().change.at;
      const bool beyond = in_a + options_.tolerance >= end_a_;
      shown.push_back({{later(in_a, last), change.number}, anchor, change.at, beyond});
    }
    return shown;
  }

  void compare_output(std::uint16_t output) {
    std::int64_t zero_a = 0;
    std::int64_t zero_b = 0;
    const std::vector<Shown> a = shown_in_a(output, zero_a);
    const std::vector<Shown> b = shown_in_b(*output_of_b_[output], zero_b);
    if (zero_a != zero_b)
      found_.rows.push_back({.kind = AnswerKind::kOther,
                             .time = {},
                             .deed = std::nullopt,
                             .output = output,
                             .a = std::nullopt,
                             .b = std::nullopt,
                             .number_a = zero_a,
                             .number_b = zero_b});
    std::vector<TimedNumber> times_a;
    std::vector<TimedNumber> times_b;
    for (const auto& [from, to] : {std::pair{&a, &times_a}, std::pair{&b, &times_b}})
      for (const Shown& one : *from) {
        to->push_back(one.change);
        to->back().since = one.anchor->a - options_.tolerance;
      }
    for (const MatchedPair& pair : match_changes(times_a, times_b))
      add_row(output, pair.a ? &a[*pair.a] : nullptr, pair.b ? &b[*pair.b] : nullptr);
  }

  void add_row(std::uint16_t output, const Shown* a, const Shown* b) {
    if (a == nullptr ? b->beyond : b == nullptr && a->beyond) return;
    // The older of the two: a slow answer may come after the next hand.
    const Anchor& anchor = a == nullptr   ? *b->anchor
                           : b == nullptr ? *a->anchor
                                          : *std::min(a->anchor, b->anchor);
    AnswerRow row{.output = output};
    row.deed = anchor.deed;
    row.time = (a != nullptr ? a->change.at : b->change.at) - found_.zero_a;
    if (a != nullptr) row.a = a->own - anchor.a;
    if (a != nullptr) row.number_a = a->change.number;
    if (b != nullptr) row.b = b->own - anchor.b;
    if (b != nullptr) row.number_b = b->change.number;
    row.kind = kind_of(row);
    found_.rows.push_back(row);
  }

  [[nodiscard]] AnswerKind kind_of(const AnswerRow& row) const {
    if (!row.number_b) return AnswerKind::kMissing;
    if (!row.number_a) return AnswerKind::kExtra;
    if (row.number_a != row.number_b) return AnswerKind::kOther;
    const Duration difference = *row.difference();
    if (std::abs(difference.ns) <= options_.tolerance.ns) return AnswerKind::kAlike;
    return difference < Duration{} ? AnswerKind::kEarlier : AnswerKind::kLater;
  }

  void sum_up() {
    std::stable_sort(found_.rows.begin(), found_.rows.end(),
                     [](const AnswerRow& x, const AnswerRow& y) { return x.time < y.time; });
    std::vector<Duration> differences;
    for (std::size_t i = 0; i < found_.rows.size(); ++i) {
      const AnswerRow& row = found_.rows[i];
      ++found_.counts[static_cast<std::size_t>(row.kind)];
      if (row.kind != AnswerKind::kAlike && !found_.first) found_.first = i;
      const auto difference = row.difference();
      if (!difference || row.kind == AnswerKind::kOther) continue;
      differences.push_back(*difference);
      if (!found_.worst || std::abs(difference->ns) > std::abs(found_.worst->ns))
        found_.worst = difference;
    }
    if (differences.empty()) return;
    const auto middle =
        differences.begin() + static_cast<std::ptrdiff_t>((differences.size() - 1) / 2);
    std::nth_element(differences.begin(), middle, differences.end());
    found_.median = *middle;
  }

  std::array<std::string, 2> names_;
  const Performance& a_;
  const Performance& b_;
  const CompareOptions& options_;
  std::size_t common_ = 0;  // deeds
  Instant end_a_;           // of what is compared
  Instant end_b_;
  std::vector<std::uint16_t> seat_of_b_;
  std::vector<std::optional<std::uint16_t>> output_of_b_;
  std::vector<Anchor> anchors_;
  Comparison found_;
};

}  // namespace

std::string_view name_of(AnswerKind kind) {
  return kKindNames[static_cast<std::size_t>(kind)];
}

Result<Comparison> compare(const Named& a, const Named& b, const CompareOptions& options) {
  return Comparing(a, b, options).run();
}

std::string signed_ms(Duration difference) {
  return fmt::format("{:+.1f} ms", ms(difference));
}

std::string first_difference(const Comparison& comparison, const Named& a, const Named& b) {
  const AnswerRow& row = comparison.rows[*comparison.first];
  const ShownOutput& output = a.performance.outputs[row.output];
  const std::string after =
      row.deed ? fmt::format(", after '{}'", comparison.deeds[*row.deed].words) : "";
  std::string text =
      fmt::format("at {:.6f} s{}, seat {}: {}", static_cast<double>(row.time.ns) / 1e9, after,
                  printable(a.performance.seats[output.seat]), printable(output.name));
  if (row.kind == AnswerKind::kMissing)
    return text + fmt::format(" is set to {} after {:.1f} ms in {} and not in {}", *row.number_a,
                              ms(*row.a), a.name, b.name);
  if (row.kind == AnswerKind::kExtra)
    return text + fmt::format(" is set to {} after {:.1f} ms in {} and not in {}", *row.number_b,
                              ms(*row.b), b.name, a.name);
  if (row.kind == AnswerKind::kOther && !row.a)
    return text +
           fmt::format(" is {} in {} and {} in {}", *row.number_a, a.name, *row.number_b, b.name);
  if (row.kind == AnswerKind::kOther)
    return text + fmt::format(" is set to {} in {} and to {} in {}", *row.number_a, a.name,
                              *row.number_b, b.name);
  return text + fmt::format(" is set to {} after {:.1f} ms in {} and after {:.1f} ms in {} ({})",
                            *row.number_a, ms(*row.a), a.name, ms(*row.b), b.name,
                            signed_ms(*row.difference()));
}

}  // namespace understudy
