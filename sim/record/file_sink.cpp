// Unbuffered writing by the C library; Zstandard by libzstd, flushed block by block so that a file
// whose writer was killed decompresses up to its last block.
#include "sim/record/file_sink.h"

#include <zstd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <vector>

namespace understudy {
namespace {

// Level 1 packs traffic about 6.6 times and level 3 no better, at twice the cost.
constexpr int kCompressionLevel = 1;
// Where the last lines of a plain file are looked for when an ending has to replace them.
constexpr std::int64_t kTailBytes = 16 * 1024;

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

}  // namespace

struct FileSink::Compressor {
  Compressor() : context(ZSTD_createCCtx()), room(ZSTD_CStreamOutSize()) {
    ZSTD_CCtx_setParameter(context, ZSTD_c_compressionLevel, kCompressionLevel);
    ZSTD_CCtx_setParameter(context, ZSTD_c_checksumFlag, 1);
  }
  ~Compressor() { ZSTD_freeCCtx(context); }
  Compressor(const Compressor&) = delete;
  Compressor& operator=(const Compressor&) = delete;

  ZSTD_CCtx* context;
  std::vector<char> room;
};

FileSink::FileSink(std::FILE* file, std::string path, bool compressed)
    : file_(file),
      path_(std::move(path)),
      compressor_(compressed ? std::make_unique<Compressor>() : nullptr) {}

FileSink::FileSink(FileSink&& other) noexcept
    : file_(std::exchange(other.file_, nullptr)),
      path_(std::move(other.path_)),
      compressor_(std::move(other.compressor_)),
      written_(other.written_) {}

FileSink::~FileSink() {
  if (file_ != nullptr) std::fclose(file_);
}

Result<FileSink> FileSink::open(const FileSinkOptions& options) {
  // x: only a new file; e: not inherited by a game that is started. "w" alone empties an old one.
  std::FILE* file = std::fopen(options.path.c_str(), options.force ? "w+be" : "w+bxe");
  if (file == nullptr) {
    const std::string tried = "cannot write recording " + options.path + ": ";
    if (errno == EEXIST)
      return unusable(tried + "the file exists; give another name, or --force to overwrite it");
    return unusable(tried + std::strerror(errno));
  }
  std::setvbuf(file, nullptr, _IONBF, 0);
  return FileSink(file, options.path, options.path.ends_with(".zst"));
}

Result<Done> FileSink::put(std::span<const char> bytes) {
  if (bytes.empty()) return Done{};
  errno = 0;
  const std::size_t size = std::fwrite(bytes.data(), 1, bytes.size(), file_);
  written_ += static_cast<std::int64_t>(size);
  if (size == bytes.size()) return Done{};
  return unusable("cannot write recording " + path_ + ": " + std::strerror(errno));
}

Result<Done> FileSink::compress(std::span<const char> text, int how) {
  const auto directive = static_cast<ZSTD_EndDirective>(how);
  ZSTD_inBuffer in{text.data(), text.size(), 0};
  for (;;) {
    ZSTD_outBuffer out{compressor_->room.data(), compressor_->room.size(), 0};
    const std::size_t left = ZSTD_compressStream2(compressor_->context, &out, &in, directive);
    if (ZSTD_isError(left) != 0)
      return unusable("cannot compress recording " + path_ + ": " + ZSTD_getErrorName(left));
    const Result<Done> written = put({compressor_->room.data(), out.pos});
    if (!written.ok()) return written;
    if (directive == ZSTD_e_continue ? in.pos == in.size : left == 0) return Done{};
  }
}

Result<Done> FileSink::write(std::span<const char> text) {
  return compressor_ ? compress(text, ZSTD_e_continue) : put(text);
}

Result<Done> FileSink::flush() {
  return compressor_ ? compress({}, ZSTD_e_flush) : Result<Done>(Done{});
}

Result<Done> FileSink::close() {
  if (compressor_) {
    const Result<Done> ended = compress({}, ZSTD_e_end);
    if (!ended.ok()) return ended;
  }
  if (std::fclose(std::exchange(file_, nullptr)) == 0) return Done{};
  return unusable("cannot close recording " + path_ + ": " + std::strerror(errno));
}

void FileSink::end_early(std::string_view line) {
  const std::int64_t tail_begin = written_ > kTailBytes ? written_ - kTailBytes : 0;
  if (compressor_ || std::fseek(file_, static_cast<long>(tail_begin), SEEK_SET) != 0) return;
  std::string tail(static_cast<std::size_t>(written_ - tail_begin), '\0');
  if (std::fread(tail.data(), 1, tail.size(), file_) != tail.size()) return;
  if (tail.size() < line.size()) return;
  // The line feed after which `line` fits into what the file has.
  const std::size_t feed = tail.rfind('\n', tail.size() - line.size());
  if (feed == std::string::npos || feed + 1 + line.size() > tail.size()) return;
  const std::int64_t place = tail_begin + static_cast<std::int64_t>(feed) + 1;
  if (std::fseek(file_, static_cast<long>(place), SEEK_SET) != 0) return;
  if (std::fwrite(line.data(), 1, line.size(), file_) != line.size()) return;
  std::fflush(file_);
  std::error_code ignored;
  std::filesystem::resize_file(path_, static_cast<std::uintmax_t>(place) + line.size(), ignored);
}

}  // namespace understudy
