// Reading files as they come out of a hard life: torn, binary, huge, foreign, compressed, newer.
#include "sim/record/reader.h"

#include <gtest/gtest.h>
#include <zstd.h>

#include <algorithm>

#include "sim/record/event_text.h"
#include "tests/sim/record/samples.h"

namespace understudy {
namespace {

std::string sample_file() {
  std::string text = header_line(sample_header());
  EventText lines(sample_header());
  for (const RecordedEvent& event : sample_events()) text += lines.line(event);
  return text;
}

std::string zstd_frame(std::string_view text) {
  std::string packed(ZSTD_compressBound(text.size()), '\0');
  packed.resize(ZSTD_compress(packed.data(), packed.size(), text.data(), text.size(), 3));
  return packed;
}

RecordingReader opened(std::string bytes) {
  Result<RecordingReader> reader = RecordingReader::from_bytes(std::move(bytes), "x.jsonl");
  EXPECT_TRUE(reader.ok()) << reader.error().text;
  return std::move(reader).value();
}

std::string refusal(std::string bytes) {
  const Result<RecordingReader> reader = RecordingReader::from_bytes(std::move(bytes), "x.jsonl");
  if (reader.ok()) return "no refusal";
  EXPECT_EQ(reader.error().code, ErrorCode::kUnusable);
  return reader.error().text;
}

TEST(RecordingReader, GivesHeaderAndEventsInOrder) {
  RecordingReader reader = opened(sample_file());
  EXPECT_EQ(reader.header(), sample_header());
  const ReadAll all(reader);
  EXPECT_EQ(all.owned.events, sample_events());
  EXPECT_TRUE(all.problems.empty());
  EXPECT_FALSE(reader.torn());
  EXPECT_TRUE(reader.saw_ending());
}

TEST(RecordingReader, ACompressedFileReadsTheSameInAnyNumberOfFrames) {
  const std::string text = sample_file();
  RecordingReader one = opened(zstd_frame(text));
  EXPECT_EQ(ReadAll(one).owned.events, sample_events());
  EXPECT_FALSE(one.torn());
  RecordingReader two = opened(zstd_frame(text.substr(0, 700)) + zstd_frame(text.substr(700)));
  EXPECT_EQ(ReadAll(two).owned.events, sample_events());
  EXPECT_FALSE(two.torn());
}

TEST(RecordingReader, AFileTornAnywhereGivesAllWholeLinesBeforeTheTear) {
  const std::string text = sample_file();
  const std::size_t header_bytes = text.find('\n') + 1;
  for (std::size_t size = header_bytes; size < text.size(); ++size) {
    const std::string torn = text.substr(0, size);
    RecordingReader reader = opened(torn);
    const ReadAll all(reader);
    const auto feeds = static_cast<std::size_t>(std::count(torn.begin(), torn.end(), '\n'));
    // A line that lacks only its line feed is whole.
    const bool whole_without_feed = text[size] == '\n';
    EXPECT_EQ(all.owned.events.size(), feeds - 1 + (whole_without_feed ? 1 : 0));
    EXPECT_EQ(reader.torn(), torn.back() != '\n' && !whole_without_feed);
    EXPECT_FALSE(reader.saw_ending() && size + 1 < text.size());
    EXPECT_TRUE(all.problems.empty());
  }
}

TEST(RecordingReader, ACompressedFileTornAnywhereIsTornOrWholeNeverWrong) {
  const std::string packed = zstd_frame(sample_file());
  const std::vector<RecordedEvent> events = sample_events();
  for (std::size_t size = 0; size < packed.size(); ++size) {
    Result<RecordingReader> reader = RecordingReader::from_bytes(packed.substr(0, size), "x");
    if (!reader.ok()) continue;  // the header itself is torn
    const ReadAll all(reader.value());
    EXPECT_TRUE(reader.value().torn()) << size;
    ASSERT_LE(all.owned.events.size(), events.size());
    for (std::size_t i = 0; i < all.owned.events.size(); ++i)
      EXPECT_EQ(all.owned.events[i], events[i]);
  }
}

TEST(RecordingReader, ABadLineIsNamedAndCostsNoOtherLine) {
  std::string text = sample_file();
  for (const char* bad : {"512,300", "{\"ns\":1", "\xff\xfe", "", "null"}) {
    std::string spoiled = text;
    std::size_t place = 0;
    for (int line = 1; line < 5; ++line) place = spoiled.find('\n', place) + 1;
    spoiled.insert(place, std::string(bad) + "\n");
    RecordingReader reader = opened(spoiled);
    const ReadAll all(reader);
    EXPECT_EQ(all.owned.events, sample_events()) << bad;
    ASSERT_EQ(all.problems.size(), 1U) << bad;
    EXPECT_TRUE(all.problems[0].starts_with("line 5: this is not ")) << all.problems[0];
  }
}

TEST(RecordingReader, CarriageReturnsBeforeTheLineFeedAreAccepted) {
  std::string text;
  for (const char c : sample_file()) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
  RecordingReader reader = opened(text);
  EXPECT_EQ(ReadAll(reader).owned.events, sample_events());
}

TEST(RecordingReader, WhatIsNoRecordingIsRefused) {
  EXPECT_EQ(refusal(""), "cannot read recording x.jsonl: the file is empty");
  EXPECT_EQ(refusal("\xef\xbb\xbf" + sample_file()),
            "cannot read recording x.jsonl: it begins with a byte order mark; save it as UTF-8 "
            "without one");
  EXPECT_EQ(refusal("panel = \"X\"\n"),
            "cannot read recording x.jsonl: this is not a recording: its first line is not a "
            "header with \"format\"");
  std::string newer = sample_file();
  newer.replace(newer.find("1.3"), 3, "2.0");
  EXPECT_EQ(refusal(newer),
            "cannot read recording x.jsonl: it is of format 2.0, and this program reads format 1; "
            "use a program of its time");
  EXPECT_NE(refusal("\x28\xb5\x2f\xfd damaged").find("the compressed data is damaged"),
            std::string::npos);
}

TEST(RecordingReader, AHundredMegabytesOfAnythingAreRefusedOrPassedOverInBoundedMemory) {
  const std::size_t huge = 100 * 1024 * 1024;
  EXPECT_EQ(refusal(std::string(huge, '\xa5')),
            "cannot read recording x.jsonl: this is not a recording: its first line is longer "
            "than 32 MiB");
  // Compressed it is small on disk and just as long for the reader.
  EXPECT_EQ(refusal(zstd_frame(std::string(huge, '{'))),
            "cannot read recording x.jsonl: this is not a recording: its first line is longer "
            "than 32 MiB");
  const std::string file = sample_file();
  RecordingReader reader = opened(file.substr(0, file.find('\n') + 1) + std::string(huge, 'x') +
                                  file.substr(file.find('\n')));
  const ReadAll all(reader);
  EXPECT_EQ(all.problems, std::vector<std::string>{"line 2: the line is longer than 8 MiB"});
  EXPECT_EQ(all.owned.events, sample_events());
}

TEST(RecordingReader, EventsOfANewerMinorFormatArePassedOverAndCounted) {
  std::string text = sample_file();
  const std::string newer_event = R"({"ns":1,"from":"weather","rain":true})"
                                  "\n";
  text.insert(text.find('\n') + 1, newer_event);
  RecordingReader now = opened(text);
  EXPECT_EQ(ReadAll(now).problems,
            std::vector<std::string>{"line 2: nothing comes from \"weather\""});
  text.replace(text.find("1.3"), 3, "1.7");
  RecordingReader later = opened(text);
  const ReadAll all(later);
  EXPECT_EQ(all.owned.events, sample_events());
  EXPECT_TRUE(all.problems.empty());
  EXPECT_EQ(later.passed_over(), 1);
}

TEST(RecordingReader, AMissingFileAndAFolderAreErrors) {
  const Result<RecordingReader> missing = RecordingReader::open("no-such.jsonl");
  ASSERT_FALSE(missing.ok());
  EXPECT_EQ(missing.error().text, "cannot read recording no-such.jsonl: No such file or directory");
  const Result<RecordingReader> folder = RecordingReader::open(".");
  ASSERT_FALSE(folder.ok());
  EXPECT_EQ(folder.error().text, "cannot read recording .: reading failed: Is a directory");
}

}  // namespace
}  // namespace understudy
