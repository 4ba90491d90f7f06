// The modes of fopen(3): "x" makes a new file or none, "e" keeps it from programs that are started.
#include "sim/base/open_file.h"

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

void remove_file(const std::string& path) {
  std::remove(path.c_str());
}

}  // namespace understudy
