// Who may write where: the folder is checked for its owner and mode, and a symlink is replaced only
// where a note in that folder says that it is ours and no running session holds the note's lock.
#include "sim/link/private_folder.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <optional>
#include <string_view>
#include <vector>

#include "sim/base/fingerprint.h"

namespace understudy {
namespace {

std::string temporary_folder() {
  const char* named = getenv("TMPDIR");
  return named != nullptr && named[0] == '/' ? named : "/tmp";
}

// The folder's path; whether it may be used is checked by the caller.
std::string folder_path() {
  const char* runtime = getenv("XDG_RUNTIME_DIR");
  struct stat info {};
  const bool usable = runtime != nullptr && runtime[0] == '/' && stat(runtime, &info) == 0 &&
                      S_ISDIR(info.st_mode) && access(runtime, W_OK) == 0;
  if (usable) return std::string(runtime) + "/understudy";
  return temporary_folder() + "/understudy-" + std::to_string(geteuid());
}

std::optional<std::string> target_of(const std::string& path) {
  char target[4'096];
  const ssize_t length = readlink(path.c_str(), target, sizeof target);
  if (length < 0) return std::nullopt;
  return std::string(target, static_cast<std::size_t>(length));
}

Error unusable_name(const std::string& path, const std::string& why) {
  return {ErrorCode::kUnusable, "cannot put a port at " + path + ": " + why};
}

// One note for each place where a symlink of ours stands or stood. Its lines are the targets that
// the symlink may have, the older first: it is written before the symlink is changed.
std::string note_path(const std::string& folder, const std::string& path) {
  return folder + "/.port-" + short_name_of(path);
}

std::string read_note(int note) {
  char text[8'192];
  const ssize_t length = pread(note, text, sizeof text, 0);
  return length > 0 ? std::string(text, static_cast<std::size_t>(length)) : std::string();
}

bool write_note(int note, const std::string& text) {
  return ftruncate(note, 0) == 0 &&
         pwrite(note, text.data(), text.size(), 0) == static_cast<ssize_t>(text.size());
}

bool names_target(std::string_view note, const std::string& target) {
  return ("\n" + std::string(note)).find("\n" + target + "\n") != std::string::npos;
}

}  // namespace

std::string short_name_of(const std::string& path) {
  Fingerprint name;
  name.add(path);
  char hex[20];
  snprintf(hex, sizeof hex, "%016llx", static_cast<unsigned long long>(name.value()));
  return hex;
}

Result<std::string> private_folder() {
  const std::string path = folder_path();
  if (mkdir(path.c_str(), 0700) != 0 && errno != EEXIST) {
    return Error{ErrorCode::kUnusable,
                 "cannot make the folder " + path + ": " + strerror(errno) +
                     "; set XDG_RUNTIME_DIR or TMPDIR to a folder that you may write to"};
  }
  struct stat info {};
  if (lstat(path.c_str(), &info) != 0 || !S_ISDIR(info.st_mode) || info.st_uid != geteuid()) {
    return Error{ErrorCode::kUnusable,
                 "cannot use " + path + ": it is not a folder of yours; remove it, or set TMPDIR"};
  }
  if ((info.st_mode & 077) != 0) {
    return Error{ErrorCode::kUnusable,
                 "cannot use " + path + ": others may look into it; run chmod 700 " + path};
  }
  return path;
}

namespace {

Result<std::string> place_of(const std::string& name, const std::string& folder) {
  const std::size_t slash = name.rfind('/');
  if (slash != std::string::npos) {
    // Written in one way only, so that the note about it is found again from any folder.
    char* real = realpath(slash == 0 ? "/" : name.substr(0, slash).c_str(), nullptr);
    if (real == nullptr) return unusable_name(name, std::string("its folder: ") + strerror(errno));
    const std::string parent = real;
    free(real);
    return (parent == "/" ? parent : parent + "/") + name.substr(slash + 1);
  }
  if (name.empty() || name.front() == '.') {
    return unusable_name("'" + name + "'", "a name is not empty and doesn't begin with a dot");
  }
  return folder + "/" + name;
}

// True where `path` still names the open file `note`: its session may have removed it meanwhile.
bool still_named(int note, const std::string& path) {
  struct stat open_one {};
  struct stat named_one {};
  return fstat(note, &open_one) == 0 && stat(path.c_str(), &named_one) == 0 &&
         open_one.st_ino == named_one.st_ino && open_one.st_dev == named_one.st_dev;
}

// Takes the note's lock, which shows that a session runs for as long as it is held.
Result<Descriptor> lock_note(const std::string& note_at, const std::string& path) {
  for (;;) {
    Descriptor note(::open(note_at.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600));
    if (!note.valid()) return unusable_name(path, strerror(errno));
    if (flock(note.get(), LOCK_EX | LOCK_NB) != 0) {
      return Error{ErrorCode::kBusy, "cannot put a port at " + path +
                                         ": a session that is running has it; end that one or give "
                                         "another name"};
    }
    if (still_named(note.get(), note_at)) return note;
  }
}

// What stands at `path` and is not ours by the note; nothing where the place may be used.
std::optional<Error> taken_by_others(const std::string& path, const std::string& note) {
  struct stat info {};
  if (lstat(path.c_str(), &info) != 0) return std::nullopt;
  const std::optional<std::string> target = target_of(path);
  if (!target) return unusable_name(path, "a real file is there; give another name");
  if (names_target(note, *target)) return std::nullopt;
  return unusable_name(path, "a symlink to " + *target +
                                 " is there that is not ours; remove it or give another name");
}

}  // namespace

Result<std::unique_ptr<NamedLink>> NamedLink::put(const std::string& name,
                                                  const std::string& target) {
  Result<std::string> folder = private_folder();
  if (!folder.ok()) return folder.error();
  Result<std::string> place = place_of(name, folder.value());
  if (!place.ok()) return place.error();
  const std::string& path = place.value();
  const std::string note_at = note_path(folder.value(), path);
  Result<Descriptor> note = lock_note(note_at, path);
  if (!note.ok()) return note.error();

  const std::optional<Error> taken = taken_by_others(path, read_note(note.value().get()));
  if (taken) {
    unlink(note_at.c_str());
    return *taken;
  }
  std::unique_ptr<NamedLink> named(new NamedLink(path, note_at, std::move(note).value()));
  Result<Done> put = named->point_to(target);
  if (!put.ok()) return put.error();
  return named;
}

Result<Done> NamedLink::point_to(const std::string& target) {
  const std::optional<std::string> old = target_of(path_);
  const std::string made = path_ + ".new-" + std::to_string(getpid());
  // symlink() never replaces; the rename does, in one step, what was found to be ours.
  if (!write_note(note_.get(), old.value_or(target) + "\n" + target + "\n") ||
      symlink(target.c_str(), made.c_str()) != 0 || rename(made.c_str(), path_.c_str()) != 0) {
    const int reason = errno;
    unlink(made.c_str());
    return unusable_name(path_, strerror(reason));
  }
  target_ = target;
  return Done{};
}

NamedLink::~NamedLink() {
  if (!target_.empty() && target_of(path_) == target_) unlink(path_.c_str());
  unlink(note_path_.c_str());
}

}  // namespace understudy
