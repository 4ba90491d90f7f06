// The one place that asks for a file's stamp.
#include "sim/window/file_watch.h"

#include <sys/stat.h>

namespace understudy {

FileStamp stamp_of(const std::string& path) {
  struct stat status = {};
  if (::stat(path.c_str(), &status) != 0) return {};
  return {
      .there = true,
      .changed_ns = std::int64_t{status.st_mtim.tv_sec} * 1'000'000'000 + status.st_mtim.tv_nsec,
      .bytes = status.st_size,
      .node = status.st_ino};
}

WatchVerdict FileWatch::look(const FileStamp& stamp, Duration now) {
  if (!looked_ || stamp != seen_) {
    looked_ = true;
    seen_ = stamp;
    since_ = now;
  }
  if (stamp.there) {
    told_gone_ = false;
    const bool fresh = !ever_read_ || stamp != read_;
    return fresh && now - since_ >= kSettled ? WatchVerdict::kRead : WatchVerdict::kNothing;
  }
  if (told_gone_ || now - since_ < kGoneAfter) return WatchVerdict::kNothing;
  told_gone_ = true;
  ever_read_ = false;  // whatever comes back is read
  return WatchVerdict::kGone;
}

void FileWatch::was_read(const FileStamp& stamp) {
  read_ = stamp;
  ever_read_ = true;
}

}  // namespace understudy
