// One panel file while it is edited: its text, undo, what it would be played as, and saving. No
// drawing; a file is written by save() alone.
#pragma once

#include <memory>
#include <string>

#include "sim/base/result.h"
#include "sim/model/panel.h"
#include "sim/panel/edit_history.h"

namespace understudy {

enum class SaveAnswer : std::uint8_t {
  kSaved,
  kChangedOnDisk,  // by somebody else since it was read; nothing was written
};

class EditSession {
 public:
  // `text` is what stands in the file at `path` now.
  EditSession(std::string path, std::string text);

  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] const std::string& text() const { return history_.text(); }
  [[nodiscard]] bool unsaved() const { return text() != saved_; }
  // What the text means; null as long as it never was right.
  [[nodiscard]] const std::shared_ptr<const Panel>& preview() const { return preview_; }
  // What is wrong with the text as it stands; empty: nothing.
  [[nodiscard]] const std::string& wrong() const { return wrong_; }

  // Takes what an edit of sim/panel/edit.h gave. An edit that was refused, or that would make a
  // right panel wrong, changes nothing and is told. `goes_on`: one step with the last of this name.
  Result<Done> apply(const Result<std::string>& edited, std::string name, bool goes_on = false);
  bool undo();
  bool redo();
  [[nodiscard]] std::string undo_name() const { return history_.undo_name(); }
  [[nodiscard]] std::string redo_name() const { return history_.redo_name(); }
  // Back to what is in the file now; can be undone.
  void give_up();

  // `over_changes`: also where somebody else has changed the file. Errors: kUnusable.
  Result<SaveAnswer> save(bool over_changes = false);
  // The file was read and has this text. Without unsaved edits it is taken over, as a step that can
  // be undone; with some it is only known, and save() asks.
  void file_has(const std::string& text);
  // Somebody else changed the file, and there are edits.
  [[nodiscard]] bool in_conflict() const { return conflict_; }
  // The edits go on; what somebody else wrote is asked about again when they are saved, or when it
  // changes once more.
  void put_off();

 private:
  void compile();

  std::string path_;
  std::string saved_;  // the file's text as last read or written
  EditHistory history_;
  std::shared_ptr<const Panel> preview_;
  std::string wrong_;
  std::string theirs_;  // in conflict: what somebody else wrote
  std::string put_off_;
  bool conflict_ = false;
};

}  // namespace understudy
