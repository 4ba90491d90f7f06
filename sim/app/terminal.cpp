// Control sequences of ECMA-48 (cursor up, erase), which every terminal of today knows. Whether
// there is a terminal, and how it is set, is in terminal_linux.cpp and terminal_windows.cpp.
#include "sim/app/terminal.h"

#include <cstdio>

namespace understudy {

void Terminal::message(const std::string& line) {
  const std::vector<std::string> block = drawn_;
  clear();
  std::fputs((line + "\n").c_str(), stderr);
  if (!block.empty()) draw(block);
}

void Terminal::draw(const std::vector<std::string>& lines) {
  if (!interactive_) return;
  std::string text;
  if (!drawn_.empty()) text = "\x1b[" + std::to_string(drawn_.size()) + "A";
  for (const std::string& line : lines) text += "\r" + line + "\x1b[K\n";
  if (lines.size() < drawn_.size()) text += "\x1b[J";
  drawn_ = lines;
  std::fputs(text.c_str(), stderr);
}

void Terminal::clear() {
  if (!drawn_.empty())
    std::fputs(("\x1b[" + std::to_string(drawn_.size()) + "A\r\x1b[J").c_str(), stderr);
  drawn_.clear();
}

}  // namespace understudy
