// Checks: the few digits at the end of a line that tell a whole line from a damaged one, and the
// arithmetic behind them. Where a check stands in a line is line_format.h's business.
// Sources: NMEA 0183 (XOR); the catalogue of parametrised CRC algorithms (all CRCs, by those
// names).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace understudy::protocol {

enum class CheckKind : std::uint8_t {
  kXor,              // "xor": exclusive or of all bytes, as NMEA 0183 has it
  kCrc8MaximDow,     // "crc-8/maxim-dow": poly 31, init 00, reflected
  kCrc16CcittFalse,  // "crc-16/ccitt-false" (IBM-3740): poly 1021, init FFFF
  kCrc16Xmodem,      // "crc-16/xmodem": poly 1021, init 0000
  kCrc16Kermit,      // "crc-16/kermit" (the true CCITT): poly 1021, init 0000, reflected
  kCrc16Modbus,      // "crc-16/modbus": poly 8005, init FFFF, reflected
  kCrc32,            // "crc-32" (ISO-HDLC): poly 04C11DB7, init and xor FFFFFFFF, reflected
};
inline constexpr int kCheckKindCount = 7;

// The kind's written name, as in the list above; and back. No allocation.
std::string_view check_name(CheckKind kind);
std::optional<CheckKind> find_check(std::string_view name);

// 8, 16 or 32.
int check_bits(CheckKind kind);

// The check of these bytes in one go.
std::uint32_t compute_check(CheckKind kind, std::string_view bytes);

// The same in pieces: begin, add any number of times, finish. The state is a plain number.
std::uint32_t begin_check(CheckKind kind);
std::uint32_t add_to_check(CheckKind kind, std::uint32_t state, std::string_view bytes);
std::uint32_t finish_check(CheckKind kind, std::uint32_t state);

// What the check covers.
enum class CheckCovers : std::uint8_t {
  kText,          // "text": the text of the line, without markers (NMEA 0183: between $ and *)
  kStartAndText,  // "start and text": framing.starts as well
};

// How a line carries its check, directly after the text. A plain value.
struct CheckSpec {
  CheckKind kind = CheckKind::kXor;
  CheckCovers covers = CheckCovers::kText;
  // Text with exactly one of {HEX}, {hex}, {dec} in it; braces doubled elsewhere. Hexadecimal
  // has all digits of the kind (2, 4 or 8); decimal has no leading zeros.
  std::string as = "*{HEX}";

  bool operator==(const CheckSpec&) const = default;
};

}  // namespace understudy::protocol
