// Once compiled and made, nothing in protocol/ allocates: every operator new is counted here.
#include <gtest/gtest.h>

#include <array>
#include <cstdlib>
#include <new>

#include "protocol/matcher.h"
#include "protocol/splitter.h"

namespace {

std::size_t g_allocations = 0;

void* counted(std::size_t size) {
  ++g_allocations;
  void* const memory = std::malloc(size);
  if (memory == nullptr) std::abort();
  return memory;
}

}  // namespace

void* operator new(std::size_t size) {
  return counted(size);
}
void* operator new[](std::size_t size) {
  return counted(size);
}
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
  return counted(size);
}
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept {
  return counted(size);
}
void operator delete(void* memory) noexcept {
  std::free(memory);
}
void operator delete[](void* memory) noexcept {
  std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
  std::free(memory);
}
void operator delete[](void* memory, std::size_t) noexcept {
  std::free(memory);
}

namespace understudy::protocol {
namespace {

TEST(NoAllocation, TheCounterCounts) {
  const std::size_t before = g_allocations;
  const std::string long_enough(100, 'x');
  EXPECT_EQ(long_enough.size(), 100u);
  EXPECT_GT(g_allocations, before);
}

TEST(NoAllocation, MakingReadingExplainingAndSplittingTakeNone) {
  std::vector<Field> catalogue;
  catalogue.push_back({.name = "power", .max = 1023});
  catalogue.push_back({.name = "x", .min = -100, .max = 100, .decimals = 2});
  catalogue.push_back({.name = "horn", .max = 1, .words = {"SILENT AND LONG ENOUGH", "DOWN"}});
  catalogue.push_back({.name = "bell", .max = 1});
  const auto compile = [&](std::string_view text) {
    return LineFormat::compile({.text = text, .catalogue = catalogue, .check = CheckSpec{}})
        .value();
  };
  const Matcher matcher =
      Matcher::compile({compile("S,{#sequence},{power:5+},{x:short},{horn},{bits low first: bell}"),
                        compile("H {#uptime_ms:8x}")})
          .value();
  Splitter splitter({.ends = "\n", .accepts = {"\r\n"}, .longest = 120});
  std::array<char, 256> line{};
  std::array<char, 256> sentence{};
  std::array<std::int64_t, 4> values{512, -50, 0, 1};

  std::size_t whole = 0, known = 0, unknown = 0, said = 0;
  const std::size_t before = g_allocations;
  for (std::uint64_t round = 0; round < 1000; ++round) {
    const LineFormat& format = matcher.format(round % 2);
    std::size_t size = format.encode_framed(values, {.sequence = round, .uptime_ms = round}, line);
    // Every tenth line is damaged, and some arrive in two pieces.
    if (round % 10 == 0) line[round / 10 % size] ^= 0x15;
    const std::string_view bytes(line.data(), size);
    for (const std::string_view piece :
         {bytes.substr(0, round % size), bytes.substr(round % size)}) {
      splitter.push(piece, [&](const SplitLine& cut) {
        ++whole;
        BuiltIns built_ins;
        if (matcher.match(cut.text, values, &built_ins).ok()) {
          ++known;
          return;
        }
        ++unknown;
        said += matcher.write_sentence(matcher.explain(cut.text), cut.text, sentence) > 0;
      });
    }
  }
  const std::string_view endless = "0123456789012345678901234567890123456789";
  for (int round = 0; round < 100; ++round)
    splitter.push(endless, [&](const SplitLine&) { ++whole; });
  EXPECT_EQ(g_allocations, before);
  EXPECT_GT(known, 850u);
  EXPECT_GT(unknown, 50u);
  EXPECT_EQ(said, unknown);
  EXPECT_EQ(splitter.part_bytes(), 4000u);
}

}  // namespace
}  // namespace understudy::protocol
