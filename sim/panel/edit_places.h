// Where everything stands in the text of a panel file, byte for byte: blocks, entries, values,
// comments. For edits that change one place and leave the rest as it is; what values mean is left
// to node.h.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"

namespace understudy {

struct Span {
  std::size_t begin = 0;
  std::size_t end = 0;
  [[nodiscard]] std::size_t size() const { return end - begin; }
  friend bool operator==(const Span&, const Span&) = default;
};

// The way to a value from the top of the file: keys, and places in lists.
struct PathStep {
  std::string key;        // empty: `index` counts
  std::size_t index = 0;  // from 0
  friend bool operator==(const PathStep&, const PathStep&) = default;
};
using TomlPath = std::vector<PathStep>;
// "control[2].keys.hold", with places counted from 1 as people do.
std::string path_text(const TomlPath& path);

struct EntryPlace;

enum class ValueForm : std::uint8_t { kPlain, kText, kList, kTable };

struct ValuePlace {
  ValueForm form = ValueForm::kPlain;
  Span span;
  std::vector<ValuePlace> items;    // kList
  std::vector<EntryPlace> entries;  // kTable
};

// KEY = VALUE, in a block or in an inline table.
struct EntryPlace {
  std::vector<std::string> keys;  // more than one where dotted
  Span key;
  std::size_t equals = 0;  // of the =
  ValuePlace value;
  Span lines;  // in a block: whole lines, with their end; else key and value
  std::size_t comment = std::string_view::npos;  // of the # behind it, in a block
};

// What stands from one header to the next; the first block has none.
struct BlockPlace {
  TomlPath path;
  bool listed = false;  // [[ ]]
  Span header;          // whole line; empty for the first block
  std::size_t end = 0;  // where the next header's line begins, or the end of the text
  std::vector<EntryPlace> entries;
};

struct TextPlaces {
  std::vector<BlockPlace> blocks;  // at least the one before the first header
  std::string line_end;            // "\n" or "\r\n": as the first line has it
};

// Errors: kUnusable where the text is no TOML, with what is wrong, or where something is written in
// a way that is not understood here.
Result<TextPlaces> find_places(std::string_view text);

// The one value that `text` consists of. Errors: kUnusable where it is none or more than one.
Result<ValuePlace> find_value(std::string_view text);

// The line that byte `at` stands in, from 1.
int line_number(std::string_view text, std::size_t at);

// Behind the last line that belongs to the block: its last entry and the comments that lie right
// below it, but not those that lie right above the next header, nor what follows a blank line.
std::size_t own_end(std::string_view text, const BlockPlace& block);
// The first of the comment lines right above a header, or the header's own line.
std::size_t own_begin(std::string_view text, const BlockPlace& block);
// Behind an entry's lines and the comments that go on below it in the column of its own.
std::size_t entry_end(std::string_view text, const EntryPlace& entry);

}  // namespace understudy
