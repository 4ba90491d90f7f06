// The folder of this user for named ports and sockets, and the symlinks in it and elsewhere.
#pragma once

#include <memory>
#include <string>
#include <utility>

#include "sim/base/result.h"
#include "sim/link/descriptor.h"

namespace understudy {

// $XDG_RUNTIME_DIR/understudy, or understudy-UID in the temporary directory; made with mode 0700
// where it is not there. Errors: kUnusable where it belongs to somebody else or others may write.
Result<std::string> private_folder();

// Sixteen letters and digits that stand for a path in the names of our own files there.
std::string short_name_of(const std::string& path);

// A symlink that names something of ours; removed with this object if it still is ours.
class NamedLink {
 public:
  // Puts a symlink to `target` at the place that `name` says (see PtyOptions::name). Replaces a
  // symlink that one of our own runs left behind or whose session is gone; never anything else.
  // Errors: kUnusable (something else is there, or there is no such folder), kBusy (a running
  // session has it).
  static Result<std::unique_ptr<NamedLink>> put(const std::string& name, const std::string& target);
  ~NamedLink();
  NamedLink(const NamedLink&) = delete;
  NamedLink& operator=(const NamedLink&) = delete;

  [[nodiscard]] const std::string& path() const { return path_; }
  // Lets it point elsewhere, in one step. Errors: kUnusable.
  Result<Done> point_to(const std::string& target);

 private:
  NamedLink(std::string path, std::string note_path, Descriptor note)
      : path_(std::move(path)), note_path_(std::move(note_path)), note_(std::move(note)) {}
  std::string path_;
  std::string note_path_;
  Descriptor note_;  // its lock says to other sessions that this one runs
  std::string target_;
};

}  // namespace understudy
