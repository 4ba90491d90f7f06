// Opens files by their path as UTF-8, alike on every system. Reading and writing them is the
// caller's; the stages of a device open none.
#pragma once

#include <cstdio>
#include <string>

namespace understudy {

enum class FileUse {
  kRead,
  kMake,       // write to a new file; fails with EEXIST where there is one
  kOverwrite,  // write to a new file or an emptied old one
};

// Bytes go as they are, and a program that is started does not inherit the file. What was written
// may be read again. Null where it cannot be opened; errno says why.
std::FILE* open_file(const std::string& path, FileUse use);

// Whether there is a pipe, a socket or a device at the path: reading from it may never end.
bool is_pipe_or_device(const std::string& path);

// Removes a file, if it is there.
void remove_file(const std::string& path);

}  // namespace understudy
