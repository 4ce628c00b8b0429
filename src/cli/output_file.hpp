#pragma once

#include <string>
#include <string_view>

namespace mendworth::cli {

/// A file that appears whole or not at all: opened under another name beside its place, renamed by `commit`.
/// A place that is no regular file (a device, a pipe) is written directly. Without `commit` nothing is left.
class OutputFile {
 public:
  /// Throws FileError if the place cannot be written.
  explicit OutputFile(const std::string& path);
  /// The same, but the other name is a stated one, which must be free.
  OutputFile(const std::string& path, const std::string& temporary);
  ~OutputFile();
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;

  /// Writes everything and puts the file in its place; once. Throws FileError.
  void commit(std::string_view text);

 private:
  void open_beside(const std::string& temporary);

  std::string path_;
  std::string temporary_;  // empty: written directly
  int descriptor_ = -1;
};

/// Where a path leads if it is a symbolic link, so that the link stays a link when the file is replaced; there need be
/// no file yet.
[[nodiscard]] std::string real_place(const std::string& path);

/// Throws FileError: "place: what: the words of this errno".
[[noreturn]] void fail_with_errno(const std::string& path, const char* what, int error);

/// Throws FileError if something of this name is there already.
void require_free_place(const std::string& path);

enum class Sync { no, yes };

/// Writes a new file; throws FileError if the place is taken or cannot be written. With Sync::yes its contents are on the
/// disk when this returns.
void write_new_file(const std::string& path, std::string_view text, Sync sync = Sync::no);

/// The names in a folder are on the disk when this returns, if its file system can do that. Throws FileError, which says
/// of `shown` that it may not outlive a loss of power.
void sync_folder(const std::string& folder, const std::string& shown);

}  // namespace mendworth::cli
