#pragma once

#include <csignal>
#include <string>
#include <string_view>

namespace mendworth::cli {

/// While one of these lives, SIGINT, SIGTERM, SIGHUP, SIGQUIT and SIGPIPE wait, so that what is half written is finished or cleared away
/// first. For short work of a single thread.
class SignalsWait {
 public:
  SignalsWait() noexcept;
  ~SignalsWait();
  SignalsWait(const SignalsWait&) = delete;
  SignalsWait& operator=(const SignalsWait&) = delete;

 private:
  sigset_t before_;
};

/// A file that appears whole or not at all: `commit` writes it under another name beside its place and renames it. A
/// place that is no regular file (a device, a pipe) is written directly. Until `commit` nothing is there, and no signal
/// but SIGKILL leaves anything.
class OutputFile {
 public:
  /// Throws FileError if the place cannot be written: what took long to work out should not fail for that.
  explicit OutputFile(const std::string& path);
  /// The same, but the other name is a stated one, which must be free.
  OutputFile(const std::string& path, const std::string& temporary);
  ~OutputFile();
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;

  /// Writes everything and puts the file in its place; once. Throws FileError.
  void commit(std::string_view text);

 private:
  void open_beside();
  void remove_temporary() noexcept;

  std::string path_;
  std::string stated_;     // the other name, if it is a stated one
  std::string temporary_;  // while it is there
  int descriptor_ = -1;    // while it is open
  bool directly_ = false;
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
