#pragma once

#include <string>
#include <string_view>

namespace mendworth::cli {

/// A lock that one command holds at a time, on a file of its own that stays. The kernel lets go of it when the process
/// ends, however it ends.
class FileLock {
 public:
  /// Waits for the lock. Throws FileError if there can be none.
  explicit FileLock(const std::string& path);
  ~FileLock();
  FileLock(const FileLock&) = delete;
  FileLock& operator=(const FileLock&) = delete;

 private:
  int descriptor_ = -1;
};

enum class IfMissing { make_it, fail };

/// A file that several commands may change at once: from its construction on, this process is the only one that does.
/// It is read under the lock, and replaced whole: killed at any moment, a command leaves the old file or the new one.
class LockedFile {
 public:
  /// Waits for the lock. Where `path` is a symbolic link, the file that it leads to is meant, and the link stays.
  /// Throws FileError if the place is no regular file or cannot be locked.
  LockedFile(const std::string& path, IfMissing if_missing);
  [[nodiscard]] bool exists() const;
  /// At most `limit` bytes, else InputError. Throws FileError if it cannot be read.
  [[nodiscard]] std::string read(std::size_t limit) const;
  /// The new contents are on the disk when this returns. Throws FileError.
  void replace(std::string_view text) const;

 private:
  std::string shown_;  // as the user named it
  std::string place_;
  FileLock lock_;
  std::string temporary_;
};

}  // namespace mendworth::cli
