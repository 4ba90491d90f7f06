// /proc/PID/fd holds one symlink for each open descriptor, /proc/PID/stat a process's parent, group
// and start (proc(5)).
#include <dirent.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <memory>
#include <optional>
#include <sstream>

#include "sim/link/holders.h"

namespace understudy {
namespace {

struct CloseFolder {
  void operator()(DIR* folder) const { closedir(folder); }
};
using Folder = std::unique_ptr<DIR, CloseFolder>;

// Which file a path is here. Another mount namespace (a container's) may have another one of the
// same name: each has a /dev/pts/0 of its own.
struct Identity {
  dev_t device = 0;
  ino_t number = 0;
  friend bool operator==(const Identity&, const Identity&) = default;
};

std::optional<Identity> identity_of(const std::string& path) {
  struct stat found = {};
  if (stat(path.c_str(), &found) != 0) return std::nullopt;
  return Identity{found.st_dev, found.st_ino};
}

// `wanted` is what the descriptor's symlink says; `file`, where it is known, which file that is.
struct Wanted {
  std::string text;
  std::optional<Identity> file;
};

bool has_open(const std::string& process, const Wanted& wanted) {
  const std::string descriptors = process + "/fd";
  const Folder folder(opendir(descriptors.c_str()));
  if (!folder) return false;
  while (const dirent* entry = readdir(folder.get())) {
    char target[4'096];
    const ssize_t length =
        readlink((descriptors + "/" + entry->d_name).c_str(), target, sizeof target);
    if (length <= 0 || std::string_view(target, static_cast<std::size_t>(length)) != wanted.text)
      continue;
    if (!wanted.file || identity_of(descriptors + "/" + entry->d_name) == wanted.file) return true;
  }
  return false;
}

std::vector<Holder> holders_of(const Wanted& wanted, std::int64_t without_pid) {
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

// What tells whose a process is.
struct Kinship {
  std::int64_t parent = 0;
  std::int64_t group = 0;
  std::int64_t start = 0;  // in the system's ticks
};

// Absent where the process is gone.
std::optional<Kinship> kinship_of(std::int64_t pid) {
  std::ifstream file("/proc/" + std::to_string(pid) + "/stat");
  std::string line;
  std::getline(file, line);
  // The name stands in brackets and may hold any, so the last one ends it; then: state, parent,
  // group, and the start as the 20th.
  const std::size_t name_end = line.rfind(')');
  if (name_end == std::string::npos) return std::nullopt;
  std::istringstream words(line.substr(name_end + 1));
  std::string state, skipped;
  Kinship kinship;
  words >> state >> kinship.parent >> kinship.group;
  for (int word = 4; word < 20; ++word) words >> skipped;
  words >> kinship.start;
  return words ? std::optional(kinship) : std::nullopt;
}

struct Member {
  Holder holder;
  Kinship kinship;
};

bool descends_from(const Member& member, std::int64_t pid) {
  std::int64_t ancestor = member.kinship.parent;
  // A chain that changes while it is read could go in a circle.
  for (int generation = 0; ancestor > 1 && generation < 100; ++generation) {
    if (ancestor == pid) return true;
    const std::optional<Kinship> kinship = kinship_of(ancestor);
    ancestor = kinship ? kinship->parent : 0;
  }
  return false;
}

bool same_game(const Member& older, const Member& younger) {
  return older.kinship.group == younger.kinship.group || descends_from(younger, older.holder.pid);
}

}  // namespace

std::vector<std::vector<Holder>> games_at_path(const std::string& path) {
  std::vector<Member> members;
  for (const Holder& holder : holders_of_path(path)) {
    const std::optional<Kinship> kinship = kinship_of(holder.pid);
    if (kinship) members.push_back({holder, *kinship});
  }
  std::stable_sort(members.begin(), members.end(), [](const Member& a, const Member& b) {
    return a.kinship.start < b.kinship.start;
  });
  std::vector<std::vector<Member>> games;
  for (const Member& member : members) {
    const auto own = std::find_if(games.begin(), games.end(), [&](const auto& game) {
      return std::any_of(game.begin(), game.end(),
                         [&](const Member& other) { return same_game(other, member); });
    });
    if (own != games.end())
      own->push_back(member);
    else
      games.push_back({member});
  }
  std::vector<std::vector<Holder>> holders;
  for (const std::vector<Member>& game : games) {
    holders.emplace_back();
    for (const Member& member : game) holders.back().push_back(member.holder);
  }
  return holders;
}

std::vector<Holder> holders_of_path(const std::string& path) {
  return holders_of({.text = path, .file = identity_of(path)}, getpid());
}

std::vector<Holder> holders_of_socket(std::uint64_t inode) {
  return holders_of({.text = "socket:[" + std::to_string(inode) + "]", .file = {}}, -1);
}

}  // namespace understudy
