// Cuts the stream into lines all the time, so that it knows where one begins when a hand takes
// hold.
#include "sim/session/rewriter.h"

#include <algorithm>

#include "sim/model/kinds.h"

namespace understudy {

using protocol::SplitLine;

Rewriter::Rewriter(std::shared_ptr<const Panel> panel)
    : panel_(std::move(panel)),
      splitter_(panel_->to_game_framing),
      numbers_(panel_->to_game_fields.size()) {}

bool Rewriter::holds(std::size_t control, std::size_t part) const {
  return std::any_of(held_.begin(), held_.end(), [&](const auto& held) {
    return held.first == control && held.second == part;
  });
}

void Rewriter::hold(std::size_t control, std::size_t part) {
  if (holds(control, part)) return;
  held_.emplace_back(static_cast<std::uint16_t>(control), static_cast<std::uint8_t>(part));
  find_fields();
}

void Rewriter::let_go(std::size_t control, std::size_t part, std::string& out) {
  std::erase_if(held_,
                [&](const auto& held) { return held.first == control && held.second == part; });
  find_fields();
  if (held_.empty()) flush(0, out);
}

void Rewriter::let_go_of_all(std::string& out) {
  held_.clear();
  fields_.clear();
  flush(0, out);
}

// A part that a hand moves is in lines by the same name; a control without named parts has all of
// its fields moved at once.
void Rewriter::find_fields() {
  fields_.clear();
  for (std::size_t field = 0; field < panel_->to_game_sources.size(); ++field) {
    const FieldSource& source = panel_->to_game_sources[field];
    const ControlDescription& control = panel_->description.controls[source.part_of];
    const std::string_view in_lines = line_parts(control)[source.part];
    const bool held = std::any_of(held_.begin(), held_.end(), [&](const auto& one) {
      if (one.first != source.part_of) return false;
      const std::string_view by_hand = hand_parts(control)[one.second].name;
      return by_hand.empty() || by_hand == in_lines;
    });
    if (held) fields_.push_back(field);
  }
}

void Rewriter::take(std::string_view bytes, const Number& number, std::string& out) {
  if (passes_unaltered()) {
    splitter_.push(bytes, [](const SplitLine&) {});
    passed_ += bytes.size();
    out += bytes;
    return;
  }
  while (!bytes.empty()) {
    const std::string_view before = bytes;
    SplitLine line;
    const bool ended = splitter_.take(bytes, line);
    kept_ += before.substr(0, before.size() - bytes.size());
    if (ended) pass(line, number, out);
  }
  // Between lines nothing is waited for, but for what may be the beginning of a start marker.
  const auto longest = static_cast<std::size_t>(panel_->to_game_framing.longest);
  if (splitter_.part_bytes() == 0)
    flush(begun_start(), out);
  else if (kept_.size() > longest)
    flush(0, out);
}

// The line's bytes stand in what was kept back, unless its beginning has passed already.
void Rewriter::pass(const SplitLine& line, const Number& number, std::string& out) {
  const std::uint64_t end = line.last_byte + 1;
  if (line.first_byte >= passed_) {
    const auto first = static_cast<std::size_t>(line.first_byte - passed_);
    const auto size = static_cast<std::size_t>(end - line.first_byte);
    const std::string whole = kept_.substr(first, size);
    out.append(kept_, 0, first);
    if (!write_anew(whole, line, number, out)) out += whole;
    kept_.erase(0, first + size);
    passed_ = end;
  } else {
    const auto size = static_cast<std::size_t>(end - passed_);
    flush(kept_.size() - std::min(kept_.size(), size), out);
  }
}

bool Rewriter::write_anew(std::string_view whole, const SplitLine& line, const Number& number,
                          std::string& out) {
  if (line.kind != protocol::LineKind::kWhole) return false;
  protocol::BuiltIns built_ins;
  const protocol::Match match = panel_->to_game.match(line.text, numbers_, &built_ins);
  if (!match.ok()) return false;
  const protocol::LineFormat& format =
      panel_->to_game.format(static_cast<std::size_t>(match.format));
  bool carries = false;
  for (const std::size_t field : fields_) {
    if (!format.carries(field)) continue;
    numbers_[field] = number(field);
    carries = true;
  }
  if (!carries) return false;
  std::string text(format.line_bytes_max(), '\0');
  text.resize(format.encode(numbers_, built_ins, text));
  const std::size_t starts = panel_->to_game_framing.starts.size();
  if (text.empty() || whole.size() < starts + line.text.size()) return false;
  out += whole.substr(0, starts);
  out += text;
  out += whole.substr(starts + line.text.size());
  return true;
}

// Lets all go on but for the last `keep` bytes.
void Rewriter::flush(std::size_t keep, std::string& out) {
  const std::size_t count = kept_.size() - std::min(keep, kept_.size());
  out.append(kept_, 0, count);
  kept_.erase(0, count);
  passed_ += count;
}

std::size_t Rewriter::begun_start() const {
  const std::string& starts = panel_->to_game_framing.starts;
  for (std::size_t size = std::min(kept_.size(), starts.empty() ? 0 : starts.size() - 1); size > 0;
       --size)
    if (kept_.ends_with(std::string_view(starts).substr(0, size))) return size;
  return 0;
}

void Rewriter::begin_anew() {
  passed_ += kept_.size();
  kept_.clear();
  splitter_.forget_part();
}

void Rewriter::reload(std::shared_ptr<const Panel> panel, std::string& out) {
  let_go_of_all(out);
  *this = Rewriter(std::move(panel));
}

}  // namespace understudy
