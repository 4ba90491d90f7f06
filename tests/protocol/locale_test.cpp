// The user's locale changes nothing. Needs no installed locale for C++: one is made here. The C
// library's is tried as well where the machine has one with a decimal comma.
#include <gtest/gtest.h>

#include <clocale>
#include <locale>

#include "protocol/line_format.h"

namespace understudy::protocol {
namespace {

struct CommaNumbers : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

std::string lines_and_sentences() {
  std::vector<Field> catalogue;
  catalogue.push_back({.name = "power", .max = 99999});
  catalogue.push_back({.name = "x", .min = -100, .max = 100, .decimals = 2});
  const auto format =
      LineFormat::compile({.text = "{power},{x},{#uptime_ms}", .catalogue = catalogue}).value();
  std::vector<std::int64_t> values{12345, -53};
  std::string line(format.line_bytes_max(), '\0');
  line.resize(format.encode(values, {.uptime_ms = 1234567}, line));
  std::string all = line;
  all += format.decode(line, values).ok() ? " read " : " not read ";
  all += std::to_string(values[0]) + " " + std::to_string(values[1]) + " ";
  const std::string bad = "123456,-0,53";
  return all + format.sentence(format.decode(bad, values).fault, bad);
}

TEST(Locale, ADecimalCommaChangesNoLineAndNoSentence) {
  const std::string before = lines_and_sentences();
  EXPECT_TRUE(before.starts_with("12345,-0.53,1234567 read 12345 -53 ")) << before;

  const std::locale old =
      std::locale::global(std::locale(std::locale::classic(), new CommaNumbers));
  EXPECT_EQ(lines_and_sentences(), before);
  std::locale::global(old);

  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8", "pl_PL.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) == nullptr) continue;
    EXPECT_STREQ(std::localeconv()->decimal_point, ",");
    EXPECT_EQ(lines_and_sentences(), before) << name;
    std::setlocale(LC_ALL, "C");
  }
}

}  // namespace
}  // namespace understudy::protocol
