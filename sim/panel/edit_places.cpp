// Walks through the text once; everything that TOML allows at a place is passed over by its
// outermost signs alone, for the text has been read as TOML before.
#include "sim/panel/edit_places.h"

#include <algorithm>
#include <map>

#include "sim/panel/node.h"

namespace understudy {
namespace {

constexpr std::size_t kDepthMax = 64;

bool is_blank(char c) {
  return c == ' ' || c == '\t';
}

bool is_bare(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         c == '-';
}

class Walk {
 public:
  explicit Walk(std::string_view text) : text_(text) {}

  [[nodiscard]] bool lost() const { return lost_; }
  [[nodiscard]] bool done() const { return at_ >= text_.size(); }
  [[nodiscard]] std::size_t at() const { return at_; }
  [[nodiscard]] char here() const { return done() ? '\n' : text_[at_]; }
  [[nodiscard]] bool starts(std::string_view sign) const {
    return text_.substr(at_).starts_with(sign);
  }
  void skip(std::size_t bytes) { at_ = std::min(at_ + bytes, text_.size()); }
  void skip_blanks() {
    while (!done() && is_blank(here())) ++at_;
  }
  void skip_line() {
    const std::size_t end = text_.find('\n', at_);
    at_ = end == std::string_view::npos ? text_.size() : end + 1;
  }
  // Inside lists: blanks, lines, comments.
  void skip_between() {
    for (;;) {
      skip_blanks();
      if (done()) return;
      if (here() == '#') {
        skip_line();
      } else if (here() == '\n' || here() == '\r') {
        ++at_;
      } else {
        return;
      }
    }
  }
  bool take(char sign) {
    if (done() || here() != sign) return lose();
    ++at_;
    return true;
  }
  bool lose() {
    lost_ = true;
    return false;
  }

  std::string key_part() {
    if (here() == '"' || here() == '\'') {
      const std::size_t begin = at_;
      pass_text();
      // Escapes in keys are not worth reading: no key of a panel file has any.
      return std::string(text_.substr(begin + 1, at_ < begin + 2 ? 0 : at_ - begin - 2));
    }
    const std::size_t begin = at_;
    while (!done() && is_bare(here())) ++at_;
    if (at_ == begin) lose();
    return std::string(text_.substr(begin, at_ - begin));
  }

  std::vector<std::string> keys(Span& span) {
    std::vector<std::string> parts;
    span.begin = at_;
    do {
      skip_blanks();
      parts.push_back(key_part());
      span.end = at_;
      skip_blanks();
    } while (!lost_ && here() == '.' && (skip(1), true));
    return parts;
  }

  // After the opening quote sign or signs have been seen: to behind the closing.
  void pass_text() {
    const char quote = here();
    const std::string three(3, quote);
    const bool long_text = starts(three);
    skip(long_text ? 3 : 1);
    for (;;) {
      if (done()) {
        lose();
        return;
      }
      if (quote == '"' && here() == '\\') {
        skip(2);
      } else if (long_text && starts(three)) {
        skip(3);
        // Up to two more quotes belong to the text before its end.
        for (int more = 0; more < 2 && !done() && here() == quote; ++more) skip(1);
        return;
      } else if (!long_text && here() == quote) {
        skip(1);
        return;
      } else if (!long_text && here() == '\n') {
        lose();
        return;
      } else {
        skip(1);
      }
    }
  }

  ValuePlace value(std::size_t depth) {
    ValuePlace place;
    place.span.begin = at_;
    if (depth > kDepthMax || done()) {
      lose();
      return place;
    }
    if (here() == '"' || here() == '\'') {
      place.form = ValueForm::kText;
      pass_text();
    } else if (here() == '[') {
      place.form = ValueForm::kList;
      list_items(place, depth);
    } else if (here() == '{') {
      place.form = ValueForm::kTable;
      table_entries(place, depth);
    } else {
      const auto goes_on = [](char c) {
        return !is_blank(c) && c != ',' && c != ']' && c != '}' && c != '#' && c != '\n' &&
               c != '\r';
      };
      while (!done() && goes_on(here())) ++at_;
      if (at_ == place.span.begin) lose();
    }
    place.span.end = at_;
    return place;
  }

  EntryPlace entry(std::size_t depth) {
    EntryPlace entry;
    entry.keys = keys(entry.key);
    entry.equals = at_;
    if (!take('=')) return entry;
    skip_blanks();
    entry.value = value(depth);
    entry.lines = {entry.key.begin, at_};
    return entry;
  }

 private:
  void list_items(ValuePlace& place, std::size_t depth) {
    skip(1);
    for (;;) {
      skip_between();
      if (lost_ || here() == ']') break;
      place.items.push_back(value(depth + 1));
      skip_between();
      if (here() != ',') break;
      skip(1);
    }
    take(']');
  }
  void table_entries(ValuePlace& place, std::size_t depth) {
    skip(1);
    for (;;) {
      skip_between();
      if (lost_ || here() == '}') break;
      place.entries.push_back(entry(depth + 1));
      skip_between();
      if (here() != ',') break;
      skip(1);
    }
    take('}');
  }

  std::string_view text_;
  std::size_t at_ = 0;
  bool lost_ = false;
};

Error not_understood(std::string_view text, std::size_t at) {
  return {ErrorCode::kUnusable, "line " + std::to_string(line_number(text, at)) +
                                    " is written in a way that cannot be edited here; change the "
                                    "file in a text editor"};
}

// Gives headers their place in lists: [[control]] counts up, [control.keys] lies in the last one.
class Headers {
 public:
  TomlPath path_of(const std::vector<std::string>& keys, bool listed) {
    TomlPath path;
    std::string name;
    for (std::size_t i = 0; i < keys.size(); ++i) {
      name += '\n' + keys[i];
      path.push_back({keys[i], 0});
      const bool last = i + 1 == keys.size();
      const auto count = counts_.find(name);
      if (last && listed) {
        const std::size_t index = count == counts_.end() ? 0 : count->second;
        counts_[name] = index + 1;
        path.push_back({"", index});
        std::erase_if(counts_, [&](const auto& one) { return one.first.starts_with(name + '\n'); });
      } else if (count != counts_.end()) {
        path.push_back({"", count->second - 1});
      }
    }
    return path;
  }

 private:
  std::map<std::string, std::size_t> counts_;
};

std::size_t line_begin(std::string_view text, std::size_t at) {
  if (at == 0) return 0;
  const std::size_t end = text.rfind('\n', at - 1);
  return end == std::string_view::npos ? 0 : end + 1;
}

// The line that begins at `at`, without its end and the blanks around it.
std::string_view line_at(std::string_view text, std::size_t at) {
  std::string_view line = text.substr(at, text.find('\n', at) - at);
  while (!line.empty() && (is_blank(line.back()) || line.back() == '\r')) line.remove_suffix(1);
  while (!line.empty() && is_blank(line.front())) line.remove_prefix(1);
  return line;
}

std::size_t next_line(std::string_view text, std::size_t at) {
  const std::size_t end = text.find('\n', at);
  return end == std::string_view::npos ? text.size() : end + 1;
}

bool is_comment_line(std::string_view text, std::size_t at) {
  return at < text.size() && line_at(text, at).starts_with('#');
}

std::size_t column_of(std::string_view text, std::size_t at) {
  return at - line_begin(text, at);
}

// A header or an entry: all that begins a line but comments and blanks.
bool take_statement(Walk& walk, std::string_view text, Headers& headers, TextPlaces& places) {
  const std::size_t begin = line_begin(text, walk.at());
  if (walk.here() == '[') {
    BlockPlace block;
    block.listed = walk.starts("[[");
    walk.skip(block.listed ? 2 : 1);
    Span span;
    const std::vector<std::string> keys = walk.keys(span);
    if (!walk.take(']') || (block.listed && !walk.take(']'))) return false;
    block.path = headers.path_of(keys, block.listed);
    walk.skip_line();
    block.header = {begin, walk.at()};
    places.blocks.back().end = begin;
    places.blocks.push_back(std::move(block));
    return true;
  }
  EntryPlace entry = walk.entry(0);
  if (walk.lost()) return false;
  walk.skip_blanks();
  if (walk.here() == '#')
    entry.comment = walk.at();
  else if (walk.here() != '\n' && walk.here() != '\r')
    return walk.lose();
  walk.skip_line();
  entry.lines = {begin, walk.at()};
  places.blocks.back().entries.push_back(std::move(entry));
  return true;
}

}  // namespace

std::string path_text(const TomlPath& path) {
  std::string text;
  for (const PathStep& step : path) {
    if (step.key.empty())
      text += "[" + std::to_string(step.index + 1) + "]";
    else
      text += (text.empty() ? "" : ".") + step.key;
  }
  return text;
}

Result<TextPlaces> find_places(std::string_view text) {
  if (const Result<Node> tree = parse_tree(text, "file"); !tree.ok()) {
    return Error{ErrorCode::kUnusable,
                 "the file cannot be edited here while it is not TOML; mend this first: " +
                     tree.error().text};
  }
  TextPlaces places;
  const std::size_t first = text.find('\n');
  places.line_end =
      first != std::string_view::npos && first > 0 && text[first - 1] == '\r' ? "\r\n" : "\n";
  places.blocks.emplace_back();
  Walk walk(text);
  Headers headers;
  if (walk.starts("\xEF\xBB\xBF")) walk.skip(3);
  for (;;) {
    walk.skip_between();
    if (walk.done()) break;
    if (!take_statement(walk, text, headers, places)) return not_understood(text, walk.at());
  }
  places.blocks.back().end = text.size();
  return places;
}

Result<ValuePlace> find_value(std::string_view text) {
  Walk walk(text);
  ValuePlace value = walk.value(0);
  if (walk.lost() || !walk.done()) {
    return Error{ErrorCode::kUnusable,
                 "found " + std::string(text) +
                     ", expected one value: a text in quotes, a number, true or false, a list in "
                     "[ ] or a table in { }"};
  }
  return value;
}

int line_number(std::string_view text, std::size_t at) {
  at = std::min(at, text.size());
  return 1 + static_cast<int>(
                 std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

std::size_t entry_end(std::string_view text, const EntryPlace& entry) {
  std::size_t at = entry.lines.end;
  if (entry.comment == std::string_view::npos) return at;
  const std::size_t column = column_of(text, entry.comment);
  while (is_comment_line(text, at) && column > 0 && text.find('#', at) - at == column)
    at = next_line(text, at);
  return at;
}

std::size_t own_end(std::string_view text, const BlockPlace& block) {
  const std::size_t sure = block.entries.empty() ? std::min(block.header.end, block.end)
                                                 : entry_end(text, block.entries.back());
  std::size_t at = sure;
  while (at < block.end && is_comment_line(text, at)) at = next_line(text, at);
  const bool next_ones = at >= block.end && block.end < text.size();
  return next_ones ? sure : at;
}

std::size_t own_begin(std::string_view text, const BlockPlace& block) {
  std::size_t at = block.header.begin;
  while (at > 0) {
    const std::size_t before = line_begin(text, at - 1);
    // What goes on in the column of an entry's comment is that entry's.
    if (!is_comment_line(text, before) || is_blank(text[before])) break;
    at = before;
  }
  return at;
}

}  // namespace understudy
