// Divider, range and byte time, in exact ratios.
#include "sim/wire/uart.h"

namespace understudy {
namespace {

__int128 common_divisor(__int128 a, __int128 b) {
  while (b != 0) {
    const __int128 rest = a % b;
    a = b;
    b = rest;
  }
  return a == 0 ? 1 : a;
}

Ratio reduced(__int128 num, __int128 den) {
  const __int128 divisor = common_divisor(num < 0 ? -num : num, den);
  return {static_cast<std::int64_t>(num / divisor), static_cast<std::int64_t>(den / divisor)};
}

}  // namespace

BaudDivider nearest_divider(std::int64_t cpu_hz, std::int64_t wanted_baud, int samples_per_bit) {
  const std::int64_t step = samples_per_bit * wanted_baud;
  std::int64_t ubrr = (cpu_hz + step / 2) / step - 1;
  if (ubrr < 0) ubrr = 0;
  if (ubrr > kDividerMax) ubrr = kDividerMax;
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
  const __int128 incoming = static_cast<__int128>(incoming_baud.num) * own_baud.den;
  const __int128 own = static_cast<__int128>(own_baud.num) * incoming_baud.den;
  return incoming * range.slowest.den >= own * range.slowest.num &&
         incoming * range.fastest.den <= own * range.fastest.num;
}

int bits_per_byte(const WireDescription& wire) {
  return 1 + wire.data_bits + (wire.parity == Parity::kNone ? 0 : 1) + wire.stop_bits;
}

Ratio byte_time(Ratio baud, int bits) {
  constexpr std::int64_t kProductSafe = std::int64_t{1} << 42;  // times 2^20 still fits
  const __int128 num = static_cast<__int128>(bits) * 1'000'000'000 * baud.den;
  if (num / common_divisor(num, baud.num) < kProductSafe) return reduced(num, baud.num);
  return {static_cast<std::int64_t>(num * 1'000 / baud.num), 1'000};  // to the picosecond
}

Ratio with_error(Ratio r, std::int64_t ppm) {
  return reduced(static_cast<__int128>(r.num) * (1'000'000 + ppm),
                 static_cast<__int128>(r.den) * 1'000'000);
}

Ratio board_baud(const BoardDescription& board, const WireDescription& wire) {
  const std::int64_t cpu_hz = board.cpu_clock_mhz / 1'000;
  const BaudDivider divider =
      nearest_divider(cpu_hz, wire.baud, board_samples_per_bit(board, wire));
  return with_error(divider.actual_baud, wire.board_clock_error_ppm);
}

}  // namespace understudy
