// The text is compiled once for each step.
#include "sim/window/edit_session.h"

#include <utility>

#include "sim/panel/parse.h"
#include "sim/window/save_file.h"

namespace understudy {

EditSession::EditSession(std::string path, std::string text)
    : path_(std::move(path)), saved_(text), history_(std::move(text)) {
  compile();
}

void EditSession::compile() {
  auto panel = parse_panel_beside(text(), path_, files_beside(path_));
  wrong_ = panel.ok() ? "" : panel.error().text;
  if (panel.ok()) preview_ = std::move(panel).value();
}

Result<Done> EditSession::apply(const Result<std::string>& edited, std::string name, bool goes_on) {
  if (!edited.ok()) return edited.error();
  if (edited.value() == text()) return Done{};
  auto panel = parse_panel_beside(edited.value(), path_, files_beside(path_));
  if (!panel.ok() && wrong_.empty()) return panel.error();
  if (goes_on)
    history_.push_on(edited.value(), std::move(name));
  else
    history_.push(edited.value(), std::move(name));
  wrong_ = panel.ok() ? "" : panel.error().text;
  if (panel.ok()) preview_ = std::move(panel).value();
  return Done{};
}

bool EditSession::undo() {
  if (!history_.undo()) return false;
  compile();
  return true;
}

bool EditSession::redo() {
  if (!history_.redo()) return false;
  compile();
  return true;
}

void EditSession::give_up() {
  if (conflict_) saved_ = theirs_;
  history_.push(saved_, "discard the edits");
  conflict_ = false;
  compile();
}

Result<SaveAnswer> EditSession::save(bool over_changes) {
  if (!over_changes) {
    const Result<std::string> now = read_whole(path_);
    if (!now.ok()) return now.error();
    if (now.value() != saved_) {
      conflict_ = true;
      theirs_ = now.value();
      return SaveAnswer::kChangedOnDisk;
    }
  }
  const Result<Done> written = save_file(path_, text());
  if (!written.ok()) return written.error();
  saved_ = text();
  conflict_ = false;
  return SaveAnswer::kSaved;
}

void EditSession::put_off() {
  put_off_ = theirs_;
  conflict_ = false;
}

void EditSession::file_has(const std::string& now) {
  if (now == saved_) return;
  if (unsaved() && now == put_off_) return;
  if (unsaved() && now != text()) {
    conflict_ = true;
    theirs_ = now;
    return;
  }
  saved_ = now;
  conflict_ = false;
  history_.push(now, "change in the file");
  compile();
}

}  // namespace understudy
