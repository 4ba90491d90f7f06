// Writing: what was written reads back, an existing file is safe, a full ring and a full disk end
// the recording with words and leave a file that opens.
#include "sim/record/writer.h"

#include <gtest/gtest.h>

#include <sys/resource.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "sim/base/random.h"
#include "tests/sim/record/samples.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

class RecordingWriterTest : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = testing::TempDir() + "writer_XXXXXX";
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::string path(const char* name) const { return (folder_ / name).string(); }

  static std::unique_ptr<RecordingWriter> opened(const RecordingWriterOptions& options) {
    Result<std::unique_ptr<RecordingWriter>> writer =
        RecordingWriter::open(options, sample_header());
    EXPECT_TRUE(writer.ok()) << writer.error().text;
    return std::move(writer).value();
  }
  static ReadAll read(const std::string& path) {
    Result<RecordingReader> reader = RecordingReader::open(path);
    EXPECT_TRUE(reader.ok()) << reader.error().text;
    return ReadAll(reader.value());
  }
  // Sample events without their ending, which a writer puts by itself.
  static std::vector<RecordedEvent> without_ending() {
    std::vector<RecordedEvent> events = sample_events();
    events.pop_back();
    return events;
  }

  fs::path folder_;
};

TEST_F(RecordingWriterTest, WhatWasWrittenReadsBackPlainAndCompressed) {
  for (const char* name : {"a.jsonl", "a.jsonl.zst"}) {
    auto writer = opened({.path = path(name)});
    for (const RecordedEvent& event : without_ending()) EXPECT_TRUE(writer->write(event));
    ASSERT_TRUE(writer->close().ok());
    EXPECT_EQ(read(path(name)).owned.events, sample_events()) << name;
  }
}

TEST_F(RecordingWriterTest, AWriterThatIsLeftUnclosedDoesNotSayComplete) {
  {
    auto writer = opened({.path = path("a.jsonl")});
    EXPECT_TRUE(writer->write({Instant{7}, 0, recorded::ToGame{"1\n"}}));
  }
  const ReadAll all = read(path("a.jsonl"));
  ASSERT_EQ(all.owned.events.size(), 2U);
  EXPECT_EQ(all.owned.events[1],
            (RecordedEvent{Instant{7}, kWholeSession, recorded::Ended{kEndedLeft}}));
}

TEST_F(RecordingWriterTest, AnExistingFileIsKeptUnlessForced) {
  std::ofstream(path("a.jsonl")) << "dear diary";
  const auto refused = RecordingWriter::open({.path = path("a.jsonl")}, sample_header());
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.error().text,
            "cannot write recording " + path("a.jsonl") +
                ": the file exists; give another name, or --force to overwrite it");
  EXPECT_EQ(fs::file_size(path("a.jsonl")), 10U);
  ASSERT_TRUE(opened({.path = path("a.jsonl"), .force = true})->close().ok());
  EXPECT_EQ(read(path("a.jsonl")).owned.events.size(), 1U);
}

TEST_F(RecordingWriterTest, AFolderThatIsNotThereIsAnError) {
  const auto refused = RecordingWriter::open({.path = path("no/a.jsonl")}, sample_header());
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.error().text,
            "cannot write recording " + path("no/a.jsonl") + ": No such file or directory");
}

TEST_F(RecordingWriterTest, AFullDiskFromTheBeginningIsAnErrorOfOpen) {
  if (!fs::exists("/dev/full")) GTEST_SKIP() << "this system has no /dev/full";
  const auto refused = RecordingWriter::open({.path = "/dev/full", .force = true}, sample_header());
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.error().text, "cannot write recording /dev/full: No space left on device");
}

TEST_F(RecordingWriterTest, VirtualTimeWaitsForTheDiskAndLosesNothing) {
  auto writer =
      opened({.path = path("a.jsonl"), .when_full = WhenRingFull::kWaits, .ring_bytes = 4'096});
  for (int i = 0; i < 20'000; ++i)
    ASSERT_TRUE(writer->write({Instant{i}, 0, recorded::ToGame{"512,300,1,0,0\n"}}));
  ASSERT_TRUE(writer->close().ok());
  EXPECT_FALSE(writer->ended_early());
  const ReadAll all = read(path("a.jsonl"));
  ASSERT_EQ(all.owned.events.size(), 20'001U);
  for (int i = 0; i < 20'000; ++i) ASSERT_EQ(all.owned.events[i].at.ns, i);
}

TEST_F(RecordingWriterTest, AFullRingEndsTheRecordingWithAnEndingAndWords) {
  auto writer = opened({.path = path("a.jsonl"), .ring_bytes = 4'096});
  int kept = 0;
  while (writer->write({Instant{kept}, 0, recorded::ToGame{std::string(1'000, 'x')}})) ++kept;
  const std::optional<std::string> told = writer->ended_early();
  ASSERT_TRUE(told.has_value());
  EXPECT_NE(told->find("events came faster than the disk took them"), std::string::npos) << *told;
  EXPECT_FALSE(writer->write({Instant{kept}, 0, recorded::ToGame{"x"}})) << "it stays ended";
  const Result<Done> closed = writer->close();
  ASSERT_FALSE(closed.ok());
  EXPECT_EQ(closed.error().text, *told);
  const ReadAll all = read(path("a.jsonl"));
  EXPECT_TRUE(all.problems.empty());
  ASSERT_EQ(all.owned.events.size(), static_cast<std::size_t>(kept) + 1);
  const auto* ended = std::get_if<recorded::Ended>(&all.owned.events.back().what);
  ASSERT_NE(ended, nullptr);
  EXPECT_NE(ended->reason, kEndedComplete);
}

// A limit on the size of files stands for the full disk: writing fails in the same way, with words
// of its own, and no rights are needed.
class SmallDisk {
 public:
  explicit SmallDisk(rlim_t bytes) {
    std::signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &before_);
    rlimit small = before_;
    small.rlim_cur = bytes;
    setrlimit(RLIMIT_FSIZE, &small);
  }
  ~SmallDisk() {
    setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, SIG_DFL);
  }

 private:
  rlimit before_{};
};

TEST_F(RecordingWriterTest, AFullDiskEndsTheRecordingWithAnEndingAndWords) {
  const SmallDisk disk(20'000);
  auto writer =
      opened({.path = path("a.jsonl"), .when_full = WhenRingFull::kWaits, .ring_bytes = 4'096});
  int written = 0;
  while (writer->write({Instant{written}, 0, recorded::ToGame{"512,300,1,0,0\n"}})) {
    ASSERT_LT(++written, 100'000) << "the disk never got full";
  }
  const Result<Done> closed = writer->close();
  ASSERT_FALSE(closed.ok());
  EXPECT_NE(closed.error().text.find("cannot write recording " + path("a.jsonl") + ": "),
            std::string::npos);
  EXPECT_EQ(closed.error().text, writer->ended_early());
  EXPECT_LE(fs::file_size(path("a.jsonl")), 20'000U);

  const ReadAll all = read(path("a.jsonl"));
  EXPECT_TRUE(all.problems.empty());
  const auto& events = all.owned.events;
  ASSERT_GT(events.size(), 200U);
  for (std::size_t i = 0; i + 1 < events.size(); ++i)
    ASSERT_EQ(events[i].at.ns, static_cast<std::int64_t>(i));
  const auto* ended = std::get_if<recorded::Ended>(&events.back().what);
  ASSERT_NE(ended, nullptr);
  EXPECT_EQ(closed.error().text.find(ended->reason) == std::string::npos, false) << ended->reason;
}

TEST_F(RecordingWriterTest, AFullDiskCutsACompressedRecordingThatStillOpens) {
  const SmallDisk disk(20'000);
  auto writer =
      opened({.path = path("a.jsonl.zst"), .when_full = WhenRingFull::kWaits, .ring_bytes = 4'096});
  Stream chance(3, "bytes");
  int written = 0;
  while (writer->write({Instant{written}, 0, recorded::ToGame{std::to_string(chance.bits())}})) {
    ASSERT_LT(++written, 1'000'000) << "the disk never got full";
  }
  EXPECT_FALSE(writer->close().ok());
  const ReadAll all = read(path("a.jsonl.zst"));
  EXPECT_TRUE(all.problems.empty());
  ASSERT_GT(all.owned.events.size(), 200U);
  for (std::size_t i = 0; i < all.owned.events.size(); ++i)
    ASSERT_EQ(all.owned.events[i].at.ns, static_cast<std::int64_t>(i));
}

}  // namespace
}  // namespace understudy
