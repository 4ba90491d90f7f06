// The file and its lines; what the names mean is known to those who use them.
#include "sim/window/preferences.h"

#include <fmt/format.h>

#include <cerrno>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <system_error>

#include "sim/base/open_file.h"

namespace understudy {
namespace {

constexpr std::size_t kFileBytesMax = 512'000;
constexpr std::size_t kNameBytesMax = 120;
constexpr std::size_t kValueBytesMax = 4'000;

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \r");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \r") - first + 1);
}

bool plain(std::string_view text) {
  for (const char letter : text) {
    if (static_cast<unsigned char>(letter) < 0x20 || letter == 0x7F) return false;
  }
  return true;
}

bool storable(std::string_view name, std::string_view value) {
  return !name.empty() && name.size() <= kNameBytesMax && value.size() <= kValueBytesMax &&
         name.find('=') == std::string_view::npos && trimmed(name) == name &&
         trimmed(value) == value && plain(name) && plain(value);
}

}  // namespace

std::string preferences_path() {
  std::string folder;
  // The specification: a relative path in the variable is to be ignored.
  const char* named = std::getenv("XDG_CONFIG_HOME");
  if (named != nullptr && named[0] == '/') {
    folder = named;
  } else if (const char* home = std::getenv("HOME"); home != nullptr && home[0] == '/') {
    folder = std::string(home) + "/.config";
  }
  return folder.empty() ? folder : folder + "/understudy/window.txt";
}

Remembered read_preferences(std::string_view text) {
  Remembered remembered;
  while (!text.empty() && remembered.size() < kRememberedMax) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    const std::size_t equals = line.find('=');
    if (equals == std::string_view::npos) continue;
    const std::string_view name = trimmed(line.substr(0, equals));
    const std::string_view value = trimmed(line.substr(equals + 1));
    if (!name.empty() && name.front() != '#' && storable(name, value)) {
      remembered.insert_or_assign(std::string(name), std::string(value));
    }
  }
  return remembered;
}

std::string written_preferences(const Remembered& remembered) {
  std::string text = "# What Understudy's window remembers; it may be deleted.\n";
  for (const auto& [name, value] : remembered) {
    if (storable(name, value) && name.front() != '#') text += name + " = " + value + "\n";
  }
  return text;
}

Remembered load_preferences(const std::string& path) {
  if (path.empty() || is_pipe_or_device(path)) return {};
  std::FILE* file = open_file(path, FileUse::kRead);
  if (file == nullptr) return {};
  std::string text(kFileBytesMax, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file));
  std::fclose(file);
  return read_preferences(text);
}

Result<Done> store_preferences(const std::string& path, const Remembered& remembered) {
  if (path.empty()) return Done{};
  const auto refused = [&path](const std::string& reason) {
    return Error{
        ErrorCode::kUnusable,
        fmt::format("what the window remembers cannot be written to {}: {}", path, reason)};
  };
  std::error_code trouble;
  std::filesystem::create_directories(std::filesystem::path(path).parent_path(), trouble);
  const std::string fresh = path + ".new";
  std::FILE* file = open_file(fresh, FileUse::kOverwrite);
  if (file == nullptr) return refused(std::strerror(errno));
  const std::string text = written_preferences(remembered);
  const bool whole = std::fwrite(text.data(), 1, text.size(), file) == text.size();
  if (std::fclose(file) != 0 || !whole) {
    remove_file(fresh);
    return refused("the disk took only a part");
  }
  std::filesystem::rename(fresh, path, trouble);
  if (trouble) return refused(trouble.message());
  return Done{};
}

double remembered_number(const Remembered& remembered, std::string_view name,
                         const NumberRange& range) {
  const auto found = remembered.find(name);
  if (found == remembered.end()) return range.usual;
  const std::string& text = found->second;
  double number = 0;
  const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool good = trouble == std::errc() && end == text.data() + text.size() &&
                    number >= range.least && number <= range.most;
  return good ? number : range.usual;
}

void remember_number(Remembered& remembered, std::string_view name, double number) {
  if (std::isfinite(number)) {
    remembered.insert_or_assign(std::string(name), fmt::format("{:.4g}", number));
  }
}

bool remembered_flag(const Remembered& remembered, std::string_view name, bool usual) {
  const auto found = remembered.find(name);
  if (found == remembered.end()) return usual;
  if (found->second == "1") return true;
  return found->second == "0" ? false : usual;
}

void remember_flag(Remembered& remembered, std::string_view name, bool flag) {
  remembered.insert_or_assign(std::string(name), flag ? "1" : "0");
}

}  // namespace understudy
