// Divider, range and byte time, in exact ratios.
#include "sim/wire/uart.h"

#include <numeric>

namespace understudy {
namespace {

Ratio reduced(__int128 num, __int128 den) {
  __int128 a = num < 0 ? -num : num;
  __int128 b = den;
  while (b != 0) {
    const __int128 rest = a % b;
    a = b;
    b = rest;
  }
  if (a == 0) a = 1;
  return {static_cast<std::int64_t>(num / a), static_cast<std::int64_t>(den / a)};
}

bool less(Ratio a, Ratio b) {
  return static_cast<__int128>(a.num) * b.den < static_cast<__int128>(b.num) * a.den;
}

}  // namespace

BaudDivider nearest_divider(std::int64_t cpu_hz, std::int64_t wanted_baud, int samples_per_bit) {
  const std::int64_t step = samples_per_bit * wanted_baud;
  std::int64_t ubrr = (cpu_hz + step / 2) / step - 1;
  if (ubrr < 0) ubrr = 0;
  if (ubrr > 4095) ubrr = 4095;
  return {ubrr, reduced(cpu_hz, samples_per_bit * (ubrr + 1))};
}

std::int64_t baud_error_ppm(const BaudDivider& divider, std::int64_t wanted_baud) {
  const __int128 actual = static_cast<__int128>(divider.actual_baud.num) * 2'000'000;
  const __int128 wanted = static_cast<__int128>(wanted_baud) * divider.actual_baud.den;
  const __int128 doubled = actual / wanted - 2'000'000;
  return static_cast<std::int64_t>(doubled < 0 ? (doubled - 1) / 2 : (doubled + 1) / 2);
}

ReceiverRange receiver_range(int data_and_parity_bits, int samples_per_bit) {
  const int d = data_and_parity_bits;
  const int s = samples_per_bit;
  const int first_sample = s / 2;       // SF: 8 or 4
  const int middle_sample = s / 2 + 1;  // SM: 9 or 5
  return {.slowest = {(d + 1) * s, s - 1 + d * s + first_sample},
          .fastest = {(d + 2) * s, (d + 1) * s + middle_sample}};
}

bool readable(Ratio incoming_baud, Ratio own_baud, const ReceiverRange& range) {
  const Ratio ratio = reduced(static_cast<__int128>(incoming_baud.num) * own_baud.den,
                              static_cast<__int128>(incoming_baud.den) * own_baud.num);
  return !less(ratio, range.slowest) && !less(range.fastest, ratio);
}

int bits_per_byte(const WireDescription& wire) {
  return 1 + wire.data_bits + (wire.parity == Parity::kNone ? 0 : 1) + wire.stop_bits;
}

Ratio byte_time(Ratio baud, int bits) {
  constexpr std::int64_t kProductSafe = std::int64_t{1} << 42;  // times 2^20 still fits
  const __int128 num = static_cast<__int128>(bits) * 1'000'000'000 * baud.den;
  const Ratio exact = reduced(num, baud.num);
  if (exact.num < kProductSafe) return exact;
  return {static_cast<std::int64_t>(num * 1'000 / baud.num), 1'000};  // to the picosecond
}

Ratio with_error(Ratio r, std::int64_t ppm) {
  return reduced(static_cast<__int128>(r.num) * (1'000'000 + ppm),
                 static_cast<__int128>(r.den) * 1'000'000);
}

Ratio board_baud(const BoardDescription& board, const WireDescription& wire) {
  const std::int64_t cpu_hz = board.cpu_clock_mhz / 1'000;
  const BaudDivider divider = nearest_divider(cpu_hz, wire.baud, board.double_speed ? 8 : 16);
  return with_error(divider.actual_baud, wire.board_clock_error_ppm);
}

}  // namespace understudy
