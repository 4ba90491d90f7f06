// What areas are put together from: words that fit their room, labels to press, copying. All drawn
// at ImGui's cursor, in ink.
#pragma once

#include <string>
#include <string_view>

#include "sim/window/areas.h"

namespace understudy {

// As a sentence stands on paper: a capital first, a full stop at the end.
std::string as_sentence(std::string text);

// Text in one line of at most `width` pixels; what does not fit ends in dots, and stands in whole
// under the pointer. Returns whether the pointer is on it.
bool fitting_text(std::string_view text, float width, ImU32 colour = ink::kText);
// Sentences, wrapped at the right edge.
void wrapped_text(std::string_view text, ImU32 colour = ink::kText);
// Like fitting_text, at a place of its own and without moving the cursor.
std::string fitted(std::string_view text, float width);

// A label that is chosen or not; true when it was pressed.
bool choice(const char* label, bool chosen, ImU32 colour = ink::kText);
// A label that does something.
bool press(const char* label);
// A box to tick, with its words; changes `ticked` and gives true when it was pressed.
bool tick_box(const char* label, bool& ticked);
// A field that opens a list of words: like ImGui::BeginCombo, ended by ImGui::EndCombo.
bool open_list(const char* id, const char* shown);
// Goes on in the same line where `width` more pixels fit there, else in the next.
void next_in_row(float width);
// The width that choice() or press() takes for this label.
float label_width(std::string_view label);
// Copies what is under this label for other programs.
void copy_label(const char* label, const std::string& text);

// A short text among what is remembered; line feeds are no part of it.
std::string remembered_text(const Remembered& remembered, std::string_view name,
                            std::string_view usual);
void remember_text(Remembered& remembered, std::string_view name, std::string text);

// "12 bytes", "1 byte".
std::string counted(std::uint64_t count, std::string_view word);

}  // namespace understudy
