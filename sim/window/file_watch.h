// When a file on the disk is to be read again: decided from what the system says of it and the
// time, without reading either.
#pragma once

#include <cstdint>
#include <string>

#include "sim/base/time.h"

namespace understudy {

// What tells one content of a file from the next.
struct FileStamp {
  bool there = false;
  std::int64_t changed_ns = 0;  // of the file system's own clock
  std::int64_t bytes = 0;
  std::uint64_t node = 0;  // another one where an editor has put a new file in its place
  friend bool operator==(const FileStamp&, const FileStamp&) = default;
};
// Of the file that a path leads to; links are followed.
FileStamp stamp_of(const std::string& path);

enum class WatchVerdict : std::uint8_t {
  kNothing,
  kRead,  // it has been as it is for kSettled, and it is not what was read last
  kGone,  // there has been no such file for kGoneAfter; said once
};

class FileWatch {
 public:
  static constexpr Duration kSettled = milliseconds(100);
  // Some editors take the old file away before the new one is there.
  static constexpr Duration kGoneAfter = milliseconds(500);

  // Call with times that do not go back.
  WatchVerdict look(const FileStamp& stamp, Duration now);
  // The file was read while it was like this; where it has changed meanwhile, look() says so.
  void was_read(const FileStamp& stamp);

 private:
  FileStamp seen_;
  FileStamp read_;
  Duration since_{};
  bool looked_ = false;
  bool ever_read_ = false;
  bool told_gone_ = false;
};

}  // namespace understudy
