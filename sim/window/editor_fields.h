// The small pieces that the editor's cards are made of: buttons, fields, and what is told at them.
#pragma once

#include <string>

#include "sim/window/editor_state.h"

namespace understudy {

// Noted for whoever looks at the window from outside.
bool button(const char* label);
bool small_button(const std::string& label, const std::string& noted);

// A field for what stands at `field` in the text; true when something else was typed and left.
// What was typed is in state.typed[field].
bool typed_field(Editor::State& state, const std::string& field, const std::string& now,
                 const char* hint);
// Why the last edit of this field was refused, if it was.
void draw_told(const Editor::State& state, const std::string& field);

}  // namespace understudy
