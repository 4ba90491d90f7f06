// The splitter: lines out of any stream, in any chunks, next to any noise.
#include "protocol/splitter.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <numeric>
#include <ostream>

namespace understudy::protocol {
namespace {

// A SplitLine that owns its text.
struct Cut {
  LineKind kind = LineKind::kWhole;
  std::string text;
  std::uint64_t first_byte = 0;
  std::uint64_t last_byte = 0;

  bool operator==(const Cut&) const = default;
};

std::ostream& operator<<(std::ostream& out, const Cut& cut) {
  return out << static_cast<int>(cut.kind) << " \"" << cut.text << "\" " << cut.first_byte << ".."
             << cut.last_byte;
}

std::vector<Cut> push(Splitter& splitter, std::string_view bytes) {
  std::vector<Cut> cuts;
  splitter.push(bytes, [&](const SplitLine& line) {
    cuts.push_back({line.kind, std::string(line.text), line.first_byte, line.last_byte});
  });
  return cuts;
}

std::vector<Cut> split(const Framing& framing, std::string_view bytes) {
  Splitter splitter(framing);
  return push(splitter, bytes);
}

std::vector<std::string> whole_texts(const std::vector<Cut>& cuts) {
  std::vector<std::string> texts;
  for (const Cut& cut : cuts) {
    if (cut.kind == LineKind::kWhole) texts.push_back(cut.text);
  }
  return texts;
}

using Texts = std::vector<std::string>;

TEST(Splitter, CutsAtLineFeedsAndTellsWhereEachLineStood) {
  EXPECT_EQ(split({}, "512,300\n7,8\n9"), (std::vector<Cut>{{LineKind::kWhole, "512,300", 0, 7},
                                                            {LineKind::kWhole, "7,8", 8, 11}}));
}

TEST(Splitter, TakesAllEndingsThatAreAcceptedAndTheLongestOfThem) {
  const Framing framing{.ends = "\n", .accepts = {"\r\n"}};
  EXPECT_EQ(whole_texts(split(framing, "1\r\n2\n3\r4\r\n")), (Texts{"1", "2", "3\r4"}));
}

TEST(Splitter, TheRestOfALongerEndingIsNoLine) {
  const Framing framing{.ends = "\r", .accepts = {"\r\n", "\n"}};
  EXPECT_EQ(whole_texts(split(framing, "1\r\n2\r3\n4\r\r5\n")),
            (Texts{"1", "2", "3", "4", "", "5"}));
}

TEST(Splitter, AnEmptyLineIsALine) {
  EXPECT_EQ(whole_texts(split({}, "\n\n1\n")), (Texts{"", "", "1"}));
}

TEST(Splitter, MarkersNeedNoLineFeed) {
  const Framing framing{.starts = "<", .ends = ">"};
  EXPECT_EQ(split(framing, "<512,1><7,0>"), (std::vector<Cut>{{LineKind::kWhole, "512,1", 0, 6},
                                                              {LineKind::kWhole, "7,0", 7, 11}}));
}

TEST(Splitter, BytesBetweenMarkersAreStrayAndGivenAsSuch) {
  const Framing framing{.starts = "<", .ends = ">"};
  EXPECT_EQ(split(framing, "boot\r\n<1>\r\n<2>"),
            (std::vector<Cut>{{LineKind::kStray, "boot\r\n", 0, 5},
                              {LineKind::kWhole, "1", 6, 8},
                              {LineKind::kStray, "\r\n", 9, 10},
                              {LineKind::kWhole, "2", 11, 13}}));
}

TEST(Splitter, ALineThatLostItsEndDoesNotTakeTheNextOneWithIt) {
  const Framing framing{.starts = "<", .ends = ">"};
  EXPECT_EQ(split(framing, "<51<7,0>"),
            (std::vector<Cut>{{LineKind::kStray, "51", 0, 2}, {LineKind::kWhole, "7,0", 3, 7}}));
}

TEST(Splitter, AStartAtOnceAfterAStartIsStrayToo) {
  Splitter splitter({.starts = "<", .ends = ">"});
  EXPECT_EQ(push(splitter, "<<1>"),
            (std::vector<Cut>{{LineKind::kStray, "", 0, 0}, {LineKind::kWhole, "1", 1, 3}}));
  EXPECT_EQ(splitter.counts().bytes_dropped, 1u);
}

TEST(Splitter, ATooLongLineIsCutCountedAndFollowedByTheNext) {
  Splitter splitter({.longest = 4});
  const auto cuts = push(splitter, "1234\n12345\n" + std::string(1000, 'x') + "\n5\n");
  EXPECT_EQ(cuts, (std::vector<Cut>{{LineKind::kWhole, "1234", 0, 4},
                                    {LineKind::kTooLong, "1234", 5, 10},
                                    {LineKind::kTooLong, "xxxx", 11, 1011},
                                    {LineKind::kWhole, "5", 1012, 1013}}));
  EXPECT_EQ(splitter.counts(),
            (SplitterCounts{
                .bytes = 1014, .lines = 2, .too_long = 2, .stray = 0, .bytes_dropped = 1007}));
}

TEST(Splitter, WithoutAnyMarkerEachByteIsALine) {
  EXPECT_EQ(split({.ends = ""}, "rR"),
            (std::vector<Cut>{{LineKind::kWhole, "r", 0, 0}, {LineKind::kWhole, "R", 1, 1}}));
}

TEST(Splitter, ShowsThePartOfALineAndForgetsItWhenTold) {
  Splitter splitter{Framing{}};
  push(splitter, "1\n512,3");
  EXPECT_EQ(splitter.part(), "512,3");
  EXPECT_EQ(splitter.part_bytes(), 5u);
  splitter.forget_part();
  EXPECT_EQ(splitter.part(), "");
  EXPECT_EQ(splitter.counts().bytes_dropped, 5u);
  EXPECT_EQ(push(splitter, "7\n"), (std::vector<Cut>{{LineKind::kWhole, "7", 7, 8}}));
}

TEST(Splitter, AnEndlessLineTakesNoMoreRoomThanTheLongest) {
  Splitter splitter({.longest = 100});
  for (int round = 0; round < 10000; ++round) push(splitter, "0123456789");
  EXPECT_EQ(splitter.part().size(), 100u);
  EXPECT_EQ(splitter.part_bytes(), 100000u);
}

TEST(Splitter, TakeGivesOneLineAtATimeAndLeavesTheRest) {
  Splitter splitter{Framing{}};
  std::string_view bytes = "1\n2\n3";
  SplitLine line;
  EXPECT_TRUE(splitter.take(bytes, line));
  EXPECT_EQ(line.text, "1");
  EXPECT_EQ(bytes, "2\n3");
  EXPECT_TRUE(splitter.take(bytes, line));
  EXPECT_FALSE(splitter.take(bytes, line));
  EXPECT_TRUE(bytes.empty());
}

TEST(Framing, ImpossibleFramingsAreRefused) {
  EXPECT_FALSE(find_fault_in_framing({}));
  EXPECT_FALSE(find_fault_in_framing({.starts = "<", .ends = ">"}));
  EXPECT_FALSE(find_fault_in_framing({.ends = ""}));
  EXPECT_TRUE(find_fault_in_framing({.starts = "<", .ends = ""}));
  EXPECT_TRUE(find_fault_in_framing({.starts = "#", .ends = "#"}));
  EXPECT_TRUE(find_fault_in_framing({.starts = "<", .ends = ">", .accepts = {"<>"}}));
  EXPECT_TRUE(find_fault_in_framing({.ends = "", .accepts = {"\n"}}));
  EXPECT_TRUE(find_fault_in_framing({.accepts = {""}}));
  EXPECT_TRUE(find_fault_in_framing({.longest = 0}));
  EXPECT_TRUE(find_fault_in_framing({.longest = kLineBytesMax + 1}));
  EXPECT_TRUE(find_fault_in_framing({.ends = std::string(kMarkerBytesMax + 1, 'x')}));
}

// --- properties --------------------------------------------------------------------------------

Framing draw_framing() {
  Framing framing = *rc::gen::element(
      Framing{}, Framing{.ends = "\n", .accepts = {"\r\n"}}, Framing{.ends = "\r\n"},
      Framing{.ends = "\r", .accepts = {"\r\n", "\n"}}, Framing{.ends = ";"},
      Framing{.starts = "<", .ends = ">"},
      Framing{.starts = "<<", .ends = ">", .accepts = {">\r\n"}},
      Framing{.starts = "$", .ends = "\r\n", .accepts = {"\n"}}, Framing{.ends = ""});
  framing.longest = *rc::gen::inRange<std::size_t>(1, 20);
  return framing;
}

// Few different bytes, so that markers and parts of them are met often.
std::string draw_stream(int bytes_max) {
  const auto alphabet = std::string("12,<>\r\n$;");
  return *rc::gen::resize(bytes_max, rc::gen::container<std::string>(rc::gen::elementOf(alphabet)));
}

// Pushes the stream in random chunks.
std::vector<Cut> push_in_chunks(Splitter& splitter, std::string_view stream) {
  std::vector<Cut> cuts;
  while (!stream.empty()) {
    const auto size = *rc::gen::inRange<std::size_t>(1, stream.size() + 1);
    for (Cut& cut : push(splitter, stream.substr(0, size))) cuts.push_back(std::move(cut));
    stream.remove_prefix(size);
  }
  return cuts;
}

TEST(SplitterLaw, ChunksDoNotMatter) {
  EXPECT_TRUE(rc::check("any chunks", [] {
    const Framing framing = draw_framing();
    const std::string stream = draw_stream(200);
    Splitter at_once(framing);
    Splitter in_chunks(framing);
    RC_ASSERT(push(at_once, stream) == push_in_chunks(in_chunks, stream));
    RC_ASSERT(at_once.counts() == in_chunks.counts());
    RC_ASSERT(at_once == in_chunks);
  }));
}

TEST(SplitterLaw, EachLineStandsInTheStreamWhereItSays) {
  EXPECT_TRUE(rc::check("places", [] {
    const Framing framing = draw_framing();
    const std::string stream = draw_stream(200);
    Splitter splitter(framing);
    std::uint64_t next = 0;
    std::uint64_t dropped = 0;
    for (const Cut& cut : push_in_chunks(splitter, stream)) {
      RC_ASSERT(cut.first_byte >= next);
      RC_ASSERT(cut.last_byte >= cut.first_byte);
      RC_ASSERT(cut.text.size() <= framing.longest);
      const std::string raw = stream.substr(cut.first_byte, cut.last_byte - cut.first_byte + 1);
      next = cut.last_byte + 1;
      if (cut.kind != LineKind::kWhole) {
        dropped += raw.size();
        continue;
      }
      RC_ASSERT(raw.starts_with(framing.starts + cut.text));
      const std::string ending = raw.substr(framing.starts.size() + cut.text.size());
      const auto& accepts = framing.accepts;
      RC_ASSERT(ending == framing.ends ||
                std::find(accepts.begin(), accepts.end(), ending) != accepts.end());
    }
    RC_ASSERT(splitter.counts().bytes == stream.size());
    RC_ASSERT(splitter.counts().bytes_dropped == dropped);
  }));
}

TEST(SplitterLaw, ACopyGoesOnAsTheOriginalDoes) {
  EXPECT_TRUE(rc::check("copies", [] {
    const Framing framing = draw_framing();
    Splitter original(framing);
    push(original, draw_stream(60));
    Splitter copy = original;
    RC_ASSERT(copy == original);
    const std::string rest = draw_stream(60);
    RC_ASSERT(push(copy, rest) == push(original, rest));
    RC_ASSERT(copy == original);
  }));
}

TEST(SplitterLaw, NoGoodLineIsLostNextToABadOne) {
  EXPECT_TRUE(rc::check("noise that ends", [] {
    const bool marked = *rc::gen::arbitrary<bool>();
    const Framing framing = marked ? Framing{.starts = "<", .ends = ">", .longest = 16}
                                   : Framing{.ends = "\n", .accepts = {"\r\n"}, .longest = 16};
    Texts good;
    std::string stream;
    const int count = *rc::gen::inRange(1, 8);
    for (int line = 0; line < count; ++line) {
      // Noise of any length: between markers anything but a start; else a bad line with its end.
      const std::string noise = *rc::gen::container<std::string>(
          rc::gen::elementOf(std::string(marked ? "xy>\n12" : "xy<\r12")));
      if (!noise.empty()) stream += marked ? "<cut off" + noise : noise + "\n";
      good.push_back("good" + std::to_string(line));
      stream += framing.starts + good.back() + framing.ends;
    }
    Splitter splitter(framing);
    Texts found;
    for (const std::string& text : whole_texts(push_in_chunks(splitter, stream))) {
      if (text.starts_with("good")) found.push_back(text);
    }
    RC_ASSERT(found == good);
  }));
}

TEST(SplitterLaw, NoiseWithoutAnEndSpoilsOneLineAtMost) {
  EXPECT_TRUE(rc::check("noise that does not end", [] {
    std::string stream;
    const int count = *rc::gen::inRange(2, 8);
    const int spoiled = *rc::gen::inRange(0, count);
    for (int line = 0; line < count; ++line) {
      if (line == spoiled)
        stream += *rc::gen::nonEmpty(
            rc::gen::container<std::string>(rc::gen::elementOf(std::string("xy12,\r"))));
      stream += "good" + std::to_string(line) + "\n";
    }
    Splitter splitter({.longest = 12});
    int found = 0;
    for (const std::string& text : whole_texts(push_in_chunks(splitter, stream))) {
      found += text.starts_with("good");
    }
    RC_ASSERT(found == count - 1);
  }));
}

}  // namespace
}  // namespace understudy::protocol
