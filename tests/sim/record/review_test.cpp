// Looking at a recording: any place, sought from any other, is the state that the recording itself
// vouches for; lines are met one by one; a control that is taken over leaves all else as it was.
#include "sim/record/review.h"

#include <gtest/gtest.h>

#include <set>

#include "sim/base/random.h"
#include "tests/sim/record/recorded_session.h"

namespace understudy {
namespace {

Result<Review> reviewed(std::string bytes) {
  Result<RecordingReader> reader = RecordingReader::from_bytes(std::move(bytes), "x.jsonl");
  if (!reader.ok()) return reader.error();
  return Review::open(reader.value());
}

std::string recorded(const RehearsalOptions& options) {
  rehearse(options);
  std::string text = bytes_of_file(options.name);
  std::filesystem::remove(options.name);
  return text;
}

// What the file itself says: the fingerprints of its checks, and when bytes to the game ended a
// line.
struct Vouched {
  std::vector<std::pair<Instant, std::uint64_t>> checks;
  std::set<Instant> line_ends;
};

Vouched vouched(const std::string& bytes) {
  Vouched result;
  auto reader = RecordingReader::from_bytes(bytes, "x.jsonl");
  RecordedEvent event;
  while (reader.value().next(event) == RecordingReader::Got::kEvent) {
    if (const auto* check = std::get_if<recorded::Check>(&event.what))
      result.checks.emplace_back(event.at, check->fingerprint);
    const auto* chunk = std::get_if<recorded::ToGame>(&event.what);
    if (chunk != nullptr && chunk->bytes.find('\n') != std::string_view::npos)
      result.line_ends.insert(event.at);
  }
  return result;
}

TEST(Review, EveryPlaceSoughtIsTheStateThatTheRecordingVouchesFor) {
  for (const Temper temper : kTempers) {
    const std::string bytes = recorded({.games = {temper}, .length = seconds(25)});
    auto review = reviewed(bytes);
    ASSERT_TRUE(review.ok()) << review.error().text;
    const Vouched file = vouched(bytes);
    ASSERT_EQ(file.checks.size(), 3U);
    Stream places(11, "places");
    for (int i = 0; i < 20; ++i) {
      review.value().seek(Instant{places.below(seconds(25).ns)});
      const auto& [at, fingerprint] = file.checks[static_cast<std::size_t>(places.below(3))];
      review.value().seek(at);
      EXPECT_EQ(review.value().session().fingerprint(), fingerprint) << at.ns;
    }
  }
}

TEST(Review, PlayingOnFromAPlaceGivesTheStateAtTheEnd) {
  const std::string bytes = recorded({.length = seconds(12)});
  auto review = reviewed(bytes);
  ASSERT_TRUE(review.ok());
  SessionOutputs outputs;
  review.value().seek(Instant{7'123'456'789});
  while (review.value().now() < review.value().length())
    review.value().play(review.value().now() + milliseconds(17), outputs);
  EXPECT_EQ(review.value().session().fingerprint(), vouched(bytes).checks.back().second);
}

TEST(Review, EveryLineIsMetOnceForwardsAndBack) {
  const std::string bytes = recorded({.length = seconds(4), .whole_lines = true});
  auto review = reviewed(bytes);
  ASSERT_TRUE(review.ok());
  std::vector<Instant> forwards;
  while (review.value().seek_next_line(0)) forwards.push_back(review.value().now());
  const std::set<Instant> ends = vouched(bytes).line_ends;
  ASSERT_GT(ends.size(), 20U);
  EXPECT_EQ(std::set<Instant>(forwards.begin(), forwards.end()), ends);
  EXPECT_EQ(forwards.size(), ends.size());
  review.value().seek(review.value().length());
  std::vector<Instant> back;
  while (review.value().seek_line_before(0)) back.push_back(review.value().now());
  if (!ends.contains(review.value().length())) {
    std::vector<Instant> turned(back.rbegin(), back.rend());
    EXPECT_EQ(turned, forwards);
  }
  EXPECT_EQ(review.value().now(), Instant{});
}

// Bytes to the game from `from` on, played in one go.
std::string bytes_from(Review& review) {
  SessionOutputs outputs;
  std::string bytes;
  while (review.now() < review.length()) {
    review.play(review.now() + milliseconds(50), outputs);
    for (const Chunk& chunk : outputs.seats[0].chunks) bytes += outputs.seats[0].bytes_of(chunk);
  }
  return bytes;
}

TEST(Review, AControlTakenOverGoesItsOwnWayAndTheRestStays) {
  const std::string bytes = recorded({.length = seconds(12), .whole_lines = true});
  auto review = reviewed(bytes);
  ASSERT_TRUE(review.ok());
  Review& it = review.value();
  const auto& controls = it.session().panel(0).description.controls;
  const auto power =
      static_cast<std::uint16_t>(std::find_if(controls.begin(), controls.end(),
                                              [](const auto& c) { return c.name == "power"; }) -
                                 controls.begin());
  ASSERT_LT(power, controls.size());
  it.seek(Instant{seconds(3).ns});
  const std::string as_recorded = bytes_from(it);
  it.seek(Instant{seconds(3).ns});
  ASSERT_TRUE(it.take_over(0, {.control = power, .to_ppm = kFullTravel}));
  EXPECT_EQ(it.taken_over(), std::vector<std::string>{"power"});
  const std::string own_way = bytes_from(it);
  EXPECT_NE(as_recorded, own_way);
  EXPECT_EQ(it.session().device(0).position_ppm(power), kFullTravel);
  // Every field but the first, which is power's, is the same in every line.
  const auto without_first_fields = [](const std::string& text) {
    std::string rest;
    std::size_t place = 0;
    while (place < text.size()) {
      const std::size_t comma = text.find(',', place);
      const std::size_t end = text.find('\n', place);
      if (comma == std::string::npos || end == std::string::npos) break;
      rest += text.substr(comma, end + 1 - comma);
      place = end + 1;
    }
    return rest;
  };
  EXPECT_EQ(without_first_fields(as_recorded), without_first_fields(own_way));
  it.seek(Instant{seconds(3).ns});
  EXPECT_TRUE(it.taken_over().empty());
  EXPECT_EQ(bytes_from(it), as_recorded);
}

TEST(Review, TheOverviewCountsWhatTheFileHolds) {
  const std::string bytes = recorded({.length = seconds(12), .whole_lines = true});
  auto review = reviewed(bytes);
  ASSERT_TRUE(review.ok());
  std::size_t hands = 0;
  std::size_t changes = 0;
  for (const ReviewBin& bin : review.value().overview()) {
    hands += bin.hands;
    changes += bin.changes;
  }
  std::size_t hands_in_file = 0;
  std::size_t changes_in_file = 0;
  for (std::size_t at = 0; (at = bytes.find("\"from\":\"hand\"", at)) != std::string::npos; ++at)
    ++hands_in_file;
  for (std::size_t at = 0; (at = bytes.find("\"output\":", at)) != std::string::npos; ++at)
    ++changes_in_file;
  EXPECT_GT(hands, 0U);
  EXPECT_EQ(hands, hands_in_file);
  EXPECT_EQ(changes, changes_in_file);
}

TEST(Review, WhatCannotBeShownIsSaidWithItsLine) {
  const std::string bytes = recorded({.length = seconds(3)});
  const std::size_t second = bytes.find('\n') + 1;
  const auto nothing = reviewed(bytes.substr(0, second));
  ASSERT_FALSE(nothing.ok());
  EXPECT_EQ(nothing.error().text, "nothing stands in it but the header");
  const auto back = reviewed(bytes.substr(0, second) +
                             "{\"ns\":5,\"from\":\"mark\",\"text\":\"a\"}\n"
                             "{\"ns\":4,\"from\":\"mark\",\"text\":\"b\"}\n");
  ASSERT_FALSE(back.ok());
  EXPECT_EQ(back.error().text, "line 3: 4 ns comes after 5 ns, so time goes back");
  const auto cut = reviewed(bytes.substr(0, bytes.size() - 300));
  ASSERT_TRUE(cut.ok());
  EXPECT_EQ(cut.value().remark(), "the recording was cut off at its end");
}

}  // namespace
}  // namespace understudy
