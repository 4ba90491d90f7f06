// A line of JSON under construction: grows to the longest line and stays there, so that in the
// steady state nothing allocates. Knows JSON's quoting, no event.
#pragma once

#include <fmt/compile.h>

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>
#include <vector>

namespace understudy {

// Thread: one at a time.
class LineText {
 public:
  void clear() { size_ = 0; }
  [[nodiscard]] std::string_view view() const { return {room_.data(), size_}; }

  void put(std::string_view text) {
    if (text.empty()) return;
    std::memcpy(more(text.size()), text.data(), text.size());
    size_ += text.size();
  }
  template <class Integer>
  void put_number(Integer number) {
    char* const begin = more(kNumberBytesMax);
    size_ += static_cast<std::size_t>(fmt::format_to(begin, FMT_COMPILE("{}"), number) - begin);
  }
  // Sixteen hexadecimal digits.
  void put_digest(std::uint64_t digest) {
    char* const begin = more(16);
    fmt::format_to(begin, FMT_COMPILE("{:016x}"), digest);
    size_ += 16;
  }
  // The inside of a JSON string, without its quotes. REQUIRES: valid UTF-8
  void put_quoted(std::string_view text);
  // `,"text":"..."` where the bytes are valid UTF-8, else `,"hex":"..."`.
  void put_bytes(std::string_view bytes);

 private:
  static constexpr std::size_t kNumberBytesMax = 24;
  // Room for `size` further bytes.
  char* more(std::size_t size) {
    if (room_.size() - size_ < size) room_.resize((room_.size() + size) * 2);
    return room_.data() + size_;
  }

  std::vector<char> room_ = std::vector<char>(512);
  std::size_t size_ = 0;
};

}  // namespace understudy
