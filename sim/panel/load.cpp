// A panel file from the disk, with a clear word for everything that is no panel file.
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>

#include "sim/base/open_file.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

std::string advice_for(int code) {
  if (code == ENOENT) return "; understudy new NAME writes one";
  if (code == EISDIR) return "; name the file in it";
  if (code == EACCES) return "; ls -l shows who may";
  return "";
}

Error cannot_read(const std::string& path, int code) {
  return {ErrorCode::kUnusable,
          "cannot read panel file " + path + ": " + std::strerror(code) + advice_for(code)};
}

}  // namespace

Result<std::shared_ptr<const Panel>> load_panel(const std::string& path) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(open_file(path, FileUse::kRead),
                                                             std::fclose);
  if (!file) return cannot_read(path, errno);
  // One byte more than allowed tells a file that is too long, whatever size it claims.
  std::string text(kPanelFileBytesMax + 1, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file.get()));
  if (std::ferror(file.get())) return cannot_read(path, errno);
  return parse_panel(text, path);
}

}  // namespace understudy
