// Files by the C library, Zstandard by libzstd's streaming interface: memory stays bounded by its
// window, whatever the file claims.
#include "sim/record/byte_source.h"

#include <zstd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <string_view>
#include <vector>

namespace understudy {
namespace {

constexpr std::string_view kZstdMagic("\x28\xb5\x2f\xfd", 4);
constexpr std::size_t kPackedBytes = 128 * 1024;

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

struct FileCloser {
  void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, FileCloser>;

class FileSource : public ByteSource {
 public:
  explicit FileSource(File file) : file_(std::move(file)) {}
  Result<std::size_t> read(std::span<char> to) override {
    errno = 0;
    const std::size_t size = std::fread(to.data(), 1, to.size(), file_.get());
    if (size == 0 && std::ferror(file_.get()) != 0)
      return unusable(std::string("reading failed: ") + std::strerror(errno));
    return size;
  }

 private:
  File file_;
};

class MemorySource : public ByteSource {
 public:
  explicit MemorySource(std::string bytes) : bytes_(std::move(bytes)) {}
  Result<std::size_t> read(std::span<char> to) override {
    const std::size_t size = std::min(to.size(), bytes_.size() - at_);
    std::copy_n(bytes_.data() + at_, size, to.data());
    at_ += size;
    return size;
  }

 private:
  std::string bytes_;
  std::size_t at_ = 0;
};

// Bytes that were looked at already, then the rest.
class PeekedSource : public ByteSource {
 public:
  PeekedSource(std::string front, std::unique_ptr<ByteSource> rest)
      : front_(std::move(front)), rest_(std::move(rest)) {}
  Result<std::size_t> read(std::span<char> to) override {
    if (at_ == front_.size()) return rest_->read(to);
    const std::size_t size = std::min(to.size(), front_.size() - at_);
    std::copy_n(front_.data() + at_, size, to.data());
    at_ += size;
    return size;
  }

 private:
  std::string front_;
  std::size_t at_ = 0;
  std::unique_ptr<ByteSource> rest_;
};

struct DecompressorCloser {
  void operator()(ZSTD_DCtx* context) const { ZSTD_freeDCtx(context); }
};

class ZstdSource : public ByteSource {
 public:
  explicit ZstdSource(std::unique_ptr<ByteSource> packed)
      : source_(std::move(packed)), context_(ZSTD_createDCtx()), packed_(kPackedBytes) {}

  Result<std::size_t> read(std::span<char> to) override {
    ZSTD_outBuffer out{to.data(), to.size(), 0};
    while (out.pos == 0) {
      if (in_.pos == in_.size && !more_inside_) {
        const Result<std::size_t> got = source_->read(packed_);
        if (!got.ok()) return got;
        if (got.value() == 0) return std::size_t{0};
        in_ = {packed_.data(), got.value(), 0};
      }
      const std::size_t left = ZSTD_decompressStream(context_.get(), &out, &in_);
      if (ZSTD_isError(left) != 0)
        return unusable(std::string("the compressed data is damaged: ") + ZSTD_getErrorName(left));
      inside_frame_ = left != 0;
      more_inside_ = out.pos == out.size;
    }
    return out.pos;
  }
  [[nodiscard]] bool torn() const override { return inside_frame_; }

 private:
  std::unique_ptr<ByteSource> source_;
  std::unique_ptr<ZSTD_DCtx, DecompressorCloser> context_;
  std::vector<char> packed_;
  ZSTD_inBuffer in_{nullptr, 0, 0};
  bool inside_frame_ = false;
  bool more_inside_ = false;  // the last call filled `to`: there may be more without more input
};

}  // namespace

std::unique_ptr<ByteSource> memory_source(std::string bytes) {
  return std::make_unique<MemorySource>(std::move(bytes));
}

Result<std::unique_ptr<ByteSource>> decompressed(std::unique_ptr<ByteSource> source) {
  std::string front;
  while (front.size() < kZstdMagic.size()) {
    std::array<char, 4> some{};
    const Result<std::size_t> got =
        source->read(std::span(some).first(kZstdMagic.size() - front.size()));
    if (!got.ok()) return got.error();
    if (got.value() == 0) break;
    front.append(some.data(), got.value());
  }
  const bool packed = front == kZstdMagic;
  std::unique_ptr<ByteSource> all =
      std::make_unique<PeekedSource>(std::move(front), std::move(source));
  if (packed) all = std::make_unique<ZstdSource>(std::move(all));
  return all;
}

Result<std::unique_ptr<ByteSource>> open_source(const std::string& path) {
  File file(std::fopen(path.c_str(), "rbe"));
  const std::string tried = "cannot read recording " + path + ": ";
  if (!file) return unusable(tried + std::strerror(errno));
  std::setvbuf(file.get(), nullptr, _IONBF, 0);  // the line source has a buffer of its own
  Result<std::unique_ptr<ByteSource>> source =
      decompressed(std::make_unique<FileSource>(std::move(file)));
  if (!source.ok()) return unusable(tried + source.error().text);
  return source;
}

}  // namespace understudy
