// The law of the line format, for random formats, values and damage.
#include <gtest/gtest.h>

#include "tests/protocol/random_formats.h"

namespace understudy::protocol {
namespace {

void expect_law(const char* what, const std::function<void()>& property) {
  EXPECT_TRUE(rc::check(what, property));
}

TEST(LineLaw, WhatWasEncodedDecodesToTheSameNumbers) {
  expect_law("decode(encode(n)) = n", [] {
    const RandomFormat random = *formats_that_compile();
    const LineFormat format = random.compile().value();
    const auto values = draw_values(random.catalogue);
    const BuiltIns counts{.sequence = *rc::gen::arbitrary<std::uint64_t>(),
                          .uptime_ms = *rc::gen::arbitrary<std::uint64_t>()};
    const std::string line = make_line(format, values, counts);
    RC_LOG() << "line \"" << line << "\"\n";
    RC_ASSERT(line.size() >= format.line_bytes_min());
    RC_ASSERT(line.size() <= format.line_bytes_max());

    std::vector<std::int64_t> read(values.size(), -12345);
    BuiltIns read_counts;
    const Decoded decoded = format.decode(line, read, &read_counts);
    RC_LOG() << format.sentence(decoded.fault, line) << "\n";
    RC_ASSERT(decoded.ok());
    for (std::size_t field = 0; field < values.size(); ++field) {
      RC_ASSERT(read[field] == (format.carries(field) ? values[field] : -12345));
    }
    RC_ASSERT(make_line(format, read, read_counts) == line);
  });
}

TEST(LineLaw, ALineDecodesOnlyIfItCouldHaveBeenEncoded) {
  expect_law("encode(decode(s)) = s", [] {
    const RandomFormat random = *formats_that_compile();
    const LineFormat format = random.compile().value();
    const std::string line = draw_damaged(make_line(format, draw_values(random.catalogue)));
    std::vector<std::int64_t> read(random.catalogue.size(), 0);
    BuiltIns counts;
    const Decoded decoded = format.decode(line, read, &counts);
    RC_CLASSIFY(decoded.ok(), "still a line");
    if (decoded.ok()) {
      RC_ASSERT(make_line(format, read, counts) == line);
    } else {
      // The place of the fault lies in the line, or just behind it.
      RC_ASSERT(decoded.fault.column >= 1u);
      RC_ASSERT(decoded.fault.column + decoded.fault.found_bytes <= line.size() + 1);
      RC_ASSERT(!format.sentence(decoded.fault, line).empty());
    }
  });
}

TEST(LineLaw, ANumberJustOutsideItsRangeIsNeitherMadeNorRead) {
  expect_law("min - 1 and max + 1", [] {
    const RandomFormat random = *formats_that_compile();
    const LineFormat format = random.compile().value();
    auto values = draw_values(random.catalogue);
    const std::size_t field = format.fields()[0];
    values[field] =
        *rc::gen::element(random.catalogue[field].min - 1, random.catalogue[field].max + 1);
    RC_ASSERT(make_line(format, values).empty());

    // The same template over a range that is wider by one writes such a line, so that it is read
    // here at all.
    RandomFormat wider = random;
    Field& widened = wider.catalogue[field];
    RC_PRE(widened.words.empty() && widened.max < kWireNumberMax && widened.min > -kWireNumberMax);
    --widened.min;
    ++widened.max;
    const auto wider_format = wider.compile();
    RC_PRE(wider_format.ok());
    const std::string line = make_line(wider_format.value(), values);
    std::vector<std::int64_t> read(values.size(), 0);
    const LineFault fault = format.decode(line, read).fault;
    RC_ASSERT(fault.kind != LineFaultKind::kNone);
  });
}

TEST(LineLaw, MostRandomTemplatesCompile) {
  int compiled = 0;
  expect_law("compiles", [&] {
    if ((*rc::gen::exec(draw_format)).compile().ok()) ++compiled;
  });
  EXPECT_GT(compiled, 30) << "of 100: the other laws would be about few formats";
}

}  // namespace
}  // namespace understudy::protocol
