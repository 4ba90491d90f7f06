// Feeds templates and lines to the line format. Input: a template, a line feed, then lines. What
// compiles must keep the law of the line format; no bytes may do anything worse than be refused.
#include <string>
#include <vector>

#include "protocol/line_format.h"
#include "sim/base/check.h"
#include "tests/fuzz/fuzz_one.h"

namespace understudy {
namespace {

using namespace understudy::protocol;

const std::vector<Field>& catalogue() {
  static const std::vector<Field> fields = [] {
    std::vector<Field> made;
    made.push_back({.name = "power", .max = 1023});
    made.push_back({.name = "turn", .min = -512, .max = 511});
    made.push_back({.name = "x.y", .min = -kWireNumberMax, .max = kWireNumberMax, .decimals = 6});
    made.push_back({.name = "tilt", .min = -100, .max = 100, .decimals = 2});
    made.push_back({
        .name = "horn", .max = 2, .words = {"UP", "DOWN", "DOWNED"}
    });
    for (const char* bit : {"a", "b", "c"}) made.push_back({.name = bit, .max = 1});
    return made;
  }();
  return fields;
}

void try_line(const LineFormat& format, std::string_view line) {
  std::vector<std::int64_t> values(catalogue().size());
  BuiltIns built_ins;
  const Decoded decoded = format.decode(line, values, &built_ins);
  const std::string said = format.sentence(decoded.fault, line);
  CHECK(!said.empty(), "a fault without a sentence");
  if (!decoded.ok()) {
    CHECK(decoded.fault.column >= 1 && decoded.fault.column <= line.size() + 1,
          "a fault outside of its line");
    CHECK(decoded.fault.column - 1 + decoded.fault.found_bytes <= line.size(),
          "what was found reaches beyond the line");
    return;
  }
  std::string made(format.line_bytes_max(), '\0');
  made.resize(format.encode(values, built_ins, made));
  CHECK(made == line, "what was read is not made again");
  for (const std::size_t field : format.fields()) {
    CHECK(values[field] >= catalogue()[field].min && values[field] <= catalogue()[field].max,
          "a value outside of its range was read");
  }
}

}  // namespace

void fuzz_one(std::span<const std::uint8_t> input) {
  std::string_view rest(reinterpret_cast<const char*>(input.data()), input.size());
  const auto next = [&] {
    const std::string_view part = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(part.size() + 1, rest.size()));
    return part;
  };
  const std::string_view text = next();
  const bool checked = text.starts_with('*');
  const auto format = LineFormat::compile(
      {.text = text.substr(checked ? 1 : 0),
       .catalogue = catalogue(),
       .check =
           checked ? std::optional(CheckSpec{.kind = CheckKind::kCrc16Kermit}) : std::nullopt});
  if (!format) {
    CHECK(!format.error().sentence().empty(), "a refusal without a sentence");
    return;
  }
  // The ends of all ranges, then whatever lines came.
  for (const bool high : {false, true}) {
    std::vector<std::int64_t> values;
    for (const Field& field : catalogue()) values.push_back(high ? field.max : field.min);
    std::string made(format.value().line_bytes_max(), '\0');
    made.resize(format.value().encode(values, {}, made));
    CHECK(!made.empty(), "values in range make no line");
    CHECK(format.value().decode(made, values).ok(), "a line that was made is not read");
  }
  while (!rest.empty()) try_line(format.value(), next());
}

}  // namespace understudy
