// A writer that is killed without warning: at most 100 ms of events are lost, and the file opens.
// Real time, so it allows the machine's timers another 30 ms.
#include <gtest/gtest.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <thread>

#include "sim/base/random.h"
#include "sim/record/reader.h"
#include "sim/record/writer.h"

namespace understudy {
namespace {

constexpr Duration kLossMax = milliseconds(100);
constexpr Duration kTimers = milliseconds(30);

// What the child tells while it lives: the time of the last event that it handed to the writer.
using Told = std::atomic<std::int64_t>;

// Writes about a thousand events a second, each with the time since the beginning, until killed.
[[noreturn]] void write_until_killed(const std::string& path, Told& told) {
  RecordingHeader header;
  header.seats.push_back({.name = "tram", .panel = "", .resolved = "", .links = {}});
  auto writer = RecordingWriter::open({.path = path, .force = true}, header);
  if (!writer.ok()) _exit(1);
  const auto begin = std::chrono::steady_clock::now();
  for (;;) {
    const std::chrono::nanoseconds since = std::chrono::steady_clock::now() - begin;
    if (!writer.value()->write({Instant{since.count()}, 0, recorded::ToGame{"512,300,1,0,0\n"}}))
      _exit(1);
    told.store(since.count());
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
}

struct Kept {
  std::int64_t events = 0;
  Instant last;
};

Kept read_what_is_left(const std::string& path) {
  Kept kept;
  Result<RecordingReader> reader = RecordingReader::open(path);
  EXPECT_TRUE(reader.ok()) << reader.error().text;
  if (!reader.ok()) return kept;
  RecordedEvent event;
  for (;;) {
    const RecordingReader::Got got = reader.value().next(event);
    if (got == RecordingReader::Got::kEnd) break;
    EXPECT_EQ(got, RecordingReader::Got::kEvent) << reader.value().problem();
    EXPECT_GE(event.at, kept.last);
    kept.last = event.at;
    ++kept.events;
  }
  return kept;
}

void kill_at_random_times(const std::string& path) {
  void* const shared =
      mmap(nullptr, sizeof(Told), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  ASSERT_NE(shared, MAP_FAILED);
  Told& told = *new (shared) Told(0);
  Stream chance(1, "kills " + path);
  for (int i = 0; i < 10; ++i) {
    told = 0;
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) write_until_killed(path, told);
    std::this_thread::sleep_for(std::chrono::milliseconds(150 + chance.below(350)));
    kill(child, SIGKILL);
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status)) << "the writer ended by itself";
    const Kept kept = read_what_is_left(path);
    EXPECT_GT(kept.events, 10);
    EXPECT_LE(Instant{told} - kept.last, kLossMax + kTimers)
        << "kill " << i << " after " << told / 1'000'000 << " ms";
  }
  munmap(shared, sizeof(Told));
  std::filesystem::remove(path);
}

TEST(RecordingKilled, APlainFileLosesAtMostATenthOfASecond) {
  kill_at_random_times("killed.jsonl");
}

TEST(RecordingKilled, ACompressedFileLosesAtMostATenthOfASecond) {
  kill_at_random_times("killed.jsonl.zst");
}

}  // namespace
}  // namespace understudy
