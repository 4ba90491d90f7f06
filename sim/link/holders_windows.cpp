// Windows says which process has a TCP port, and nothing of the sort for paths.
#include "sim/link/holders.h"

#include <windows.h>

#include "sim/base/wide_text.h"

namespace understudy {

std::vector<Holder> holders_of_path(const std::string&) {
  return {};
}

std::vector<std::vector<Holder>> games_at_path(const std::string&) {
  return {};
}

// tcp_peer_windows.cpp gives the number of a process where others give that of a socket.
std::vector<Holder> holders_of_socket(std::uint64_t inode) {
  const auto pid = static_cast<DWORD>(inode);
  const HANDLE process = OpenProcess(PROCESS_QUERY_LIMITED_INFORMATION, FALSE, pid);
  if (process == nullptr) return {};
  wchar_t path[4'096];
  DWORD length = 4'096;
  const bool named = QueryFullProcessImageNameW(process, 0, path, &length) != 0;
  CloseHandle(process);
  if (!named) return {};
  const std::wstring_view whole(path, length);
  return {{static_cast<std::int64_t>(pid), narrow_text(whole.substr(whole.rfind(L'\\') + 1))}};
}

}  // namespace understudy
