// Where a column of a template stands in the file: exact where the text is written as it is.
#pragma once

#include <optional>
#include <string_view>

#include "sim/panel/node.h"

namespace understudy {

// The place of byte `column` (from 1) of `node`'s text, or nothing where escapes or a text over
// several lines keep it from being told.
std::optional<TextPlace> place_in_template(std::string_view file_text, const Node& node,
                                           std::size_t column);

}  // namespace understudy
