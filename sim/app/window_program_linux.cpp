// Looks for what the loader would miss, so that it is told in words of ours, and executes.
#include "sim/app/window_program.h"

#include <dlfcn.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>

namespace understudy {
namespace {

constexpr const char* kLibrary = "libSDL2-2.0.so.0";
constexpr std::string_view kServe = "; 'understudy serve' plays the same panels without a window";

Error not_there(const std::string& what) {
  return {ErrorCode::kLinkFailed, what + std::string(kServe)};
}

}  // namespace

Error run_window_program(const std::vector<std::string>& words) {
  std::error_code error;
  const std::filesystem::path here = std::filesystem::read_symlink("/proc/self/exe", error);
  const std::string program = (here.parent_path() / "understudy-window").string();
  if (access(program.c_str(), X_OK) != 0)
    return not_there("cannot open a window: there is no program " + program +
                     ", which belongs beside this one (" + std::strerror(errno) +
                     "); install it again");
  void* library = dlopen(kLibrary, RTLD_LAZY | RTLD_LOCAL);
  if (library == nullptr)
    return not_there(std::string("cannot open a window: the library SDL 2 is not there (") +
                     dlerror() + "); on Debian and Ubuntu: sudo apt install libsdl2-2.0-0");
  std::vector<std::string> copies{program, "panel"};
  copies.insert(copies.end(), words.begin(), words.end());
  std::vector<char*> pointers;
  for (std::string& word : copies) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  execv(program.c_str(), pointers.data());
  return not_there("cannot start " + program + ": " + std::strerror(errno));
}

}  // namespace understudy
