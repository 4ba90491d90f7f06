// The modes of fopen(3): "x" makes a new file or none, "e" keeps it from programs that are started.
#include "sim/base/open_file.h"

#include <sys/stat.h>

namespace understudy {

std::FILE* open_file(const std::string& path, FileUse use) {
  switch (use) {
    case FileUse::kRead:
      return std::fopen(path.c_str(), "rbe");
    case FileUse::kMake:
      return std::fopen(path.c_str(), "w+bxe");
    case FileUse::kOverwrite:
      return std::fopen(path.c_str(), "w+be");
  }
  return nullptr;
}

bool is_pipe_or_device(const std::string& path) {
  struct stat found = {};
  return stat(path.c_str(), &found) == 0 && !S_ISREG(found.st_mode) && !S_ISDIR(found.st_mode);
}

void remove_file(const std::string& path) {
  std::remove(path.c_str());
}

}  // namespace understudy
