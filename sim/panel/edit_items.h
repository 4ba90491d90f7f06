// Edits of the items of a list such as each = ["a", "b"]. The rules are those of edit.h.
#pragma once

#include <string>
#include <string_view>

#include "sim/panel/edit_places.h"

namespace understudy {

// Another value for an item; `path` leads to the item.
Result<std::string> set_item(std::string_view text, const TomlPath& path, std::string_view value);
// Without an item and the comma that went with it.
Result<std::string> remove_item(std::string_view text, const TomlPath& path);
// One more behind the last; `path` leads to the list.
Result<std::string> add_item(std::string_view text, const TomlPath& path, std::string_view value);

}  // namespace understudy
