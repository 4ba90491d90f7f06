// By a temporary file in the same folder and rename(), which POSIX makes one step.
#include "sim/window/save_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <memory>

#include "sim/base/open_file.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

Error cannot(const char* what, const std::string& path, int code) {
  std::string advice;
  if (code == EACCES || code == EROFS || code == EPERM)
    advice = "; the edits are kept here, save them where you may write";
  if (code == ENOSPC) advice = "; the edits are kept here, make room and save again";
  return {ErrorCode::kUnusable,
          std::string("cannot ") + what + " " + path + ": " + std::strerror(code) + advice};
}

// Where a path leads to at last; the path itself where nothing is there yet.
std::string led_to(const std::string& path) {
  const std::unique_ptr<char, void (*)(void*)> real(::realpath(path.c_str(), nullptr), std::free);
  return real ? std::string(real.get()) : path;
}

bool write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(file, text.data(), text.size());
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    text.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

}  // namespace

Result<Done> save_file(const std::string& path, std::string_view text) {
  const std::string target = led_to(path);
  struct stat status = {};
  const bool there = ::stat(target.c_str(), &status) == 0;
  std::string beside = target + ".XXXXXX";
  const int file = ::mkostemp(beside.data(), O_CLOEXEC);
  if (file < 0) return cannot("write beside", path, errno);
  const auto fail = [&](const char* what) {
    const int code = errno;
    ::close(file);
    ::unlink(beside.c_str());
    return cannot(what, path, code);
  };
  if (!write_all(file, text) || ::fsync(file) != 0) return fail("write");
  const auto usual = static_cast<mode_t>(0644);
  const mode_t mode = there ? status.st_mode & static_cast<mode_t>(07777) : usual;
  if (::fchmod(file, mode) != 0) return fail("keep the rights of");
  if (there && ::access(target.c_str(), W_OK) != 0) return fail("write");
  if (::close(file) != 0 || ::rename(beside.c_str(), target.c_str()) != 0) {
    const int code = errno;
    ::unlink(beside.c_str());
    return cannot("replace", path, code);
  }
  return Done{};
}

Result<std::string> read_whole(const std::string& path) {
  if (is_pipe_or_device(path))
    return Error{ErrorCode::kUnusable,
                 "cannot read " + path + ": it is a pipe or a device, and no panel file"};
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(open_file(path, FileUse::kRead),
                                                             std::fclose);
  if (!file) return cannot("read", path, errno);
  std::string text(kPanelFileBytesMax + 1, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file.get()));
  if (std::ferror(file.get()) == 0) return text;
  if (errno != EISDIR) return cannot("read", path, errno);
  return Error{ErrorCode::kUnusable, path + " is a folder; name the panel file in it"};
}

}  // namespace understudy
