// Where the bytes of a recording come from: a file or memory, compressed or not. Lines are cut by
// line_source.h.
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <string>

#include "sim/base/result.h"

namespace understudy {

// The role. Thread: one at a time; read() may block on a slow disk or a pipe.
class ByteSource {
 public:
  virtual ~ByteSource() = default;
  // Fills some of `to` and returns how much; 0 at the end. Errors: what the system or the
  // decompressor said; after one, further calls give the same or the end.
  virtual Result<std::size_t> read(std::span<char> to) = 0;
  // At the end: whether it came too early, in the middle of a compressed frame.
  [[nodiscard]] virtual bool torn() const { return false; }
};

std::unique_ptr<ByteSource> memory_source(std::string bytes);

// A file as it lies there, compressed or not. Errors: kUnusable, with the path and the system's
// words.
Result<std::unique_ptr<ByteSource>> file_source(const std::string& path);

// Opens a file. Zstandard (RFC 8878) is known by its first bytes, whatever the file is called.
// Errors: kUnusable, with the path and the system's words.
Result<std::unique_ptr<ByteSource>> open_source(const std::string& path);

// Looks at the first bytes of `source` and puts a decompressor before it where they ask for one.
Result<std::unique_ptr<ByteSource>> decompressed(std::unique_ptr<ByteSource> source);

}  // namespace understudy
