// The terminal: whether there is one, how large it is, single keys from it.
#include "sim/app/terminal.h"

#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

#include <cstdlib>
#include <string_view>

namespace understudy {

struct Terminal::Saved {
  termios before;
};

Terminal::Terminal(bool with_keys) {
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

Terminal::~Terminal() {
  if (saved_) tcsetattr(STDIN_FILENO, TCSANOW, &saved_->before);
}

TerminalSize Terminal::size() const {
  winsize window{};
  if (ioctl(STDERR_FILENO, TIOCGWINSZ, &window) != 0 || window.ws_col == 0) return {};
  return {.columns = window.ws_col, .rows = window.ws_row};
}

}  // namespace understudy
