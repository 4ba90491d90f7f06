// /proc/PID/fd holds one symlink for each open descriptor (proc(5)).
#include <dirent.h>
#include <stdlib.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <memory>

#include "sim/link/holders.h"

namespace understudy {
namespace {

struct CloseFolder {
  void operator()(DIR* folder) const { closedir(folder); }
};
using Folder = std::unique_ptr<DIR, CloseFolder>;

bool has_open(const std::string& process, const std::string& wanted) {
  const std::string descriptors = process + "/fd";
  const Folder folder(opendir(descriptors.c_str()));
  if (!folder) return false;
  while (const dirent* entry = readdir(folder.get())) {
    char target[4'096];
    const ssize_t length =
        readlink((descriptors + "/" + entry->d_name).c_str(), target, sizeof target);
    if (length > 0 && std::string_view(target, static_cast<std::size_t>(length)) == wanted) {
      return true;
    }
  }
  return false;
}

std::vector<Holder> holders_of(const std::string& wanted, std::int64_t without_pid) {
  std::vector<Holder> holders;
  const Folder processes(opendir("/proc"));
  if (!processes) return holders;
  while (const dirent* entry = readdir(processes.get())) {
    const std::int64_t pid = strtoll(entry->d_name, nullptr, 10);
    const std::string process = std::string("/proc/") + entry->d_name;
    if (pid <= 0 || pid == without_pid || !has_open(process, wanted)) continue;
    Holder holder{.pid = pid, .program = ""};
    std::ifstream name(process + "/comm");
    std::getline(name, holder.program);
    holders.push_back(holder);
  }
  std::sort(holders.begin(), holders.end(),
            [](const Holder& a, const Holder& b) { return a.pid < b.pid; });
  return holders;
}

}  // namespace

std::vector<Holder> holders_of_path(const std::string& path) {
  return holders_of(path, getpid());
}

std::vector<Holder> holders_of_socket(std::uint64_t inode) {
  return holders_of("socket:[" + std::to_string(inode) + "]", -1);
}

}  // namespace understudy
