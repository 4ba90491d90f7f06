// Splits, matches, counts.
#include "sim/observe/traffic.h"

#include <algorithm>
#include <utility>

#include "sim/base/text.h"

namespace understudy {
namespace {

constexpr std::size_t kShownBytesMax = 160;
constexpr std::size_t kHeadBytesMax = 24;

}  // namespace

Traffic::Traffic(const protocol::Framing& framing, std::size_t field_count,
                 std::vector<std::string> known)
    : splitter_(framing), known_(std::move(known)), numbers_(field_count) {}

void Traffic::change_formats(const protocol::Framing& framing, std::size_t field_count,
                             std::vector<std::string> known) {
  splitter_ = protocol::Splitter(framing);
  known_ = std::move(known);
  numbers_.assign(field_count, 0);
  last_unknown_.clear();
}

void Traffic::begin_anew() {
  splitter_.forget_part();
  last_unknown_.clear();
}

std::string_view Traffic::unfinished_head() const {
  return splitter_.part().substr(0, kHeadBytesMax);
}

void Traffic::add(Instant t, std::string_view bytes, const protocol::Matcher& formats,
                  const LineSink& sink) {
  counts_.bytes += static_cast<std::int64_t>(bytes.size());
  bytes_.add(t, static_cast<std::int64_t>(bytes.size()));
  last_byte_at_ = t;
  if (splitter_.part_bytes() == 0) unfinished_since_ = t;
  splitter_.push(bytes, [&](const protocol::SplitLine& line) {
    const SeenLine seen = take(t, line, formats);
    if (sink) sink(seen);
  });
}

SeenLine Traffic::take(Instant t, const protocol::SplitLine& line,
                       const protocol::Matcher& formats) {
  SeenLine seen = {.began = unfinished_since_, .ended = t, .text = line.text, .numbers = numbers_};
  unfinished_since_ = t;
  lines_.add(t, 1);
  if (line.kind != protocol::LineKind::kWhole) {
    ++counts_.broken;
    seen.sort = line.kind == protocol::LineKind::kTooLong ? LineSort::kTooLong : LineSort::kStray;
    return seen;
  }
  const bool is_said = std::find(known_.begin(), known_.end(), line.text) != known_.end();
  if (!is_said) seen.format = formats.match(line.text, numbers_).format;
  if (is_said || seen.format != protocol::kUnknownLine) {
    ++counts_.known;
    last_known_at_ = t;
    seen.sort = is_said ? LineSort::kSaid : LineSort::kRead;
    return seen;
  }
  ++counts_.unknown;
  last_unknown_.assign(line.text.substr(0, kShownBytesMax));
  seen.sort = LineSort::kUnknown;
  return seen;
}

std::string Traffic::explain(std::string_view line, const protocol::Matcher& formats) const {
  if (formats.size() == 0) {
    std::string text = "this panel takes no lines";
    for (std::size_t i = 0; i < known_.size(); ++i)
      text += (i == 0 ? " but \"" : " and \"") + printable(known_[i]) + "\"";
    return text;
  }
  return formats.sentence(formats.explain(line), line);
}

}  // namespace understudy
