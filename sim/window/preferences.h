// What the window remembers from one run to the next, in a text file of the user's: one line each,
// `name = value`. A file that cannot be read, or lines that make no sense, are as if they were not
// there.
#pragma once

#include <string>
#include <string_view>

#include "sim/base/result.h"
#include "sim/window/areas.h"

namespace understudy {

// understudy/window.txt in the user's folder for settings (XDG Base Directory Specification 0.8);
// empty where there is none.
std::string preferences_path();

// Lines as written by written_preferences(). Names and values that are too long, lines without `=`,
// control characters and whatever comes after kRememberedMax names are left out.
inline constexpr std::size_t kRememberedMax = 1'000;
Remembered read_preferences(std::string_view text);
std::string written_preferences(const Remembered& remembered);

Remembered load_preferences(const std::string& path);
// The file is the old one or the new one, never half of one. Errors: kUnusable.
Result<Done> store_preferences(const std::string& path, const Remembered& remembered);

// Numbers among what is remembered; `usual` where there is none, or one outside the range.
struct NumberRange {
  double least = 0;
  double most = 0;
  double usual = 0;
};
double remembered_number(const Remembered& remembered, std::string_view name,
                         const NumberRange& range);
void remember_number(Remembered& remembered, std::string_view name, double number);
bool remembered_flag(const Remembered& remembered, std::string_view name, bool usual);
void remember_flag(Remembered& remembered, std::string_view name, bool flag);

}  // namespace understudy
