// By file descriptors.
#include "sim/record/file_length.h"

#include <unistd.h>

namespace understudy {

bool seek_file(std::FILE* file, std::int64_t place) {
  return fseeko(file, place, SEEK_SET) == 0;
}

void cut_file(std::FILE* file, std::int64_t size) {
  (void)!ftruncate(fileno(file), size);
}

}  // namespace understudy
