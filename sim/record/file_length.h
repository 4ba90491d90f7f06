// Places in files beyond 2 GB, and cutting a file off, which each system does in its own way.
#pragma once

#include <cstdint>
#include <cstdio>

namespace understudy {

// Goes to `place` from the beginning; false where that fails.
bool seek_file(std::FILE* file, std::int64_t place);

// Cuts an open file off after `size` bytes, as far as the system can.
void cut_file(std::FILE* file, std::int64_t size);

}  // namespace understudy
