#pragma once

#include <string>
#include <string_view>

namespace mendworth::cli {

enum class IfMissing { make_it, fail };

/// A file that several commands may change at once: from its construction on, this process is the only one that does.
/// It is read under the lock, and replaced whole: killed at any moment, a command leaves the old file or the new one.
class LockedFile {
 public:
  /// Waits for the lock. Where `path` is a symbolic link, the file that it leads to is meant, and the link stays.
  /// Throws FileError if the place is no regular file or cannot be locked.
  LockedFile(const std::string& path, IfMissing if_missing);
  ~LockedFile();
  LockedFile(const LockedFile&) = delete;
  LockedFile& operator=(const LockedFile&) = delete;

  [[nodiscard]] bool exists() const;
  /// At most `limit` bytes, else InputError. Throws FileError if it cannot be read.
  [[nodiscard]] std::string read(std::size_t limit) const;
  /// The new contents are on the disk when this returns. Throws FileError.
  void replace(std::string_view text) const;

 private:
  std::string shown_;  // as the user named it
  std::string place_;
  std::string temporary_;
  int lock_ = -1;
};

}  // namespace mendworth::cli
