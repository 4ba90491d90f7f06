// A panel file from the disk, and the files that it names, with a clear word for everything that is
// no panel file.
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>

#include "sim/base/open_file.h"
#include "sim/panel/panel_file.h"
#include "sim/panel/parse.h"

namespace understudy {
namespace {

std::string advice_for(int code) {
  if (code == ENOENT) return "; understudy new NAME writes one";
  if (code == EISDIR) return "; name the file in it";
  if (code == EACCES) return "; ls -l shows who may";
  return "";
}

// The first kPanelFileBytesMax + 1 bytes of a file: one more than allowed tells a file that is too
// long, whatever size it claims. Otherwise errno.
struct Reading {
  std::string text;
  int failed = 0;
};

Reading read_file(const std::string& path) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(open_file(path, FileUse::kRead),
                                                             std::fclose);
  if (!file) return {"", errno};
  std::string text(kPanelFileBytesMax + 1, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file.get()));
  if (std::ferror(file.get())) return {"", errno};
  return {std::move(text), 0};
}

// A name that a panel gives, seen from the folder of the panel file.
std::string beside(const std::string& panel_path, const std::string& name) {
  const std::size_t slash = panel_path.find_last_of("/\\");
  if (name.starts_with('/') || slash == std::string::npos) return name;
  return panel_path.substr(0, slash + 1) + name;
}

}  // namespace

Result<std::shared_ptr<const Panel>> load_panel(const std::string& path) {
  const Reading panel = read_file(path);
  if (panel.failed != 0) {
    return Error{ErrorCode::kUnusable, "cannot read panel file " + path + ": " +
                                           std::strerror(panel.failed) + advice_for(panel.failed)};
  }
  return parse_panel_beside(panel.text, path, files_beside(path));
}

ReadBeside files_beside(const std::string& panel_path) {
  return [panel_path](const std::string& name) -> Result<std::string> {
    const std::string where = beside(panel_path, name);
    if (is_pipe_or_device(where)) {
      return Error{ErrorCode::kUnusable,
                   where + " is a pipe or a device; copy its values to a file"};
    }
    Reading file = read_file(where);
    if (file.failed != 0) {
      return Error{ErrorCode::kUnusable,
                   "cannot read " + where + ": " + std::strerror(file.failed)};
    }
    if (file.text.size() > kPanelFileBytesMax)
      return Error{ErrorCode::kUnusable, where + " has more than 1 MB"};
    return std::move(file.text);
  };
}

}  // namespace understudy
