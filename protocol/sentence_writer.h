// Puts words one after the other into a caller's buffer and cuts what does not fit.
// For the files of this folder that explain lines without allocating.
#pragma once

#include <cstring>
#include <span>
#include <string_view>

#include "protocol/digits.h"

namespace understudy::protocol {

class SentenceWriter {
 public:
  explicit SentenceWriter(std::span<char> out) : out_(out) {}

  SentenceWriter& text(std::string_view text) {
    for (const char byte : text) put(byte);
    return *this;
  }
  SentenceWriter& number(std::int64_t number) {
    char digits[24];
    if (number < 0) put('-');
    const auto size = static_cast<std::uint64_t>(number < 0 ? -number : number);
    return text({digits, static_cast<std::size_t>(put_short(digits, size))});
  }
  // In quotes; bytes that are no printable ASCII as \xNN, and only the first 24 of many.
  SentenceWriter& quoted(std::string_view bytes) {
    constexpr std::size_t kMost = 24;
    put('"');
    for (const char byte : bytes.substr(0, kMost)) {
      if (byte >= ' ' && byte <= '~') {
        put(byte);
      } else {
        char code[4] = {'\\', 'x', 0, 0};
        put_hex(code + 2, static_cast<unsigned char>(byte), 2, false);
        text({code, 4});
      }
    }
    return text(bytes.size() > kMost ? "...\"" : "\"");
  }
  std::size_t size() const { return size_; }

 private:
  void put(char byte) {
    if (size_ < out_.size()) out_[size_++] = byte;
  }

  std::span<char> out_;
  std::size_t size_ = 0;
};

}  // namespace understudy::protocol
