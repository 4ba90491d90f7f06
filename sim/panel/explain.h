// The key table as text: for `explain`, for editors (JSON Schema) and for docs/panel-file.md.
#pragma once

#include <string>
#include <string_view>

#include "sim/base/result.h"

namespace understudy {

// Every table and key in one line each.
std::string explain_all();

// A key ("manners.loop", or "loop" where that tells which), a table ("manners"), every key of
// that name, or where there is none, a kind with a whole example and its keys ("selector"), or
// every key that takes the word ("native usb"). Errors: kUnusable with the nearest key.
Result<std::string> explain_key(std::string_view name);

// A JSON Schema (draft 2020-12) of the whole file, ending in a line feed.
std::string schema_json();

// The tables of docs/panel-file.md between its marks.
std::string keys_markdown();

}  // namespace understudy
