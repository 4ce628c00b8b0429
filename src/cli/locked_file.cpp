#include "cli/locked_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>

#include "cli/output_file.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"

// The lock is flock(2) on a file of its own beside the file. The file itself will not do: a replacement is a new
// file, and who waits for the lock of the old one would change what nobody reads any more. The folder would do on a
// local disk, but not where flock asks for a file that is open for writing (NFS), and it would make all files of the
// folder wait for each other. The lock file is never removed: if it were, one command could hold the lock of the
// removed file and another that of its successor. The kernel lets go of the lock when the process ends, however it
// ends, so a killed command blocks nobody.
namespace mendworth::cli {

namespace {

void require_file(const std::string& place, const std::string& shown, IfMissing if_missing) {
  struct stat status {};
  if (::stat(place.c_str(), &status) != 0) {
    if (errno == ENOENT && if_missing == IfMissing::make_it) return;
    if (errno == ENOENT) throw FileError(shown + ": there is no such file");
    fail_with_errno(shown, "cannot be read", errno);
  }
  if (S_ISDIR(status.st_mode)) throw FileError(shown + ": is a folder, not a file");
  if (!S_ISREG(status.st_mode)) throw FileError(shown + ": is not a regular file");
}

std::string checked_place(const std::string& path, IfMissing if_missing) {
  std::string place = real_place(path);
  require_file(place, path, if_missing);
  return place;
}

// Opened without O_CREAT first: in a folder for everybody Linux may refuse to "create" what somebody else owns. For
// reading is enough for flock; only NFS wants more, so writing is tried first. A link or a pipe in its place is refused.
int open_lock(const std::string& path) {
  constexpr int flags = O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK;
  constexpr int tries = 100;  // another command may create it between the calls
  for (int i = 0; i < tries; ++i) {
    int descriptor = ::open(path.c_str(), O_RDWR | flags);
    if (descriptor < 0 && (errno == EACCES || errno == EROFS))
      descriptor = ::open(path.c_str(), O_RDONLY | flags);
    if (descriptor >= 0 || errno != ENOENT) return descriptor;
    descriptor = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | flags, 0666);
    if (descriptor >= 0 || errno != EEXIST) return descriptor;
  }
  return -1;
}

// No handler is installed, so Ctrl-C ends the wait with the process.
void wait_for_lock(int descriptor, const std::string& path) {
  while (::flock(descriptor, LOCK_EX) != 0) {
    if (errno != EINTR) fail_with_errno(path, "cannot be locked", errno);
  }
}

}  // namespace

FileLock::FileLock(const std::string& path) : descriptor_(open_lock(path)) {
  if (descriptor_ < 0) fail_with_errno(path, "cannot be opened for locking", errno);
  try {
    struct stat status {};
    if (::fstat(descriptor_, &status) != 0 || !S_ISREG(status.st_mode)) {
      throw FileError(path + ": is not a regular file, and cannot be locked");
    }
    wait_for_lock(descriptor_, path);
  } catch (...) {
    ::close(descriptor_);
    throw;
  }
}

FileLock::~FileLock() { ::close(descriptor_); }

LockedFile::LockedFile(const std::string& path, IfMissing if_missing)
    : shown_(path), place_(checked_place(path, if_missing)), lock_(place_ + ".lock") {
  // One name for all commands is enough, as only the holder of the lock writes; so what a killed one left is known.
  temporary_ = place_ + ".mendworth-new";
  if (::unlink(temporary_.c_str()) != 0 && errno == EISDIR)
    fail_with_errno(temporary_, "is in the way", errno);
}

bool LockedFile::exists() const {
  struct stat status {};
  return ::stat(place_.c_str(), &status) == 0;
}

std::string LockedFile::read(std::size_t limit) const {
  require_file(place_, shown_, IfMissing::fail);
  return read_text_file(place_, limit);
}

void LockedFile::replace(std::string_view text) const {
  OutputFile(place_, temporary_).commit(text);
  const std::filesystem::path parent = std::filesystem::path(place_).parent_path();
  sync_folder(parent.empty() ? "." : parent.string(), shown_);
}

}  // namespace mendworth::cli
