// The bounded ring, and the fingerprint that tells states apart.
#include "sim/base/ring.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <deque>
#include <set>

#include "sim/base/fingerprint.h"

namespace understudy {
namespace {

TEST(Ring, BehavesAsAQueueOfBoundedLength) {
  EXPECT_TRUE(rc::check("ring against deque", [](const std::vector<int>& moves) {
    Ring<int, 5> ring;
    std::deque<int> model;
    for (const int move : moves) {
      if (move % 3 != 0 || model.empty()) {
        const bool room = model.size() < 5;
        RC_ASSERT(ring.push(move) == room);
        if (room) model.push_back(move);
      } else {
        RC_ASSERT(ring.front() == model.front());
        ring.pop();
        model.pop_front();
      }
      RC_ASSERT(ring.size() == model.size());
      for (std::size_t i = 0; i < model.size(); ++i) RC_ASSERT(ring.at(i) == model[i]);
    }
  }));
}

TEST(Fingerprint, OrderLengthAndEveryBitMatter) {
  const auto of = [](auto... values) {
    Fingerprint digest;
    (digest.add(values), ...);
    return digest.value();
  };
  EXPECT_NE(of(1, 2), of(2, 1));
  EXPECT_NE(of(0), of(0, 0));
  EXPECT_NE(of(std::string_view("")), of(std::string_view("\0", 1)));
  std::set<std::uint64_t> seen;
  for (int bit = 0; bit < 64; ++bit) seen.insert(of(std::uint64_t{1} << bit));
  EXPECT_EQ(seen.size(), 64U);
}

TEST(Fingerprint, EqualBytesInOtherPiecesAreOtherStates) {
  Fingerprint together;
  together.add(std::string_view("ab"));
  Fingerprint apart;
  apart.add(std::string_view("a"));
  apart.add(std::string_view("b"));
  EXPECT_NE(together.value(), apart.value());
}

}  // namespace
}  // namespace understudy
