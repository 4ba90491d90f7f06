// Edits of a panel file's text: text in, text out. Comments, order, blank lines, line ends and
// everything that an edit does not mean to change stay byte for byte. Each edit proves itself: the
// new text is read as TOML and must mean exactly what the old one meant with this one change, or
// else it is refused with kUnusable and nothing is changed. Whether it then is a right panel is
// asked by check_edit(). What parts and lines are made of stands in edit_parts.h and edit_lines.h.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/base/result.h"
#include "sim/panel/edit_places.h"
#include "sim/panel/parse.h"

namespace understudy {

// A table of the file: {"control", 2} is the third [[control]], {"face"} the table face, {} the
// top. Not listed: index is 0 and means nothing.
struct TableRef {
  std::string table;
  std::size_t index = 0;
  friend bool operator==(const TableRef&, const TableRef&) = default;
};

// Sets a key of a table; `key` may lead into sub-tables: "keys.hold". `value` is what stands to the
// right of the =, one value. An existing value is replaced where it stands and its comment stays in
// its column; a new one becomes a line behind the table's last, its = in their column, or goes into
// the table's { }. A table that is not there is made: inside of another as { }, else as [table] at
// the end.
Result<std::string> set_key(std::string_view text, const TableRef& table, std::string_view key,
                            std::string_view value);

// Takes a key out, with its line and the comment behind it (also where that goes on in the lines
// below, in the same column). The last key of a { } takes its { } along. A key that is not there is
// no error.
Result<std::string> remove_key(std::string_view text, const TableRef& table, std::string_view key);

using KeyValues = std::vector<std::pair<std::string, std::string>>;

// Adds [[list]] with these keys behind the last of its kind, with a blank line before it where its
// neighbours have one; the first of its kind goes behind the last block that usually stands before
// it (controls, outputs, lines, answers).
Result<std::string> add_block(std::string_view text, std::string_view list, const KeyValues& keys);

// Takes [[list]] number `index` out, with its sub-tables, the comments in it and right below it,
// and those right above its header without a blank line between; comments with a blank line around
// them (such as the heading of a section) stay.
Result<std::string> remove_block(std::string_view text, const TableRef& block);

// Puts a copy right behind it, without the comments above its header.
Result<std::string> duplicate_block(std::string_view text, const TableRef& block);

// Replaces the text that stands at a key by `raw`, which is TOML with its quotes. `decoded` is what
// it must mean.
Result<std::string> replace_text(std::string_view text, const TableRef& table, std::string_view key,
                                 std::string_view raw, std::string_view decoded);

// What stands at a key as it is written, quotes included; empty where there is nothing.
std::string raw_value(std::string_view text, const TableRef& table, std::string_view key);

// How many [[list]] there are; 0 also where the text is no TOML.
std::size_t count_blocks(std::string_view text, std::string_view list);

// The lines that a block, or the value of a key, stands in, from 1; {0, 0} where it is not there.
struct LineRange {
  int first = 0;
  int last = 0;
};
LineRange lines_of_block(std::string_view text, const TableRef& block);

// A wrong file may be edited (for example mended), a right one must stay right. Errors: kUnusable,
// with the mistakes that the edit would make. `beside` reads the files that sensors name.
Result<Done> check_edit(std::string_view before, std::string_view after, std::string_view file_name,
                        const ReadBeside& beside = {});

}  // namespace understudy
