// The file that a recording goes into, compressed where its name ends in .zst. Every call of
// flush() leaves a file that opens, whatever becomes of the program afterwards.
#pragma once

#include <cstdint>
#include <cstdio>
#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "sim/base/result.h"
#include "sim/record/packing.h"

namespace understudy {

struct FileSinkOptions {
  std::string path;
  bool force = false;  // an existing file is emptied; else it is an error
};

// Movable. Thread: one at a time. All calls may block on the disk.
class FileSink {
 public:
  // Errors (kUnusable): the file exists, or cannot be made, or not compressed by this build.
  static Result<FileSink> open(const FileSinkOptions& options);
  FileSink(FileSink&&) noexcept;
  ~FileSink();

  // Errors of all three: what the system said, such as that the disk is full. After one, only
  // end_early() makes sense.
  Result<Done> write(std::span<const char> text);
  Result<Done> flush();
  Result<Done> close();

  // After a failed write on a full disk: puts `line` where the last lines stand, in room that the
  // file has already, and cuts it off behind. Not for compressed files, which just end.
  void end_early(std::string_view line);

 private:
  FileSink(std::FILE* file, std::string path, std::unique_ptr<Packer> packer);
  Result<Done> put(std::span<const char> bytes);
  Result<Done> pack(std::span<const char> text, Packer::Upto upto);

  std::FILE* file_;
  std::string path_;
  std::unique_ptr<Packer> packer_;  // none for plain text
  std::int64_t written_ = 0;        // bytes that the system has accepted
};

}  // namespace understudy
