// Every edit is done twice: to the text as it is written and to what it means; replace_text() holds
// one against the other.
#include "sim/panel/edit_lines.h"

#include <algorithm>
#include <functional>
#include <optional>

#include "sim/panel/edit.h"
#include "sim/panel/node.h"

namespace understudy {
namespace {

bool goes_on(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         c == '-';
}

// The names in a field, as places in it.
std::vector<Span> names_in(std::string_view field) {
  std::vector<Span> names;
  std::size_t at = 1;
  const bool bits = field.starts_with("{bits ");
  if (bits) {
    const std::size_t colon = field.find(':');
    if (colon == std::string_view::npos) return names;
    at = colon + 1;
  }
  while (at < field.size()) {
    const char c = field[at];
    if (c == ':' || c == '}' || c == '#') break;
    if (!goes_on(c)) {
      ++at;
      continue;
    }
    std::size_t end = at;
    while (end < field.size() && goes_on(field[end])) ++end;
    names.push_back({at, end});
    if (!bits) break;
    while (end < field.size() && (field[end] == '.' || goes_on(field[end]))) ++end;
    at = end;
  }
  return names;
}

// How a text is written: what is before and behind it, and the text.
struct Written {
  std::string open;
  std::string inner;
  std::string close;
};

Written taken_apart(const std::string& raw) {
  std::size_t quotes = raw.starts_with("\"\"\"") || raw.starts_with("'''") ? 3 : 1;
  if (raw.size() < 2 * quotes) quotes = 1;
  std::size_t begin = quotes;
  if (quotes == 3 && raw.substr(begin).starts_with("\r\n"))
    begin += 2;
  else if (quotes == 3 && raw.substr(begin).starts_with("\n"))
    begin += 1;
  return {raw.substr(0, begin), raw.substr(begin, raw.size() - quotes - begin),
          raw.substr(raw.size() - quotes)};
}

using Pieces = std::vector<TemplatePiece>;
// Changes the pieces; false where there is no such field.
using Change = std::function<bool(Pieces& pieces)>;

std::string put_together(const Pieces& pieces) {
  std::string text;
  for (const TemplatePiece& piece : pieces) text += piece.text;
  return text;
}

std::optional<std::size_t> piece_of(const Pieces& pieces, std::size_t field) {
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (!pieces[i].field) continue;
    if (field == 0) return i;
    --field;
  }
  return std::nullopt;
}

// Of a text between two fields, what does not belong to how it is broken over lines.
bool breaks_line(const std::string& text) {
  return text.find('\n') != std::string::npos;
}
std::string only_break(const std::string& text) {
  const std::size_t slash = text.find('\\');
  return slash == std::string::npos || !breaks_line(text) ? "" : text.substr(slash);
}
std::string without_break(const std::string& text) {
  return breaks_line(text) ? text.substr(0, std::min(text.find('\\'), text.size())) : text;
}

Result<std::string> changed(std::string_view text, std::size_t line, const Change& change) {
  const TableRef table{"line", line};
  const std::string what = "line " + std::to_string(line + 1);
  const Result<Node> root = parse_tree(text, "file");
  if (!root.ok()) return root.error();
  const Node* lines = root.value().find("line");
  const Node* node =
      lines != nullptr && line < lines->items.size() ? lines->items[line].find("text") : nullptr;
  if (node == nullptr || node->kind != NodeKind::kText)
    return Error{ErrorCode::kUnusable, what + " of the file has no text; give it one first"};
  Written written = taken_apart(raw_value(text, table, "text"));
  Pieces raw = template_pieces(written.inner);
  Pieces meant = template_pieces(node->text);
  if (!change(raw) || !change(meant))
    return Error{ErrorCode::kUnusable, what + " has no such field"};
  return replace_text(text, table, "text", written.open + put_together(raw) + written.close,
                      put_together(meant));
}

TemplatePiece as_piece(std::string_view field) {
  return {true, std::string(field), {}};
}

bool put_in(Pieces& pieces, std::size_t at, std::string_view field) {
  std::size_t fields = 0;
  for (const TemplatePiece& piece : pieces) fields += piece.field ? 1 : 0;
  if (at > fields) return false;
  if (fields == 0) {
    pieces.push_back(as_piece(field));
    return true;
  }
  // What stands between two neighbours, the nearest ones.
  std::string between = ",";
  if (fields > 1) {
    const std::size_t second = std::clamp<std::size_t>(at, 1, fields - 1);
    const std::size_t left = *piece_of(pieces, second - 1);
    const std::size_t right = *piece_of(pieces, second);
    between = right > left + 1 ? without_break(pieces[left + 1].text) : "";
  }
  const TemplatePiece literal{false, between, {}};
  const auto where = [&pieces](std::size_t i) {
    return pieces.begin() + static_cast<std::ptrdiff_t>(i);
  };
  if (at == 0)
    pieces.insert(where(*piece_of(pieces, 0)), {as_piece(field), literal});
  else
    pieces.insert(where(*piece_of(pieces, at - 1) + 1), {literal, as_piece(field)});
  return true;
}

bool take_out(Pieces& pieces, std::size_t at) {
  const auto here = piece_of(pieces, at);
  if (!here) return false;
  const auto next = piece_of(pieces, at + 1);
  std::size_t literal = pieces.size();
  if (at > 0 && *here > 0 && !pieces[*here - 1].field)
    literal = *here - 1;
  else if (at == 0 && next && !pieces[*here + 1].field)
    literal = *here + 1;
  if (literal < pieces.size()) pieces[literal].text = only_break(pieces[literal].text);
  pieces[*here].text.clear();
  return true;
}

}  // namespace

std::vector<TemplatePiece> template_pieces(std::string_view text) {
  std::vector<TemplatePiece> pieces;
  std::size_t begin = 0;  // of the text before the next field
  const auto close_text = [&](std::size_t end) {
    if (end > begin)
      pieces.push_back({false, std::string(text.substr(begin, end - begin)), {begin, end}});
  };
  for (std::size_t at = 0; at < text.size();) {
    if (text[at] != '{' || text.substr(at).starts_with("{{")) {
      at += text[at] == '{' ? 2 : 1;
      continue;
    }
    const std::size_t close = text.find('}', at);
    if (close == std::string_view::npos) break;
    close_text(at);
    pieces.push_back({true, std::string(text.substr(at, close + 1 - at)), {at, close + 1}});
    at = begin = close + 1;
  }
  close_text(text.size());
  return pieces;
}

std::vector<std::string> template_fields(std::string_view text) {
  std::vector<std::string> fields;
  for (TemplatePiece& piece : template_pieces(text))
    if (piece.field) fields.push_back(std::move(piece.text));
  return fields;
}

bool field_speaks_of(std::string_view field, std::string_view name) {
  const std::vector<Span> names = names_in(field);
  return std::any_of(names.begin(), names.end(),
                     [&](Span span) { return field.substr(span.begin, span.size()) == name; });
}

std::string template_renamed(std::string_view text, std::string_view from, std::string_view to) {
  std::string out;
  for (TemplatePiece& piece : template_pieces(text)) {
    std::vector<Span> names;
    if (piece.field) names = names_in(piece.text);
    std::reverse(names.begin(), names.end());
    for (const Span span : names)
      if (std::string_view(piece.text).substr(span.begin, span.size()) == from)
        piece.text.replace(span.begin, span.size(), to);
    out += piece.text;
  }
  return out;
}

std::string field_without(std::string_view field, std::string_view name) {
  if (!field_speaks_of(field, name)) return std::string(field);
  std::string out(field);
  std::vector<Span> names = names_in(field);
  std::reverse(names.begin(), names.end());
  for (Span span : names) {
    if (field.substr(span.begin, span.size()) != name) continue;
    while (span.end < field.size() && (field[span.end] == '.' || goes_on(field[span.end])))
      ++span.end;
    if (span.begin > 0 && field[span.begin - 1] == ' ') --span.begin;
    out.erase(span.begin, span.size());
  }
  return names_in(out).empty() || !field.starts_with("{bits ") ? "" : out;
}

Result<std::string> add_field(std::string_view text, std::size_t line, std::size_t at,
                              std::string_view field) {
  return changed(text, line, [&](Pieces& pieces) { return put_in(pieces, at, field); });
}

Result<std::string> remove_field(std::string_view text, std::size_t line, std::size_t at) {
  return changed(text, line, [&](Pieces& pieces) { return take_out(pieces, at); });
}

Result<std::string> change_field(std::string_view text, std::size_t line, std::size_t at,
                                 std::string_view field) {
  return changed(text, line, [&](Pieces& pieces) {
    const auto here = piece_of(pieces, at);
    if (here) pieces[*here].text = field;
    return here.has_value();
  });
}

Result<std::string> move_field(std::string_view text, std::size_t line, std::size_t from,
                               std::size_t to) {
  return changed(text, line, [&](Pieces& pieces) {
    if (!piece_of(pieces, from) || !piece_of(pieces, to)) return false;
    const int step = from < to ? 1 : -1;
    for (std::size_t at = from; at != to; at += static_cast<std::size_t>(step))
      std::swap(pieces[*piece_of(pieces, at)].text,
                pieces[*piece_of(pieces, at + static_cast<std::size_t>(step))].text);
    return true;
  });
}

}  // namespace understudy
