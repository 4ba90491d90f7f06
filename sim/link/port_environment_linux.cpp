// Finds the libraries beside this program, or in lib/understudy where it is installed, and puts
// them before what the user preloads.
#include "sim/link/port_environment.h"

#include <stdlib.h>
#include <unistd.h>

#include <filesystem>

#include "sim/link/private_folder.h"

namespace understudy {
namespace {

namespace fs = std::filesystem;

constexpr const char* kLibraries[] = {"libunderstudy-port.so", "libunderstudy-names.so"};

// The path of a library as LD_PRELOAD can carry it: spaces and colons part its entries (ld.so(8)),
// so a path that has one is reached by a symlink in the private folder.
Result<std::string> preloadable(const fs::path& library) {
  std::error_code error;
  if (!fs::exists(library, error)) {
    return Error{ErrorCode::kUnusable, "cannot find " + library.string() +
                                           ": it belongs beside the program; build it again"};
  }
  const std::string path = library.string();
  if (path.find_first_of(" :") == std::string::npos) return path;
  Result<std::string> folder = private_folder();
  if (!folder.ok()) return folder;
  const fs::path short_path = fs::path(folder.value()) / (".library-" + short_name_of(path));
  fs::remove(short_path, error);
  fs::create_symlink(library, short_path, error);
  if (error) {
    return Error{ErrorCode::kUnusable, "cannot make a symlink to " + path + " at " +
                                           short_path.string() + ": " + error.message()};
  }
  return short_path.string();
}

// In `folder`; empty: beside this program as it is built, or where it is installed.
fs::path place_of(const char* name, const std::string& folder) {
  if (!folder.empty()) return fs::path(folder) / name;
  std::error_code error;
  const fs::path beside = fs::read_symlink("/proc/self/exe", error).parent_path();
  const fs::path installed = beside.parent_path() / "lib" / "understudy" / name;
  return !fs::exists(beside / name, error) && fs::exists(installed, error) ? installed
                                                                           : beside / name;
}

}  // namespace

Result<std::vector<EnvironmentEntry>> port_environment(std::span<const Link* const> links,
                                                       const std::string& folder) {
  std::string ports;
  std::string first;
  for (const Link* link : links) {
    if (link->name() != "pty") continue;
    if (first.empty()) first = link->where();
    std::error_code error;
    const fs::path real = fs::canonical(link->where(), error);
    ports += (ports.empty() ? "" : ":") + (error ? link->where() : real.string());
  }
  std::vector<EnvironmentEntry> entries;
  if (first.empty()) return entries;

  std::string preload;
  for (const char* name : kLibraries) {
    Result<std::string> library = preloadable(place_of(name, folder));
    if (!library.ok()) return library.error();
    preload += (preload.empty() ? "" : ":") + library.value();
  }
  const char* before = getenv("LD_PRELOAD");
  if (before != nullptr && *before != '\0') preload += std::string(":") + before;
  entries.push_back({"LD_PRELOAD", preload});
  entries.push_back({"UNDERSTUDY_PORT", first});
  entries.push_back({"UNDERSTUDY_PORTS", ports});
  return entries;
}

std::string written(const std::vector<EnvironmentEntry>& entries) {
  std::string text;
  for (const EnvironmentEntry& entry : entries) {
    std::string quoted;
    for (const char c : entry.value) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
    text += (text.empty() ? "" : " ") + entry.name + "='" + quoted + "'";
  }
  return text;
}

}  // namespace understudy
