// Files by the C library; what is packed in them is unpacked by packing.h.
#include "sim/record/byte_source.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <string_view>

#include "sim/base/open_file.h"
#include "sim/record/packing.h"

namespace understudy {
namespace {

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
  if (packed) return unpacked(std::move(all));
  return all;
}

Result<std::unique_ptr<ByteSource>> file_source(const std::string& path) {
  File file(open_file(path, FileUse::kRead));
  if (!file) return unusable("cannot read recording " + path + ": " + std::strerror(errno));
  std::setvbuf(file.get(), nullptr, _IONBF, 0);  // the line source has a buffer of its own
  return std::unique_ptr<ByteSource>(std::make_unique<FileSource>(std::move(file)));
}

Result<std::unique_ptr<ByteSource>> open_source(const std::string& path) {
  Result<std::unique_ptr<ByteSource>> file = file_source(path);
  if (!file.ok()) return file;
  Result<std::unique_ptr<ByteSource>> source = decompressed(std::move(file).value());
  if (!source.ok()) return unusable("cannot read recording " + path + ": " + source.error().text);
  return source;
}

}  // namespace understudy
