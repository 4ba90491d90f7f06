// Feeds pairs of templates and lines to the matcher. Input: two templates, each ended by a line
// feed, then lines. If both compile and are let in together, no line may be read by both; if they
// are refused, the line shown must be.
#include <string>
#include <vector>

#include "protocol/matcher.h"
#include "sim/base/check.h"
#include "tests/fuzz/fuzz_one.h"

namespace understudy {
namespace {

using namespace understudy::protocol;

const std::vector<Field>& catalogue() {
  static const std::vector<Field> fields = [] {
    std::vector<Field> made;
    made.push_back({.name = "p", .max = 1023});
    made.push_back({.name = "q", .min = 1000, .max = 2000});
    made.push_back({.name = "t", .min = -12, .max = 511});
    made.push_back({.name = "d", .min = -100, .max = 100, .decimals = 2});
    made.push_back({
        .name = "w", .max = 2, .words = {"UP", "DOWN", "7"}
    });
    for (const char* bit : {"a", "b"}) made.push_back({.name = bit, .max = 1});
    return made;
  }();
  return fields;
}

void try_line(const Matcher& matcher, std::string_view line) {
  std::vector<std::int64_t> values(catalogue().size());
  int readers = 0;
  for (const LineFormat& format : matcher.formats()) readers += format.decode(line, values).ok();
  CHECK(readers <= 1, "a line is read by two formats that were let in together");
  const std::int32_t known = matcher.classify(line);
  CHECK((known != kUnknownLine) == (readers == 1), "the matcher and its formats disagree");
  CHECK(matcher.match(line, values).format == known, "match and classify disagree");
  const Match closest = matcher.explain(line);
  CHECK(closest.ok() == (readers == 1), "explain and classify disagree");
  CHECK(!matcher.sentence(closest, line).empty(), "an unknown line without a sentence");
}

}  // namespace

void fuzz_one(std::span<const std::uint8_t> input) {
  std::string_view rest(reinterpret_cast<const char*>(input.data()), input.size());
  const auto next = [&] {
    const std::string_view part = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(part.size() + 1, rest.size()));
    return part;
  };
  std::vector<LineFormat> formats;
  for (int count = 0; count < 2; ++count) {
    const std::string_view text = next();
    // Long templates only cost time; their law is the codec's affair.
    auto format = LineFormat::compile({.text = text.substr(0, 80), .catalogue = catalogue()});
    if (!format) return;
    formats.push_back(std::move(format).value());
  }
  const auto matcher = Matcher::compile(formats);
  if (!matcher) {
    std::vector<std::int64_t> values(catalogue().size());
    for (const LineFormat& format : formats) {
      CHECK(format.decode(matcher.error().witness, values).ok(),
            "the line shown is not read by both");
    }
    return;
  }
  while (!rest.empty()) try_line(matcher.value(), next());
}

}  // namespace understudy
