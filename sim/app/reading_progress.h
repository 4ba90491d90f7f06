// How far the reading of large files has come, and how long it will still take: one line that is
// written over, on a terminal alone.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/link/pacer.h"

namespace understudy {

// Writes to standard error; nothing in the first second. Thread: one.
class ReadingProgress {
 public:
  // `quiet`: never anything. What cannot be sized (a pipe) has no progress.
  ReadingProgress(const std::vector<std::string>& files, bool quiet);

  void begin(const std::string& file);
  // Of the file begun last, `bytes` were read.
  void read(std::int64_t bytes);
  // Takes the line away.
  void clear();

 private:
  bool shown_;
  Pacer clock_;
  std::int64_t all_bytes_ = 0;
  std::int64_t done_bytes_ = 0;  // of the files before
  std::int64_t file_bytes_ = 0;
  std::string file_;
  Instant told_at_;
  bool told_ = false;
};

// "reading evening.jsonl: 41 %, about 12 s left". REQUIRES: 0 <= done <= all, all > 0
std::string reading_words(const std::string& file, std::int64_t done, std::int64_t all,
                          Duration passed);

}  // namespace understudy
