// A 64-bit running digest of state, for "the same state" at a glance. Not a cryptographic hash.
// Model: multiply-xorshift mixing (the finaliser of SplitMix64, Steele, Lea, Flood 2014).
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace understudy {

// Mixes 64 bits so that every input bit reaches every output bit.
constexpr std::uint64_t mixed(std::uint64_t x) {
  x ^= x >> 30;
  x *= 0xbf58476d1ce4e5b9ULL;
  x ^= x >> 27;
  x *= 0x94d049bb133111ebULL;
  x ^= x >> 31;
  return x;
}

// Order matters: add(a), add(b) differs from add(b), add(a).
class Fingerprint {
 public:
  constexpr void add(std::uint64_t value) {
    digest_ = mixed(digest_ ^ value) + 0x9e3779b97f4a7c15ULL;
  }
  constexpr void add(std::int64_t value) { add(static_cast<std::uint64_t>(value)); }
  constexpr void add(int value) {
    add(static_cast<std::uint64_t>(static_cast<std::int64_t>(value)));
  }
  constexpr void add(bool value) { add(static_cast<std::uint64_t>(value)); }
  constexpr void add(std::string_view bytes) {
    add(static_cast<std::uint64_t>(bytes.size()));
    std::uint64_t word = 0;
    int filled = 0;
    for (const char c : bytes) {
      word = word << 8 | static_cast<unsigned char>(c);
      if (++filled == 8) {
        add(word);
        word = 0;
        filled = 0;
      }
    }
    if (filled > 0) add(word);
  }
  [[nodiscard]] constexpr std::uint64_t value() const { return digest_; }

 private:
  std::uint64_t digest_ = 0x756e64657273;  // "unders"
};

}  // namespace understudy
