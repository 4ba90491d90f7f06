// Finds values of a panel file by their path, however they are written: in blocks, behind dotted
// keys, in inline tables and in lists. Shared by the edits.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/panel/edit.h"
#include "sim/panel/edit_places.h"

namespace understudy {

// {"control", 2} and "keys.hold" -> control[2].keys.hold
TomlPath path_of(const TableRef& table, std::string_view key);

struct FoundEntry {
  TomlPath path;                      // of its value
  const EntryPlace* entry = nullptr;  // null: an item of a list
  const ValuePlace* value = nullptr;
  const BlockPlace* block = nullptr;   // that it stands in
  const ValuePlace* inside = nullptr;  // the inline table it is an entry of; null: of the block
};

// Every value of the file, lists and inline tables before what is in them.
std::vector<FoundEntry> all_entries(const TextPlaces& places);

const FoundEntry* find_entry(const std::vector<FoundEntry>& all, const TomlPath& path);
const BlockPlace* find_block(const TextPlaces& places, const TomlPath& path);
bool begins_with(const TomlPath& path, const TomlPath& beginning);

}  // namespace understudy
