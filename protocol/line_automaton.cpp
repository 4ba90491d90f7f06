// Builds the automaton of a format, and walks one or two of them breadth first.
#include "protocol/line_automaton.h"

#include <algorithm>
#include <deque>
#include <unordered_map>

#include "protocol/digits.h"

namespace understudy::protocol {
namespace {

// One visited place of a breadth-first walk, and how it was come by.
struct Visit {
  std::uint64_t place;
  std::size_t parent;
  char byte;
};
constexpr std::size_t kNoParent = static_cast<std::size_t>(-1);

// A walk over places that are numbers; remembers the way.
class Walk {
 public:
  explicit Walk(std::uint64_t start) { visit(start, kNoParent, 0); }

  void visit(std::uint64_t place, std::size_t parent, char byte) {
    if (seen_.emplace(place, visits_.size()).second) visits_.push_back({place, parent, byte});
  }
  bool done() const { return next_ == visits_.size(); }
  std::size_t next() { return next_++; }
  std::uint64_t place(std::size_t index) const { return visits_[index].place; }

  // The bytes from the start to that visit, and one more.
  std::string way_to(std::size_t index) const {
    std::string way;
    for (; visits_[index].parent != kNoParent; index = visits_[index].parent) {
      way += visits_[index].byte;
    }
    std::reverse(way.begin(), way.end());
    return way;
  }

 private:
  std::vector<Visit> visits_;
  std::unordered_map<std::uint64_t, std::size_t> seen_;  // looked up only, never listed
  std::size_t next_ = 0;
};

// For each count of matched bytes and next byte: how many are matched then.
std::size_t match_on(std::string_view marker, std::size_t matched, char byte) {
  std::string tail(marker.substr(0, matched));
  tail += byte;
  while (!tail.empty() && !marker.starts_with(tail)) tail.erase(0, 1);
  return tail.size();
}

}  // namespace

LineAutomaton::LineAutomaton(const LineFormat& format) {
  State at = add_state();
  for (const LineItem& item : format.items_) {
    at = add_text(at, format.text_before(item));
    if (item.kind == ItemKind::kEnd) continue;
    const State after = add_state();
    if (item.kind == ItemKind::kWord) {
      for (std::size_t word = 0; word < item.count; ++word) {
        add_word(at, after, format.words_[item.first + word]);
      }
    } else {
      add_number(at, after, item);
    }
    at = after;
  }
  end_ = add_check(at, format);
}

LineAutomaton::State LineAutomaton::add_state() {
  states_.emplace_back();
  return static_cast<State>(states_.size() - 1);
}

void LineAutomaton::add_edge(State from, State to, unsigned char low, unsigned char high) {
  states_[from].push_back({low, high, to});
}

void LineAutomaton::add_digit_edges(State from, State to, int low, int high, Notation notation) {
  if (low <= 9) {
    add_edge(from, to, static_cast<unsigned char>('0' + low),
             static_cast<unsigned char>('0' + std::min(high, 9)));
  }
  if (high >= 10) {
    const int letter = (notation == Notation::kHexUpper ? 'A' : 'a') - 10;
    add_edge(from, to, static_cast<unsigned char>(letter + std::max(low, 10)),
             static_cast<unsigned char>(letter + high));
  }
}

LineAutomaton::State LineAutomaton::add_text(State from, std::string_view text) {
  for (const char byte : text) {
    const State to = add_state();
    add_edge(from, to, static_cast<unsigned char>(byte), static_cast<unsigned char>(byte));
    from = to;
  }
  return from;
}

void LineAutomaton::add_word(State from, State to, std::string_view word) {
  const State before_last = add_text(from, word.substr(0, word.size() - 1));
  const auto last = static_cast<unsigned char>(word.back());
  add_edge(before_last, to, last, last);
}

// Digit by digit, remembering whether all digits so far are those of `low` or of `high`, for only
// then do they bound the next one.
void LineAutomaton::add_digits(State from, State to, const Digits& digits) {
  if (digits.low > digits.high) return;
  const std::uint64_t base = digits.notation == Notation::kDecimal ? 10 : 16;
  std::uint64_t unit = 1;
  for (int digit = 1; digit < digits.digits; ++digit) unit *= base;
  // states[at_low + 2 * at_high]; kNone where nothing leads there.
  constexpr State kNone = static_cast<State>(-1);
  std::array<State, 4> now{kNone, kNone, kNone, from};
  for (int left = digits.digits; left > 0; --left, unit /= base) {
    if (left == digits.decimals) {
      for (State& state : now) {
        if (state != kNone) state = add_text(state, ".");
      }
    }
    std::array<State, 4> next{kNone, kNone, kNone, kNone};
    for (std::size_t tight = 0; tight < 4; ++tight) {
      if (now[tight] == kNone) continue;
      const int low = tight & 1 ? static_cast<int>(digits.low / unit % base) : 0;
      const int high =
          tight & 2 ? static_cast<int>(digits.high / unit % base) : static_cast<int>(base) - 1;
      for (int digit = low; digit <= high; ++digit) {
        if (left == 1 && digits.last_not_zero && digit == 0) continue;
        const std::size_t into =
            (tight & 1 && digit == low ? 1u : 0u) | (tight & 2 && digit == high ? 2u : 0u);
        if (left > 1 && next[into] == kNone) next[into] = add_state();
        add_digit_edges(now[tight], left == 1 ? to : next[into], digit, digit, digits.notation);
      }
    }
    now = next;
  }
}

// An exact width needs no care here: the builder has seen to it that the whole range fits it.
// All numbers of one sign: one run of digits for each length, and for each count of decimals kept
// where zeros at the end are left out.
void LineAutomaton::add_magnitudes(State from, State to, const LineItem& item, std::uint64_t low,
                                   std::uint64_t high, int width) {
  if (low > high) return;
  const std::uint64_t base = item.notation == Notation::kDecimal ? 10 : 16;
  for (int kept = item.short_decimals ? 0 : item.decimals; kept <= item.decimals; ++kept) {
    const std::uint64_t unit = kPowersOfTen[static_cast<std::size_t>(item.decimals - kept)];
    const std::uint64_t first = (low + unit - 1) / unit;
    const std::uint64_t last = high / unit;
    const int least = std::max({kept + 1, width - (kept > 0 ? 1 : 0), 1});
    const int most = base == 10 ? count_digits(last) : count_hex_digits(last);
    std::uint64_t bound = 1;  // base ^ (length - 1), the least number of that length
    for (int length = 1; length <= std::max(least, most); ++length) {
      const std::uint64_t begin = length == least ? 0 : bound;
      // Beyond eighteen digits there are only zeros in front, and base ^ length would wrap.
      const bool is_last = length >= most;
      if (!is_last) bound *= base;
      if (length < least) continue;
      add_digits(from, to,
                 {.low = std::max(first, begin),
                  .high = is_last ? last : std::min(last, bound - 1),
                  .digits = length,
                  .decimals = kept,
                  .last_not_zero = item.short_decimals && kept > 0,
                  .notation = item.notation});
    }
  }
}

void LineAutomaton::add_number(State from, State to, const LineItem& item) {
  if (item.max >= 0) {
    add_magnitudes(from, to, item, static_cast<std::uint64_t>(std::max<std::int64_t>(item.min, 0)),
                   static_cast<std::uint64_t>(item.max), item.width);
  }
  if (item.min < 0) {
    const State signed_from = add_text(from, "-");
    add_magnitudes(signed_from, to, item,
                   static_cast<std::uint64_t>(std::max<std::int64_t>(-item.max, 1)),
                   static_cast<std::uint64_t>(-item.min), item.width - 1);
  }
}

LineAutomaton::State LineAutomaton::add_check(State from, const LineFormat& format) {
  const CheckItem& check = format.check_;
  if (!check.present) return from;
  const std::string_view literals = format.literals_;
  State at = add_text(from, literals.substr(check.before_at, check.before_bytes));
  const State after = add_state();
  LineItem digits;
  digits.notation = check.notation;
  digits.width = check.digits;
  digits.width_exact = check.digits > 0;
  digits.max = static_cast<std::int64_t>((std::uint64_t{1} << check_bits(check.kind)) - 1);
  add_number(at, after, digits);
  return add_text(after, literals.substr(check.after_at, check.after_bytes));
}

std::optional<std::string> LineAutomaton::find_common_line(const LineAutomaton& one,
                                                           const LineAutomaton& other) {
  const auto pair = [](State a, State b) { return std::uint64_t{a} << 32 | b; };
  Walk walk(pair(0, 0));
  while (!walk.done()) {
    const std::size_t at = walk.next();
    const State a = static_cast<State>(walk.place(at) >> 32);
    const State b = static_cast<State>(walk.place(at));
    if (a == one.end_ && b == other.end_) return walk.way_to(at);
    for (const Edge& left : one.states_[a]) {
      for (const Edge& right : other.states_[b]) {
        const unsigned char low = std::max(left.low, right.low);
        if (low > std::min(left.high, right.high)) continue;
        walk.visit(pair(left.to, right.to), at, static_cast<char>(low));
      }
    }
  }
  return std::nullopt;
}

std::optional<std::string> LineAutomaton::find_marker(std::string_view marker,
                                                      std::string_view ends, bool may_close) const {
  LineAutomaton framed = *this;
  framed.end_ = framed.add_text(framed.end_, ends);
  const auto pair = [](State state, std::size_t matched) {
    return std::uint64_t{state} << 32 | matched;
  };
  Walk walk(pair(0, 0));
  while (!walk.done()) {
    const std::size_t at = walk.next();
    const State state = static_cast<State>(walk.place(at) >> 32);
    const auto matched = static_cast<std::size_t>(walk.place(at) & 0xFFFFFFFF);
    if (matched == marker.size()) {
      if (may_close && state == framed.end_) continue;
      return walk.way_to(at);
    }
    for (const Edge& edge : framed.states_[state]) {
      for (int byte = edge.low; byte <= edge.high; ++byte) {
        const char next = static_cast<char>(byte);
        walk.visit(pair(edge.to, match_on(marker, matched, next)), at, next);
      }
    }
  }
  return std::nullopt;
}

bool LineAutomaton::can_begin_with(std::string_view bytes) const {
  std::vector<State> now{0};
  for (const char byte : bytes) {
    std::vector<State> next;
    for (const State state : now) {
      for (const Edge& edge : states_[state]) {
        const auto value = static_cast<unsigned char>(byte);
        if (edge.low <= value && value <= edge.high) next.push_back(edge.to);
      }
    }
    std::sort(next.begin(), next.end());
    next.erase(std::unique(next.begin(), next.end()), next.end());
    now = std::move(next);
  }
  return !now.empty();
}

bool LineAutomaton::can_begin_with(unsigned char byte) const {
  const char text = static_cast<char>(byte);
  return can_begin_with(std::string_view(&text, 1));
}

}  // namespace understudy::protocol
