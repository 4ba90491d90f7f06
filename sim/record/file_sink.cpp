// Unbuffered writing by the C library; what is packed is flushed block by block, so that a file
// whose writer was killed unpacks up to its last block.
#include "sim/record/file_sink.h"

#include <cerrno>
#include <cstring>

#include "sim/base/open_file.h"
#include "sim/record/file_length.h"

namespace understudy {
namespace {

// Where the last lines of a plain file are looked for when an ending has to replace them.
constexpr std::int64_t kTailBytes = 16 * 1024;

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

}  // namespace

FileSink::FileSink(std::FILE* file, std::string path, std::unique_ptr<Packer> packer)
    : file_(file), path_(std::move(path)), packer_(std::move(packer)) {}

FileSink::FileSink(FileSink&& other) noexcept
    : file_(std::exchange(other.file_, nullptr)),
      path_(std::move(other.path_)),
      packer_(std::move(other.packer_)),
      written_(other.written_) {}

FileSink::~FileSink() {
  if (file_ != nullptr) std::fclose(file_);
}

Result<FileSink> FileSink::open(const FileSinkOptions& options) {
  const std::string tried = "cannot write recording " + options.path + ": ";
  std::unique_ptr<Packer> packer;
  if (options.path.ends_with(".zst")) {
    Result<std::unique_ptr<Packer>> made = Packer::make();
    if (!made.ok()) return unusable(tried + made.error().text);
    packer = std::move(made).value();
  }
  std::FILE* file = open_file(options.path, options.force ? FileUse::kOverwrite : FileUse::kMake);
  if (file == nullptr) {
    if (errno == EEXIST)
      return unusable(tried + "the file exists; give another name, or --force to overwrite it");
    return unusable(tried + std::strerror(errno));
  }
  std::setvbuf(file, nullptr, _IONBF, 0);
  return FileSink(file, options.path, std::move(packer));
}

Result<Done> FileSink::put(std::span<const char> bytes) {
  if (bytes.empty()) return Done{};
  errno = 0;
  const std::size_t size = std::fwrite(bytes.data(), 1, bytes.size(), file_);
  written_ += static_cast<std::int64_t>(size);
  if (size == bytes.size()) return Done{};
  return unusable("cannot write recording " + path_ + ": " + std::strerror(errno));
}

Result<Done> FileSink::pack(std::span<const char> text, Packer::Upto upto) {
  return packer_->pack(text, upto, [this](std::span<const char> packed) { return put(packed); });
}

Result<Done> FileSink::write(std::span<const char> text) {
  return packer_ ? pack(text, Packer::Upto::kWhatFits) : put(text);
}

Result<Done> FileSink::flush() {
  return packer_ ? pack({}, Packer::Upto::kFlushed) : Result<Done>(Done{});
}

Result<Done> FileSink::close() {
  if (packer_) {
    const Result<Done> ended = pack({}, Packer::Upto::kEnded);
    if (!ended.ok()) return ended;
  }
  if (std::fclose(std::exchange(file_, nullptr)) == 0) return Done{};
  return unusable("cannot close recording " + path_ + ": " + std::strerror(errno));
}

void FileSink::end_early(std::string_view line) {
  const std::int64_t tail_begin = written_ > kTailBytes ? written_ - kTailBytes : 0;
  if (packer_ || !seek_file(file_, tail_begin)) return;
  std::string tail(static_cast<std::size_t>(written_ - tail_begin), '\0');
  if (std::fread(tail.data(), 1, tail.size(), file_) != tail.size()) return;
  if (tail.size() < line.size()) return;
  // The line feed after which `line` fits into what the file has.
  const std::size_t feed = tail.rfind('\n', tail.size() - line.size());
  if (feed == std::string::npos || feed + 1 + line.size() > tail.size()) return;
  const std::int64_t place = tail_begin + static_cast<std::int64_t>(feed) + 1;
  if (!seek_file(file_, place)) return;
  if (std::fwrite(line.data(), 1, line.size(), file_) != line.size()) return;
  std::fflush(file_);
  cut_file(file_, place + static_cast<std::int64_t>(line.size()));
}

}  // namespace understudy
