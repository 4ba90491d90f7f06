// Paths between the text of the command line, which is UTF-8 everywhere, and the file system
// library, which on some systems takes plain text for something else.
#pragma once

#include <filesystem>
#include <string>

namespace understudy {

inline std::filesystem::path path_of(const std::string& utf8) {
  return std::filesystem::path(std::u8string(utf8.begin(), utf8.end()));
}

inline std::string text_of(const std::filesystem::path& path) {
  const std::u8string text = path.u8string();
  return {text.begin(), text.end()};
}

}  // namespace understudy
