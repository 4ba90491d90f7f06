// JSON's quoting (RFC 8259, section 7): what must be escaped is, nothing else.
#include "sim/record/line_text.h"

#include <array>

#include "sim/base/text.h"

namespace understudy {
namespace {

// For each byte: 0 stands as it is, 'u' becomes \u00XX, anything else follows a backslash.
constexpr std::array<char, 256> kEscapes = [] {
  std::array<char, 256> table{};
  for (std::size_t byte = 0; byte < 0x20; ++byte) table[byte] = 'u';
  table['\b'] = 'b';
  table['\t'] = 't';
  table['\n'] = 'n';
  table['\f'] = 'f';
  table['\r'] = 'r';
  table['"'] = '"';
  table['\\'] = '\\';
  return table;
}();

constexpr char kHexDigits[] = "0123456789abcdef";

bool is_ascii(std::string_view bytes) {
  unsigned char all = 0;
  for (const char c : bytes) all |= static_cast<unsigned char>(c);
  return all < 0x80;
}

}  // namespace

void LineText::put_quoted(std::string_view text) {
  char* to = more(text.size() * 6);
  char* const begin = to;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const char escape = kEscapes[byte];
    if (escape == 0) {
      *to++ = c;
      continue;
    }
    *to++ = '\\';
    *to++ = escape;
    if (escape != 'u') continue;
    *to++ = '0';
    *to++ = '0';
    *to++ = kHexDigits[byte >> 4];
    *to++ = kHexDigits[byte & 15];
  }
  size_ += static_cast<std::size_t>(to - begin);
}

void LineText::put_bytes(std::string_view bytes) {
  if (is_ascii(bytes) || is_valid_utf8(bytes)) {
    put(R"(,"text":")");
    put_quoted(bytes);
    put("\"");
    return;
  }
  put(R"(,"hex":")");
  char* to = more(bytes.size() * 2);
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    *to++ = kHexDigits[byte >> 4];
    *to++ = kHexDigits[byte & 15];
  }
  size_ += bytes.size() * 2;
  put("\"");
}

}  // namespace understudy
