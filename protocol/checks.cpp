// The arithmetic of the checks: one table per kind, made when compiling.
#include "protocol/checks.h"

#include <array>

namespace understudy::protocol {
namespace {

struct CheckModel {
  std::string_view name;
  int bits;
  std::uint32_t polynomial;
  std::uint32_t begin;
  std::uint32_t final_xor;
  bool reflected;
};

// Parameters: catalogue of parametrised CRC algorithms. The first row has no polynomial.
constexpr std::array<CheckModel, kCheckKindCount> kModels{{
    {"xor", 8, 0x00, 0x00, 0x00, false},
    {"crc-8/maxim-dow", 8, 0x31, 0x00, 0x00, true},
    {"crc-16/ccitt-false", 16, 0x1021, 0xFFFF, 0x0000, false},
    {"crc-16/xmodem", 16, 0x1021, 0x0000, 0x0000, false},
    {"crc-16/kermit", 16, 0x1021, 0x0000, 0x0000, true},
    {"crc-16/modbus", 16, 0x8005, 0xFFFF, 0x0000, true},
    {"crc-32", 32, 0x04C11DB7, 0xFFFFFFFF, 0xFFFFFFFF, true},
}};

constexpr std::uint32_t reflect(std::uint32_t value, int bits) {
  std::uint32_t mirrored = 0;
  for (int bit = 0; bit < bits; ++bit) {
    if (value >> bit & 1) mirrored |= 1u << (bits - 1 - bit);
  }
  return mirrored;
}

using Table = std::array<std::uint32_t, 256>;

// What a byte does to the state. Reflected kinds keep the state mirrored and shift right; the
// others keep it at the top of 32 bits and shift left.
constexpr Table make_table(const CheckModel& model) {
  Table table{};
  const std::uint32_t mirrored = reflect(model.polynomial, model.bits);
  const std::uint32_t raised = model.polynomial << (32 - model.bits);
  for (std::uint32_t byte = 0; byte < 256; ++byte) {
    std::uint32_t state = model.reflected ? byte : byte << 24;
    for (int bit = 0; bit < 8; ++bit) {
      if (model.reflected) {
        state = state & 1 ? state >> 1 ^ mirrored : state >> 1;
      } else {
        state = state >> 31 ? state << 1 ^ raised : state << 1;
      }
    }
    table[byte] = state;
  }
  return table;
}

constexpr std::array<Table, kCheckKindCount> kTables = [] {
  std::array<Table, kCheckKindCount> tables{};
  for (std::size_t kind = 0; kind < tables.size(); ++kind) tables[kind] = make_table(kModels[kind]);
  return tables;
}();

constexpr const CheckModel& model_of(CheckKind kind) {
  return kModels[static_cast<std::size_t>(kind)];
}

}  // namespace

std::string_view check_name(CheckKind kind) {
  return model_of(kind).name;
}

std::optional<CheckKind> find_check(std::string_view name) {
  for (std::size_t kind = 0; kind < kModels.size(); ++kind) {
    if (kModels[kind].name == name) return static_cast<CheckKind>(kind);
  }
  return std::nullopt;
}

int check_bits(CheckKind kind) {
  return model_of(kind).bits;
}

std::uint32_t begin_check(CheckKind kind) {
  const CheckModel& model = model_of(kind);
  return model.reflected ? reflect(model.begin, model.bits) : model.begin << (32 - model.bits);
}

std::uint32_t add_to_check(CheckKind kind, std::uint32_t state, std::string_view bytes) {
  if (kind == CheckKind::kXor) {
    for (const char byte : bytes)
      state ^= static_cast<std::uint32_t>(static_cast<unsigned char>(byte)) << 24;
    return state;
  }
  const Table& table = kTables[static_cast<std::size_t>(kind)];
  if (model_of(kind).reflected) {
    for (const char byte : bytes) {
      state = state >> 8 ^ table[(state ^ static_cast<unsigned char>(byte)) & 255];
    }
    return state;
  }
  for (const char byte : bytes) {
    state = state << 8 ^ table[state >> 24 ^ static_cast<unsigned char>(byte)];
  }
  return state;
}

std::uint32_t finish_check(CheckKind kind, std::uint32_t state) {
  const CheckModel& model = model_of(kind);
  return (model.reflected ? state : state >> (32 - model.bits)) ^ model.final_xor;
}

std::uint32_t compute_check(CheckKind kind, std::string_view bytes) {
  return finish_check(kind, add_to_check(kind, begin_check(kind), bytes));
}

}  // namespace understudy::protocol
