// Text for Windows, whose calls take UTF-16; the program itself holds UTF-8 everywhere. Bytes that
// are no UTF-8 become the replacement character.
#pragma once

#include <string>
#include <string_view>

namespace understudy {

std::wstring wide_text(std::string_view utf8);
std::string narrow_text(std::wstring_view wide);

// What the system says about one of its error numbers, without an end of line or a full stop.
std::string system_words(unsigned long code);

}  // namespace understudy
