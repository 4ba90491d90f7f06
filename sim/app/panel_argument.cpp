// Looks around for what was meant, only after the file could not be read.
#include "sim/app/panel_argument.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <vector>

#include "sim/app/utf8_path.h"
#include "sim/base/text.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kFolderEntriesMax = 10'000;  // more are not looked through for a message

// Panel files beside `path`, without their suffix, in the order of the alphabet.
std::vector<std::string> stems_beside(const fs::path& path) {
  std::vector<std::string> stems;
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  std::error_code failed;
  std::size_t looked = 0;
  for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed)) {
    if (++looked > kFolderEntriesMax) break;
    const std::string name = text_of(at->path().filename());
    if (name.size() > kPanelSuffix.size() && name.ends_with(kPanelSuffix))
      stems.push_back(name.substr(0, name.size() - kPanelSuffix.size()));
  }
  std::sort(stems.begin(), stems.end());
  return stems;
}

// The panel file that was likely meant, or "".
std::string meant_by(const std::string& path) {
  const fs::path given = path_of(path);
  std::string stem = text_of(given.filename());
  if (stem.ends_with(kPanelSuffix)) stem.resize(stem.size() - kPanelSuffix.size());
  const std::vector<std::string> stems = stems_beside(given);
  // Of two letters any other name is near.
  const bool exact = std::find(stems.begin(), stems.end(), stem) != stems.end();
  const std::string near = exact ? stem : stem.size() < 3 ? "" : nearest_word(stem, stems);
  if (near.empty()) return "";
  const std::string name = near + std::string(kPanelSuffix);
  return given.has_parent_path() ? text_of(given.parent_path() / path_of(name)) : name;
}

// By its name, or by the right to be run; on some disks every file may be run.
bool is_program(const std::string& path) {
  static constexpr std::array kEndings = {".py", ".lua", ".js",  ".sh",  ".rb",
                                          ".pl", ".exe", ".jar", ".bin", ".out"};
  if (path.ends_with(".toml")) return false;
  for (const char* ending : kEndings)
    if (path.ends_with(ending)) return true;
  std::error_code failed;
  const fs::file_status status = fs::status(path_of(path), failed);
  constexpr fs::perms kMayRun =
      fs::perms::owner_exec | fs::perms::group_exec | fs::perms::others_exec;
  return fs::is_regular_file(status) && (status.permissions() & kMayRun) != fs::perms::none;
}

}  // namespace

Result<std::shared_ptr<const Panel>> load_panel_argument(const std::string& path) {
  if (path.empty())
    return Error{ErrorCode::kUnusable,
                 "the name of a panel file is empty; name one, such as my.panel.toml"};
  auto panel = load_panel(path);
  if (panel.ok()) return panel;
  if (is_program(path)) {
    return Error{ErrorCode::kUnusable,
                 path + " is no panel file but looks like a program; put -- before your game"};
  }
  std::error_code failed;
  if (fs::is_regular_file(path_of(path), failed)) return panel;
  const std::string meant = meant_by(path);
  if (meant.empty()) return panel;
  return Error{ErrorCode::kUnusable,
               "there is no panel file " + path + "; did you mean " + meant + "?"};
}

}  // namespace understudy
