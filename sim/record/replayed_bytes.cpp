// Cuts the recorded stream into lines where there are some to wait, and else passes it through.
#include "sim/record/replayed_bytes.h"

#include <algorithm>
#include <utility>

namespace understudy {
namespace {

// More would be an hour of a box that nobody asks; the oldest makes room.
constexpr std::size_t kWaitingLinesMax = 10'000;

protocol::Framing framing_to_panel(const Panel& panel) {
  // Such a program takes each byte for a word, whatever ends the game puts between.
  if (panel.description.manners.parse == Parsing::kOneLetter) return {.starts = "", .ends = ""};
  return panel.to_panel_framing;
}

}  // namespace

ReplayedBytes::ReplayedBytes(std::shared_ptr<const Panel> panel) {
  begin(std::move(panel));
}

void ReplayedBytes::begin(std::shared_ptr<const Panel> panel) {
  panel_ = std::move(panel);
  has_asked_ =
      std::any_of(panel_->game_formats.begin(), panel_->game_formats.end(),
                  [](const GameFormat& format) { return format.send.mode == SendMode::kAsked; });
  to_game_ = protocol::Splitter(panel_->to_game_framing);
  recorded_to_panel_ = protocol::Splitter(framing_to_panel(*panel_));
  to_panel_ = protocol::Splitter(framing_to_panel(*panel_));
  uncut_from_ = 0;
  asked_.assign(panel_->game_formats.size(), {});
}

void ReplayedBytes::recorded_panel(std::shared_ptr<const Panel> panel) {
  recorded_end();
  if (panel == panel_) return;
  begin(std::move(panel));
}

void ReplayedBytes::recorded_to_game(Instant at, std::string_view bytes) {
  if (!has_asked_) {
    ready_.push_back({at, std::string(bytes), true});
    return;
  }
  uncut_.push_back({at, std::string(bytes)});
  to_game_.push(bytes, [this](const protocol::SplitLine& line) {
    std::optional<std::size_t> asked;
    if (line.kind == protocol::LineKind::kWhole) {
      const std::int32_t format = panel_->to_game.classify(line.text);
      const auto place = static_cast<std::size_t>(format);
      if (format != protocol::kUnknownLine &&
          panel_->game_formats[place].send.mode == SendMode::kAsked)
        asked = place;
    }
    cut_out(line.first_byte, true, std::nullopt);
    cut_out(line.last_byte + 1, true, asked);
  });
}

// Takes what stands before `end` in the stream out of what is uncut.
void ReplayedBytes::cut_out(std::uint64_t end, bool ends_line, std::optional<std::size_t> asked) {
  AskedLine line;
  while (uncut_from_ < end && !uncut_.empty()) {
    Uncut& first = uncut_.front();
    const std::size_t count =
        static_cast<std::size_t>(std::min<std::uint64_t>(first.bytes.size(), end - uncut_from_));
    uncut_from_ += count;
    line.at = first.at;
    if (asked)
      line.bytes += first.bytes.substr(0, count);
    else
      ready_.push_back({first.at, first.bytes.substr(0, count), ends_line && uncut_from_ == end});
    first.bytes.erase(0, count);
    if (first.bytes.empty()) uncut_.pop_front();
  }
  if (!asked) return;
  Asked& of_format = asked_[*asked];
  if (of_format.recorded) line.after = line.at - *of_format.recorded;
  of_format.recorded.reset();
  of_format.lines.push_back(std::move(line));
  if (of_format.lines.size() > kWaitingLinesMax) {
    of_format.lines.pop_front();
    ++never_asked_;
  }
  answer(of_format);
}

void ReplayedBytes::recorded_end() {
  while (!uncut_.empty()) {
    ready_.push_back({uncut_.front().at, std::move(uncut_.front().bytes), uncut_.size() == 1});
    uncut_.pop_front();
  }
  to_game_ = protocol::Splitter(panel_->to_game_framing);
  recorded_to_panel_ = protocol::Splitter(framing_to_panel(*panel_));
  uncut_from_ = 0;
  for (Asked& asked : asked_) asked.recorded.reset();
}

void ReplayedBytes::recorded_from_game(Instant at, std::string_view bytes) {
  if (has_asked_) note_askings(recorded_to_panel_, at, bytes, &Asked::recorded);
}

void ReplayedBytes::heard(Instant at, std::string_view bytes) {
  if (!has_asked_) return;
  note_askings(to_panel_, at, bytes, &Asked::now);
  for (Asked& asked : asked_) answer(asked);
}

void ReplayedBytes::note_askings(protocol::Splitter& splitter, Instant at, std::string_view bytes,
                                 Askings which) {
  splitter.push(bytes, [&](const protocol::SplitLine& line) {
    std::string_view text = line.text;
    while (text.ends_with('\r')) text.remove_suffix(1);
    for (std::size_t i = 0; i < asked_.size(); ++i) {
      const SendDescription& send = panel_->game_formats[i].send;
      if (send.mode != SendMode::kAsked || send.asked != text) continue;
      if (!(asked_[i].*which)) asked_[i].*which = at;
    }
  });
}

// Where both an asking and a line are there.
void ReplayedBytes::answer(Asked& asked) {
  if (!asked.now || asked.lines.empty()) return;
  AskedLine& line = asked.lines.front();
  TimedPiece piece{later(*asked.now + line.after, line.at), std::move(line.bytes)};
  asked.lines.pop_front();
  asked.now.reset();
  const auto place =
      std::upper_bound(answers_.begin(), answers_.end(), piece.at,
                       [](Instant at, const TimedPiece& other) { return at < other.at; });
  answers_.insert(place, std::move(piece));
}

Instant ReplayedBytes::next_due() const {
  Instant due = ready_.empty() ? kNever : ready_.front().at;
  if (!answers_.empty() && !(within_line_ && !ready_.empty()))
    due = earlier(due, answers_.front().at);
  return due;
}

void ReplayedBytes::take_due(Instant until, std::vector<TimedPiece>& into) {
  const auto take_answers = [&](Instant before) {
    for (; !answers_.empty() && answers_.front().at <= before; answers_.pop_front()) {
      answers_.front().at =
          into.empty() ? answers_.front().at : later(answers_.front().at, into.back().at);
      into.push_back(std::move(answers_.front()));
    }
  };
  for (; !ready_.empty() && ready_.front().at <= until; ready_.pop_front()) {
    Ready& next = ready_.front();
    if (!within_line_) take_answers(next.at);
    within_line_ = !next.ends_line;
    if (!into.empty() && into.back().at == next.at)
      into.back().bytes += next.bytes;  // one chunk again
    else
      into.push_back({next.at, std::move(next.bytes)});
  }
  if (!within_line_ || ready_.empty()) take_answers(until);
}

}  // namespace understudy
