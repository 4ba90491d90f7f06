// A terminal with a block of status lines at its foot and messages that scroll above it. Where
// there is no terminal, messages are plain lines and the block is not drawn.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

namespace understudy {

struct TerminalSize {
  std::size_t columns = 80;
  std::size_t rows = 24;
};

// Writes to standard error. Thread: one. The destructor leaves the terminal as it was.
class Terminal {
 public:
  // `with_keys`: single keys are read from standard input without echo (the reading is the
  // caller's). Only where standard input and standard error are both terminals.
  explicit Terminal(bool with_keys);
  ~Terminal();
  Terminal(const Terminal&) = delete;
  Terminal& operator=(const Terminal&) = delete;

  // Whether a block can be drawn, and keys come singly.
  [[nodiscard]] bool interactive() const { return interactive_; }
  [[nodiscard]] TerminalSize size() const;

  void message(const std::string& line);
  void draw(const std::vector<std::string>& lines);
  // Takes the block away.
  void clear();

 private:
  struct Saved;
  std::unique_ptr<Saved> saved_;
  bool interactive_ = false;
  std::vector<std::string> drawn_;
};

}  // namespace understudy
