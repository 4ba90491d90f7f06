// What is left of a line that is built in too little memory, worked out by hand from the one rule:
// a text of n characters takes n + 1 bytes, and what does not fit is left out.
#include "sim/manners/heap.h"

#include <gtest/gtest.h>

#include <string>

namespace understudy {
namespace {

std::string left_of(std::string line, std::int64_t piece_bytes) {
  line.resize(leave_what_fits(line, piece_bytes));
  return line;
}

TEST(LineInTheHeap, IsWholeAsLongAsItAndItsEndMarkFit) {
  EXPECT_EQ(left_of("1023,512,1", 1'000), "1023,512,1");
  EXPECT_EQ(left_of("1023,512,1", 11), "1023,512,1");
  EXPECT_EQ(left_of("1023,512,1", 10), "1023,512,");
}

TEST(LineInTheHeap, LosesWholePartsNeverHalfANumber) {
  EXPECT_EQ(left_of("1023,512,1", 9), "1023,512");
  EXPECT_EQ(left_of("-1.50,2", 6), "-1.50");
  EXPECT_EQ(left_of("low_beam", 8), "");
}

TEST(LineInTheHeap, KeepsAShorterPartAfterOneThatFoundNoRoom) {
  EXPECT_EQ(left_of("1023,512,1", 8), "1023,,1");
  EXPECT_EQ(left_of("1023,512,1", 4), ",,1");
  EXPECT_EQ(left_of("a=1023;b=7", 6), "a=;b=");
}

TEST(LineInTheHeap, IsEmptyWhenNothingFits) {
  EXPECT_EQ(left_of("1023", 1), "");
  EXPECT_EQ(left_of("1023", 0), "");
  EXPECT_EQ(left_of("1023", -5), "");
  EXPECT_EQ(left_of("", 1), "");
}

TEST(LargestPiece, IsShorterAfterEverySoManyLines) {
  const HeapDescription heap{.free_bytes = 100, .lost_bytes = 3, .lines = 10};
  EXPECT_EQ(largest_piece(heap, 0), 100);
  EXPECT_EQ(largest_piece(heap, 9), 100);
  EXPECT_EQ(largest_piece(heap, 10), 97);
  EXPECT_EQ(largest_piece(heap, 335), 1);
  EXPECT_LE(largest_piece(heap, 340), 0);
}

TEST(LargestPiece, NeitherGrowsNorOverflowsHoweverManyLinesThereWere) {
  const HeapDescription heap{.free_bytes = 1'000'000, .lost_bytes = 1'000'000, .lines = 1};
  EXPECT_LE(largest_piece(heap, 1), 0);
  EXPECT_LE(largest_piece(heap, std::uint64_t{1} << 62), 0);
  const HeapDescription lasting{.free_bytes = 5, .lost_bytes = 0, .lines = 1};
  EXPECT_EQ(largest_piece(lasting, std::uint64_t{1} << 62), 5);
}

}  // namespace
}  // namespace understudy
