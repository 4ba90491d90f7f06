// Sizes of files, and the line.
#include "sim/app/reading_progress.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "sim/app/utf8_path.h"

namespace understudy {
namespace {

constexpr Duration kSilentFor = seconds(1);
constexpr Duration kBetween = milliseconds(200);

std::int64_t size_of(const std::string& file) {
  std::error_code error;
  const auto size = std::filesystem::file_size(path_of(file), error);
  return error ? 0 : static_cast<std::int64_t>(size);
}

}  // namespace

std::string reading_words(const std::string& file, std::int64_t done, std::int64_t all,
                          Duration passed) {
  const double share = static_cast<double>(done) / static_cast<double>(all);
  std::string text = fmt::format("reading {}: {:.0f} %", file, share * 100);
  if (done <= 0) return text;
  const double left = static_cast<double>(passed.ns) / 1e9 * (1 - share) / share;
  return text + (left < 90 ? fmt::format(", about {:.0f} s left", left)
                           : fmt::format(", about {:.0f} min left", left / 60));
}

ReadingProgress::ReadingProgress(const std::vector<std::string>& files, bool quiet)
    : shown_(!quiet && isatty(STDERR_FILENO) == 1) {
  for (const std::string& file : files) all_bytes_ += size_of(file);
}

void ReadingProgress::begin(const std::string& file) {
  done_bytes_ += file_bytes_;
  file_ = file;
  file_bytes_ = size_of(file);
}

void ReadingProgress::read(std::int64_t bytes) {
  if (!shown_ || all_bytes_ <= 0) return;
  const Instant now = clock_.clock();
  if (now - Instant{} < kSilentFor || (told_ && now - told_at_ < kBetween)) return;
  told_ = true;
  told_at_ = now;
  const std::int64_t done = std::min(done_bytes_ + std::min(bytes, file_bytes_), all_bytes_);
  std::fprintf(stderr, "\r\x1b[K%s",
               reading_words(file_, done, all_bytes_, now - Instant{}).c_str());
  std::fflush(stderr);
}

void ReadingProgress::clear() {
  if (!told_) return;
  std::fputs("\r\x1b[K", stderr);
  std::fflush(stderr);
  told_ = false;
}

}  // namespace understudy
