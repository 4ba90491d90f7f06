// By the calls with 64 bits of the C library here.
#include "sim/record/file_length.h"

#include <io.h>

namespace understudy {

bool seek_file(std::FILE* file, std::int64_t place) {
  return _fseeki64(file, place, SEEK_SET) == 0;
}

void cut_file(std::FILE* file, std::int64_t size) {
  (void)_chsize_s(_fileno(file), size);
}

}  // namespace understudy
