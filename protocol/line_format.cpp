// Makes lines. Reading them is line_reader.cpp; compiling formats is format_builder.cpp.
#include "protocol/line_format.h"

#include <algorithm>
#include <cstring>

#include "protocol/digits.h"

namespace understudy::protocol {
namespace {

// Writes any number that is not Plain; the builder has seen to it that it fits its width.
char* put_number(char* at, const LineItem& item, std::int64_t number) {
  char* const begin = at;
  auto size = static_cast<std::uint64_t>(number);
  if (number < 0) {
    *at++ = '-';
    size = 0 - size;
  }
  if (item.notation != Notation::kDecimal) {
    const int digits = std::max<int>(count_hex_digits(size), item.width);
    put_hex(at, size, digits, item.notation == Notation::kHexUpper);
    return at + digits;
  }
  int decimals = item.decimals;
  if (item.short_decimals) {
    for (; decimals > 0 && size % 10 == 0; --decimals) size /= 10;
  }
  const int sign_and_point = static_cast<int>(at - begin) + (decimals > 0 ? 1 : 0);
  const int digits = std::max({count_digits(size), decimals + 1, int{item.width} - sign_and_point});
  put_digits(at, size, digits);
  if (decimals == 0) return at + digits;
  char* const point = at + digits - decimals;
  std::memmove(point + 1, point, static_cast<std::size_t>(decimals));
  *point = '.';
  return at + digits + 1;
}

char* put_text(char* at, std::string_view text) {
  std::memcpy(at, text.data(), text.size());
  return at + text.size();
}

}  // namespace

bool LineFormat::carries(std::size_t field) const {
  return std::find(fields_.begin(), fields_.end(), field) != fields_.end();
}

// Everything but Plain and End; nullptr where a value is out of its range.
char* LineFormat::put_place(char* at, const LineItem& item, const std::int64_t* values,
                            const BuiltIns& built_ins) const {
  switch (item.kind) {
    case ItemKind::kNumber: {
      const std::int64_t value = values[item.field];
      if (value < item.min || value > item.max) return nullptr;
      return put_number(at, item, value);
    }
    case ItemKind::kWord: {
      const std::int64_t value = values[item.field];
      if (value < item.min || value > item.max) return nullptr;
      return put_text(at, words_[item.first + static_cast<std::size_t>(value - item.min)]);
    }
    case ItemKind::kBits: {
      std::uint64_t mask = 0;
      for (std::size_t bit = 0; bit < item.count; ++bit) {
        const auto value = static_cast<std::uint64_t>(values[bits_[item.first + bit]]);
        if (value > 1) return nullptr;
        mask |= value << bit;
      }
      return put_number(at, item, static_cast<std::int64_t>(mask));
    }
    case ItemKind::kSequence:
    case ItemKind::kUptime: {
      const std::uint64_t count =
          item.kind == ItemKind::kSequence ? built_ins.sequence : built_ins.uptime_ms;
      return put_number(at, item, static_cast<std::int64_t>(count % (item.span + 1)));
    }
    case ItemKind::kPlain:
    case ItemKind::kEnd:
      break;
  }
  return at;
}

char* LineFormat::put_check(char* at, const char* begin) const {
  const std::string_view literals = literals_;
  const std::string_view text(begin, static_cast<std::size_t>(at - begin));
  const std::uint32_t value =
      finish_check(check_.kind, add_to_check(check_.kind, check_.begin_state, text));
  at = put_text(at, literals.substr(check_.before_at, check_.before_bytes));
  if (check_.digits > 0) {
    put_hex(at, value, check_.digits, check_.notation == Notation::kHexUpper);
    at += check_.digits;
  } else {
    at += put_short(at, value);
  }
  return put_text(at, literals.substr(check_.after_at, check_.after_bytes));
}

std::size_t LineFormat::encode(std::span<const std::int64_t> values, const BuiltIns& built_ins,
                               std::span<char> out) const {
  if (out.size() < line_bytes_max_ || values.size() < catalogue_fields_) return 0;
  char* at = out.data();
  for (const LineItem& item : items_) {
    if (item.text_bytes == 1) {
      *at++ = item.text_first;
    } else if (item.text_bytes > 1) {
      at = put_text(at, text_before(item));
    }
    if (item.kind == ItemKind::kPlain) {
      const std::int64_t value = values[item.field];
      auto size = static_cast<std::uint64_t>(value);
      if (size - static_cast<std::uint64_t>(item.min) > item.span) return 0;
      if (value < 0) {
        *at++ = '-';
        size = 0 - size;
      }
      at += put_short(at, size);
    } else {
      at = put_place(at, item, values.data(), built_ins);
      if (at == nullptr) return 0;
    }
  }
  if (check_.present) at = put_check(at, out.data());
  return static_cast<std::size_t>(at - out.data());
}

std::size_t LineFormat::encode_framed(std::span<const std::int64_t> values,
                                      const BuiltIns& built_ins, std::span<char> out) const {
  if (out.size() < framed_bytes_max()) return 0;
  put_text(out.data(), starts_);
  const std::size_t size = encode(values, built_ins, out.subspan(starts_.size()));
  if (size == 0) return 0;
  put_text(out.data() + starts_.size() + size, ends_);
  return starts_.size() + size + ends_.size();
}

}  // namespace understudy::protocol
