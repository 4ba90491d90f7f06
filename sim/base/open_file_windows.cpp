// The calls that take wide text; "N" keeps a file from programs that are started.
#include "sim/base/open_file.h"

#include <windows.h>

#include <cerrno>

#include "sim/base/wide_text.h"

namespace understudy {
namespace {

// The C library here cannot refuse a file that exists; the system can. True once an empty one is
// ours.
bool is_new(const std::wstring& path) {
  const HANDLE made = CreateFileW(path.c_str(), GENERIC_WRITE, 0, nullptr, CREATE_NEW,
                                  FILE_ATTRIBUTE_NORMAL, nullptr);
  if (made != INVALID_HANDLE_VALUE) return CloseHandle(made) != 0;
  errno = GetLastError() == ERROR_FILE_EXISTS      ? EEXIST
          : GetLastError() == ERROR_PATH_NOT_FOUND ? ENOENT
                                                   : EACCES;
  return false;
}

// The C library tells a folder as missing rights.
bool is_folder(const std::wstring& path) {
  const DWORD kind = GetFileAttributesW(path.c_str());
  return kind != INVALID_FILE_ATTRIBUTES && (kind & FILE_ATTRIBUTE_DIRECTORY) != 0;
}

}  // namespace

std::FILE* open_file(const std::string& path, FileUse use) {
  const std::wstring wide = wide_text(path);
  if (is_folder(wide)) {
    errno = use == FileUse::kMake ? EEXIST : EISDIR;
    return nullptr;
  }
  switch (use) {
    case FileUse::kRead:
      return _wfopen(wide.c_str(), L"rbN");
    case FileUse::kMake:
      return is_new(wide) ? _wfopen(wide.c_str(), L"w+bN") : nullptr;
    case FileUse::kOverwrite:
      return _wfopen(wide.c_str(), L"w+bN");
  }
  return nullptr;
}

bool is_pipe_or_device(const std::string& path) {
  const std::wstring wide = wide_text(path);
  if (is_folder(wide)) return false;
  const HANDLE found = CreateFileW(wide.c_str(), GENERIC_READ,
                                   FILE_SHARE_READ | FILE_SHARE_WRITE | FILE_SHARE_DELETE, nullptr,
                                   OPEN_EXISTING, FILE_ATTRIBUTE_NORMAL, nullptr);
  if (found == INVALID_HANDLE_VALUE) return false;
  const bool other = GetFileType(found) != FILE_TYPE_DISK;
  CloseHandle(found);
  return other;
}

void remove_file(const std::string& path) {
  _wremove(wide_text(path).c_str());
}

}  // namespace understudy
