// The panel files of a session: which file each seat plays, what was opened before, and what
// becomes of a file while it is changed on the disk. A right file becomes a ReloadWish; a wrong one
// is kept with its mistakes and shown, and the panel before goes on. Reading and compiling are done
// on a thread of their own, so that drawing never waits for a disk. Nothing here writes a file.
//
// How the window uses it, all on its own thread:
//   files.take(view, remembered, wishes)   once in every turn of its loop, before drawing
//   files.dropped(seat, path)              for SDL_DROPFILE
//   files.draw_card(context)               into the card "Panel file"
// Where anything new is to be shown, `wake` (see the constructor) makes the loop turn.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "sim/model/panel.h"
#include "sim/window/areas.h"
#include "sim/window/mistake_places.h"

namespace understudy {

// What is known of a seat's file.
enum class FileState : std::uint8_t {
  kPlayed,  // the panel that is played is what stands in the file
  kWrong,   // what stands in the file now is no panel; the one before goes on
  kGone,    // there is no such file now; the panel goes on
};

struct FileReport {
  std::string path;
  FileState state = FileState::kPlayed;
  std::string text;                     // of the file, as last read
  std::uint64_t readings = 0;           // counts up with each text that was read
  std::vector<PlacedMistake> mistakes;  // kWrong: with the lines that they stand in
  bool mended = false;                  // was wrong or gone, and is right again
  std::string reason;                   // kGone, and files that cannot be read: why
};

inline constexpr std::size_t kRecentMax = 10;

class PanelFiles {
 public:
  // `wake` is called on the reading thread when something is ready to be taken; it must be quick
  // and callable from any thread (push an SDL event).
  explicit PanelFiles(std::function<void()> wake);
  ~PanelFiles();
  PanelFiles(const PanelFiles&) = delete;
  PanelFiles& operator=(const PanelFiles&) = delete;

  // Watches the files of all seats, takes what was read, puts reload wishes at the end of `wishes`,
  // and keeps the recent files in `remembered`. True where something changed that is shown.
  bool take(const SessionView& view, Remembered& remembered, std::vector<Wish>& wishes);

  // Reads a file for a seat; it is taken where it is right, and otherwise what is wrong is said in
  // the card. A path with `~/` at its beginning begins in the user's folder.
  void open(std::size_t seat, std::string path);
  void dropped(std::size_t seat, const std::string& path) { open(seat, path); }
  // REQUIRES: take() has been called with a view that has the seat
  [[nodiscard]] const FileReport& report(std::size_t seat) const;
  // What is wrong with a file that was to be opened, until another is; empty: nothing.
  [[nodiscard]] const std::string& refused() const;
  [[nodiscard]] const std::vector<std::string>& recent() const;  // the newest first

  // The card: the file, its mistakes at their places, opening another. `before_open` is asked
  // before a file is opened by hand; false: not now (unsaved edits ask first).
  void draw_card(AreaContext& context,
                 const std::function<bool(std::string path)>& before_open = {});

  struct State;

 private:
  std::unique_ptr<State> state_;
};

}  // namespace understudy
