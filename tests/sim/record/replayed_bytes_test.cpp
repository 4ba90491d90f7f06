// Recorded bytes on their way once more: nothing is lost or moved, and what was asked for waits for
// the asking.
#include "sim/record/replayed_bytes.h"

#include <gtest/gtest.h>

#include "sim/base/random.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

Instant at_ms(std::int64_t ms) {
  return {milliseconds(ms).ns};
}

std::shared_ptr<const Panel> panel_of(const std::string& lines) {
  const auto panel = parse_panel("panel = \"desk\"\nboard = \"bootloader-8bit\"\n" + lines, "desk");
  CHECK(panel.ok(), panel.ok() ? "" : panel.error().text.c_str());
  return panel.value();
}

// Sends a line by itself and one when asked.
std::shared_ptr<const Panel> asked_panel() {
  return panel_of(R"([[control]]
name = "power"
kind = "pot"
[[control]]
name = "bell"
kind = "button"
[[line]]
to = "game"
text = "P{power}"
send = { every = "20 ms" }
[[line]]
to = "game"
text = "B{bell}"
send = { asked = "?" }
)");
}

std::string joined(const std::vector<TimedPiece>& pieces) {
  std::string text;
  for (const TimedPiece& piece : pieces) text += piece.bytes;
  return text;
}

TEST(ReplayedBytes, WithoutLinesThatAreAskedForEachChunkComesAtItsTime) {
  const auto panel = panel_of("[[control]]\nname = \"bell\"\nkind = \"button\"\n");
  ReplayedBytes bytes(panel);
  bytes.recorded_to_game(at_ms(5), "0\n1");
  bytes.recorded_to_game(at_ms(9), "\xff\n");
  EXPECT_EQ(bytes.next_due(), at_ms(5));
  std::vector<TimedPiece> taken;
  bytes.take_due(at_ms(8), taken);
  ASSERT_EQ(taken.size(), 1u);
  EXPECT_EQ(taken[0].at, at_ms(5));
  EXPECT_EQ(taken[0].bytes, "0\n1");
  bytes.take_due(at_ms(20), taken);
  EXPECT_EQ(joined(taken), "0\n1\xff\n");
  EXPECT_EQ(taken[1].at, at_ms(9));
  EXPECT_EQ(bytes.next_due(), kNever);
}

TEST(ReplayedBytes, ALineThatIsAskedForWaitsForTheAskingAndThenAsLongAsRecorded) {
  ReplayedBytes bytes(asked_panel());
  bytes.recorded_from_game(at_ms(100), "?\n");
  bytes.recorded_to_game(at_ms(104), "P1\nB");
  bytes.recorded_to_game(at_ms(108), "1\nP2\n");
  std::vector<TimedPiece> taken;
  bytes.take_due(at_ms(300), taken);
  EXPECT_EQ(joined(taken), "P1\nP2\n");
  EXPECT_EQ(bytes.next_due(), kNever);
  bytes.heard(at_ms(500), "?\r\n");
  EXPECT_EQ(bytes.next_due(), at_ms(508));
  taken.clear();
  bytes.take_due(at_ms(507), taken);
  EXPECT_TRUE(taken.empty());
  bytes.take_due(at_ms(508), taken);
  EXPECT_EQ(joined(taken), "B1\n");
}

TEST(ReplayedBytes, AnAskingThatComesSoonerGetsItsLineAtTheRecordedTime) {
  ReplayedBytes bytes(asked_panel());
  bytes.heard(at_ms(10), "?\n");
  bytes.recorded_from_game(at_ms(100), "?\n");
  bytes.recorded_to_game(at_ms(108), "B0\n");
  std::vector<TimedPiece> taken;
  bytes.take_due(at_ms(200), taken);
  ASSERT_EQ(taken.size(), 1u);
  EXPECT_EQ(taken[0].at, at_ms(108));
  bytes.heard(at_ms(210), "?\n?\n");  // as on a board, one
  bytes.recorded_to_game(at_ms(220), "B1\n");
  bytes.recorded_to_game(at_ms(230), "B0\n");
  taken.clear();
  bytes.take_due(at_ms(300), taken);
  EXPECT_EQ(joined(taken), "B1\n");
}

// However the recorded stream was cut and whenever the game asks: each line comes whole, those by
// themselves at their time, and the asked ones in their order.
TEST(ReplayedBytes, NoLineIsEverPutIntoAnother) {
  Stream stream(4, "cuts");
  for (int round = 0; round < 200; ++round) {
    ReplayedBytes bytes(asked_panel());
    std::string text;
    for (int i = 0; i < 40; ++i)
      text += (stream.below(3) == 0 ? "B" : "P") + std::to_string(i % 2) + "\n";
    std::vector<TimedPiece> taken;
    std::int64_t ms = 0;
    for (std::size_t done = 0; done < text.size();) {
      const auto size = static_cast<std::size_t>(1 + stream.below(5));
      ms += 1 + stream.below(6);
      bytes.recorded_to_game(at_ms(ms + 50), std::string_view(text).substr(done, size));
      done += size;
      if (stream.chance({1, 3})) bytes.heard(at_ms(ms), "?\n");
      bytes.take_due(at_ms(ms), taken);
    }
    bytes.recorded_end();
    for (; ms < 2'000; ++ms) {
      bytes.heard(at_ms(ms), "?\n");
      bytes.take_due(at_ms(ms), taken);
    }
    Instant last;
    for (const TimedPiece& piece : taken) {
      EXPECT_GE(piece.at, last);
      last = piece.at;
    }
    const auto only = [](const std::string& lines, char kind) {
      std::string found;
      for (std::size_t i = 0; i + 2 < lines.size() + 1; i += 3)
        if (lines[i] == kind) found += lines.substr(i, 3);
      return found;
    };
    const std::string out = joined(taken);
    ASSERT_EQ(out.size(), text.size()) << "round " << round;
    EXPECT_EQ(only(out, 'P'), only(text, 'P'));
    EXPECT_EQ(only(out, 'B'), only(text, 'B'));
  }
}

}  // namespace
}  // namespace understudy
