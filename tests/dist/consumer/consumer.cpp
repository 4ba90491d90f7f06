// Makes a line and reads it, by the installed C++ headers.
#include <array>
#include <cstdint>
#include <cstdio>
#include <string_view>

#include "protocol/line_format.h"
#include "protocol/splitter.h"

int main() {
  using namespace understudy::protocol;
  const std::array<Field, 2> fields{Field{.name = "power", .min = 0, .max = 1023},
                                    Field{.name = "bell", .min = 0, .max = 1}};
  const auto format = LineFormat::compile({.text = "P{power},{bell}", .catalogue = fields});
  if (!format.ok()) return 1;
  std::array<char, 64> line{};
  const std::array<std::int64_t, 2> sent{512, 1};
  const std::size_t bytes = format.value().encode(sent, {}, line);
  std::array<std::int64_t, 2> read{};
  if (!format.value().decode(std::string_view(line.data(), bytes), read).ok()) return 1;
  std::printf("%.*s %d %d\n", static_cast<int>(bytes), line.data(), static_cast<int>(read[0]),
              static_cast<int>(read[1]));
  return 0;
}
