// Control sequences of ECMA-48 (cursor up, erase), which every terminal of today knows.
#include "sim/app/screen.h"

#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <string_view>

namespace understudy {

struct Screen::Saved {
  termios before;
};

Screen::Screen(bool with_keys) {
  const char* kind = std::getenv("TERM");
  const bool dumb = kind == nullptr || std::string_view(kind) == "dumb";
  if (!with_keys || dumb || isatty(STDIN_FILENO) == 0 || isatty(STDERR_FILENO) == 0) return;
  termios settings;
  if (tcgetattr(STDIN_FILENO, &settings) != 0) return;
  saved_ = std::make_unique<Saved>(Saved{settings});
  settings.c_lflag &= ~static_cast<tcflag_t>(ICANON | ECHO);
  settings.c_cc[VMIN] = 1;
  settings.c_cc[VTIME] = 0;
  tcsetattr(STDIN_FILENO, TCSANOW, &settings);
  interactive_ = true;
}

Screen::~Screen() {
  if (saved_) tcsetattr(STDIN_FILENO, TCSANOW, &saved_->before);
}

TerminalSize Screen::size() const {
  winsize window{};
  if (ioctl(STDERR_FILENO, TIOCGWINSZ, &window) != 0 || window.ws_col == 0) return {};
  return {.columns = window.ws_col, .rows = window.ws_row};
}

void Screen::message(const std::string& line) {
  const std::vector<std::string> block = drawn_;
  clear();
  std::fputs((line + "\n").c_str(), stderr);
  if (!block.empty()) draw(block);
}

void Screen::draw(const std::vector<std::string>& lines) {
  if (!interactive_) return;
  std::string text;
  if (!drawn_.empty()) text = "\x1b[" + std::to_string(drawn_.size()) + "A";
  for (const std::string& line : lines) text += "\r" + line + "\x1b[K\n";
  if (lines.size() < drawn_.size()) text += "\x1b[J";
  drawn_ = lines;
  std::fputs(text.c_str(), stderr);
}

void Screen::clear() {
  if (!drawn_.empty())
    std::fputs(("\x1b[" + std::to_string(drawn_.size()) + "A\r\x1b[J").c_str(), stderr);
  drawn_.clear();
}

}  // namespace understudy
