// Flattens the places of a text into paths.
#include "sim/panel/edit_lookup.h"

#include <algorithm>

#include "sim/panel/key_table.h"

namespace understudy {
namespace {

bool is_list(std::string_view table) {
  for (int i = 0; i < kSectionCount; ++i)
    if (section_path(static_cast<Section>(i)) == table)
      return is_list_of_tables(static_cast<Section>(i));
  return false;
}

void append_keys(TomlPath& path, std::string_view keys) {
  while (!keys.empty()) {
    const std::size_t dot = std::min(keys.find('.'), keys.size());
    path.push_back({std::string(keys.substr(0, dot)), 0});
    keys.remove_prefix(std::min(dot + 1, keys.size()));
  }
}

void add_value(const FoundEntry& found, std::vector<FoundEntry>& all) {
  all.push_back(found);
  for (std::size_t i = 0; i < found.value->items.size(); ++i) {
    FoundEntry item{found.path, nullptr, &found.value->items[i], found.block, nullptr};
    item.path.push_back({"", i});
    add_value(item, all);
  }
  for (const EntryPlace& entry : found.value->entries) {
    FoundEntry inner{found.path, &entry, &entry.value, found.block, found.value};
    for (const std::string& key : entry.keys) inner.path.push_back({key, 0});
    add_value(inner, all);
  }
}

}  // namespace

TomlPath path_of(const TableRef& table, std::string_view key) {
  TomlPath path;
  append_keys(path, table.table);
  if (is_list(table.table)) path.push_back({"", table.index});
  append_keys(path, key);
  return path;
}

std::vector<FoundEntry> all_entries(const TextPlaces& places) {
  std::vector<FoundEntry> all;
  for (const BlockPlace& block : places.blocks) {
    for (const EntryPlace& entry : block.entries) {
      FoundEntry found{block.path, &entry, &entry.value, &block, nullptr};
      for (const std::string& key : entry.keys) found.path.push_back({key, 0});
      add_value(found, all);
    }
  }
  return all;
}

const FoundEntry* find_entry(const std::vector<FoundEntry>& all, const TomlPath& path) {
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&path](const FoundEntry& one) { return one.path == path; });
  return found == all.end() ? nullptr : &*found;
}

const BlockPlace* find_block(const TextPlaces& places, const TomlPath& path) {
  const auto found = std::find_if(places.blocks.begin(), places.blocks.end(),
                                  [&path](const BlockPlace& block) { return block.path == path; });
  return found == places.blocks.end() ? nullptr : &*found;
}

bool begins_with(const TomlPath& path, const TomlPath& beginning) {
  return path.size() >= beginning.size() &&
         std::equal(beginning.begin(), beginning.end(), path.begin());
}

}  // namespace understudy
