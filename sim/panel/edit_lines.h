// Edits of the text of a [[line]]: its fields by number, and the names in them. The rules are those
// of edit.h; how templates are written is docs/line-format.md.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/panel/edit_places.h"

namespace understudy {

// A template in pieces, in order: what stands in { } and what stands between.
struct TemplatePiece {
  bool field = false;
  std::string text;  // with its braces
  Span span;
};
// Works on the text as it means and as it is written in the file alike. What has no closing brace
// is one piece of text.
std::vector<TemplatePiece> template_pieces(std::string_view text);
// Only the fields, each with its braces: "{bell}", "{bits low first: a b}".
std::vector<std::string> template_fields(std::string_view text);

// Whether a field (with its braces) speaks of a control or output: {bell}, {bell.x:4}, {bits ...}.
bool field_speaks_of(std::string_view field, std::string_view name);
// The same template with another name in its fields.
std::string template_renamed(std::string_view text, std::string_view from, std::string_view to);
// The field without `name` among its bits; "" where nothing is left of it.
std::string field_without(std::string_view field, std::string_view name);

// Puts a field, with its braces, in as number `at` (0: before all; the number of fields: behind the
// last), with what stands between its neighbours, or else a comma.
Result<std::string> add_field(std::string_view text, std::size_t line, std::size_t at,
                              std::string_view field);
// Takes a field out, with what stands before it (of the first: behind it).
Result<std::string> remove_field(std::string_view text, std::size_t line, std::size_t at);
// Puts another field in its place.
Result<std::string> change_field(std::string_view text, std::size_t line, std::size_t at,
                                 std::string_view field);
// The fields between change places, what stands between them stays where it is.
Result<std::string> move_field(std::string_view text, std::size_t line, std::size_t from,
                               std::size_t to);

}  // namespace understudy
