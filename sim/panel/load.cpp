// A panel file from the disk, with a clear word for everything that is no panel file, and an offer
// where another one nearby is likely meant.
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

#include "sim/base/text.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kSuffix = ".panel.toml";
constexpr std::size_t kFolderEntriesMax = 10'000;  // more are not looked through for a message

// Panel files beside `path`, without their suffix, in the order of the alphabet.
std::vector<std::string> stems_beside(const fs::path& path) {
  std::vector<std::string> stems;
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  std::error_code failed;
  std::size_t looked = 0;
  for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed)) {
    if (++looked > kFolderEntriesMax) break;
    const std::string name = at->path().filename().string();
    if (name.size() > kSuffix.size() && name.ends_with(kSuffix))
      stems.push_back(name.substr(0, name.size() - kSuffix.size()));
  }
  std::sort(stems.begin(), stems.end());
  return stems;
}

// The panel file that was likely meant, or "".
std::string meant_by(const std::string& path) {
  const fs::path given(path);
  std::string stem = given.filename().string();
  if (stem.ends_with(kSuffix)) stem.resize(stem.size() - kSuffix.size());
  const std::vector<std::string> stems = stems_beside(given);
  // Of two letters any other name is near.
  const bool exact = std::find(stems.begin(), stems.end(), stem) != stems.end();
  const std::string near = exact || stem.size() < 3 ? stem : nearest_word(stem, stems);
  if (near.empty() || (near == stem && !exact)) return "";
  const std::string name = near + std::string(kSuffix);
  return given.has_parent_path() ? (given.parent_path() / name).string() : name;
}

// By its name, or by the right to be run.
bool is_program(const std::string& path) {
  static constexpr std::array kEndings = {".py", ".lua", ".js",  ".sh",  ".rb",
                                          ".pl", ".exe", ".jar", ".bin", ".out"};
  if (path.ends_with(".toml")) return false;
  for (const char* ending : kEndings)
    if (path.ends_with(ending)) return true;
  std::error_code failed;
  return fs::is_regular_file(path, failed) && access(path.c_str(), X_OK) == 0;
}

std::string advice_for(const std::string& path, int code) {
  if (code == ENOENT || code == EISDIR) {
    const std::string meant = meant_by(path);
    if (!meant.empty()) return "; did you mean " + meant + "?";
  }
  if (code == ENOENT) return "; understudy new NAME writes one";
  if (code == EISDIR) return "; name the file in it";
  if (code == EACCES) return "; ls -l shows who may";
  return "";
}

Error cannot_read(const std::string& path, int code) {
  const std::string advice =
      is_program(path) ? "; put -- before your game" : advice_for(path, code);
  return {ErrorCode::kUnusable,
          "cannot read panel file " + path + ": " + std::strerror(code) + advice};
}

}  // namespace

Result<std::shared_ptr<const Panel>> load_panel(const std::string& path) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"),
                                                             std::fclose);
  if (!file) return cannot_read(path, errno);
  // One byte more than allowed tells a file that is too long, whatever size it claims.
  std::string text(kPanelFileBytesMax + 1, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file.get()));
  if (std::ferror(file.get())) return cannot_read(path, errno);
  auto panel = parse_panel(text, path);
  if (!panel.ok() && is_program(path)) {
    return Error{ErrorCode::kUnusable, path +
                                           " is no panel file but looks like a program; put -- "
                                           "before your game"};
  }
  return panel;
}

}  // namespace understudy
