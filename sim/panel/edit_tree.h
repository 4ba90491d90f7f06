// What an edit means: the same change done to the tree of values, so that the new text can be held
// against it.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "sim/panel/edit_places.h"
#include "sim/panel/node.h"

namespace understudy {

// Equal values at equal keys; places in the text and the order of keys do not count.
bool same_meaning(const Node& a, const Node& b);

// The node at a path, or null.
Node* node_at(Node& root, const TomlPath& path);
const Node* node_at(const Node& root, const TomlPath& path);

// Puts a value at a path; tables on the way are made. False where something else is in the way.
bool put_at(Node& root, const TomlPath& path, Node value);

// Reads both texts and holds `after` against `before` with `change` done to it. Gives `after`, or
// kUnusable. `what` is for the message: "set control[2].at_mm".
Result<std::string> proven(std::string_view before, std::string after, std::string_view what,
                           const std::function<bool(Node&)>& change);

}  // namespace understudy
