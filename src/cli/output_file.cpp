#include "cli/output_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <memory>
#include <system_error>

#include "mendworth/diagnostic.hpp"

namespace mendworth::cli {

namespace {

void write_all(int descriptor, std::string_view text, const std::string& path) {
  while (!text.empty()) {
    const ssize_t written = ::write(descriptor, text.data(), text.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      fail_with_errno(path, "cannot be written", errno);
    }
    text.remove_prefix(static_cast<std::size_t>(written));
  }
}

void close_checked(int& descriptor, const std::string& path) {
  const int closing = descriptor;
  descriptor = -1;
  if (::close(closing) != 0) fail_with_errno(path, "cannot be written", errno);
}

// A file that several people share stays theirs, as far as the system lets one give it away.
void keep_owner(int descriptor, const struct stat& before) {
  if (::fchown(descriptor, before.st_uid, before.st_gid) == 0) return;
  if (::fchown(descriptor, static_cast<uid_t>(-1), before.st_gid) != 0) return;
}

mode_t permissions_of_a_new_file() {
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return static_cast<mode_t>(0666) & ~mask;
}

}  // namespace

SignalsWait::SignalsWait() noexcept {
  sigset_t ending;
  ::sigemptyset(&ending);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGPIPE}) ::sigaddset(&ending, signal);
  ::pthread_sigmask(SIG_BLOCK, &ending, &before_);
}

SignalsWait::~SignalsWait() { ::pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

void fail_with_errno(const std::string& path, const char* what, int error) {
  throw FileError(fmt::format("{}: {}: {}", path, what, std::strerror(error)));
}

std::string real_place(const std::string& path) {
  const std::unique_ptr<char, void (*)(void*)> resolved(::realpath(path.c_str(), nullptr), std::free);
  if (resolved) return resolved.get();
  namespace fs = std::filesystem;
  constexpr int most_links = 40;
  std::error_code error;
  fs::path place(path);
  for (int i = 0; i < most_links && fs::is_symlink(place, error); ++i) {
    const fs::path target = fs::read_symlink(place, error);
    if (error) break;
    place = place.parent_path() / target;
  }
  return place.string();
}

OutputFile::OutputFile(const std::string& path) : OutputFile(path, "") {}

OutputFile::OutputFile(const std::string& path, const std::string& temporary)
    : path_(real_place(path)), stated_(temporary) {
  struct stat status {};
  // Of the path as it is given: where /dev/stdout is a pipe it leads to no place that has a name.
  const bool exists = ::stat(path.c_str(), &status) == 0;
  if (exists && !S_ISREG(status.st_mode)) {
    directly_ = true;
    path_ = path;
    descriptor_ = ::open(path_.c_str(), O_WRONLY | O_CLOEXEC);
    if (descriptor_ < 0) fail_with_errno(path_, "cannot be opened for writing", errno);
    return;
  }
  if (exists && ::access(path_.c_str(), W_OK) != 0)
    fail_with_errno(path_, "cannot be opened for writing", errno);
  const SignalsWait no_litter;
  open_beside();
  remove_temporary();
}

void OutputFile::open_beside() {
  if (stated_.empty()) {
    temporary_ = path_ + ".XXXXXX";
    descriptor_ = ::mkostemp(temporary_.data(), O_CLOEXEC);
  } else {
    temporary_ = stated_;
    descriptor_ = ::open(stated_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  }
  if (descriptor_ >= 0) return;
  temporary_.clear();
  fail_with_errno(path_, "cannot be opened for writing", errno);
}

void OutputFile::remove_temporary() noexcept {
  if (descriptor_ >= 0) ::close(descriptor_);
  descriptor_ = -1;
  if (!temporary_.empty()) ::unlink(temporary_.c_str());
  temporary_.clear();
}

OutputFile::~OutputFile() { remove_temporary(); }

void OutputFile::commit(std::string_view text) {
  if (directly_) {
    write_all(descriptor_, text, path_);
    close_checked(descriptor_, path_);
    return;
  }
  const SignalsWait no_litter;
  try {
    struct stat status {};
    const bool exists = ::stat(path_.c_str(), &status) == 0;
    open_beside();
    if (exists) keep_owner(descriptor_, status);
    const mode_t mode = exists ? status.st_mode & static_cast<mode_t>(07777) : permissions_of_a_new_file();
    if (::fchmod(descriptor_, mode) != 0) fail_with_errno(path_, "cannot be given its permissions", errno);
    write_all(descriptor_, text, path_);
    if (::fsync(descriptor_) != 0) fail_with_errno(path_, "cannot be written", errno);
    close_checked(descriptor_, path_);
    if (std::rename(temporary_.c_str(), path_.c_str()) != 0)
      fail_with_errno(path_, "cannot be put in its place", errno);
    temporary_.clear();
  } catch (...) {
    remove_temporary();  // before signals come through
    throw;
  }
}

void require_free_place(const std::string& path) {
  struct stat status {};
  if (::lstat(path.c_str(), &status) == 0)
    throw FileError(path + ": exists already and is left as it is; choose another name");
}

void write_new_file(const std::string& path, std::string_view text, Sync sync) {
  const SignalsWait no_litter;
  int descriptor = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (descriptor < 0) {
    const int error = errno;
    if (error == EEXIST) require_free_place(path);
    fail_with_errno(path, "cannot be created", error);
  }
  try {
    write_all(descriptor, text, path);
    if (sync == Sync::yes && ::fsync(descriptor) != 0) fail_with_errno(path, "cannot be written", errno);
    close_checked(descriptor, path);
  } catch (...) {
    if (descriptor >= 0) ::close(descriptor);
    ::unlink(path.c_str());
    throw;
  }
}

// A new name is on the disk only when its folder is. File systems that cannot do this say EINVAL.
void sync_folder(const std::string& folder, const std::string& shown) {
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;  // a folder that may be written but not read
  const int result = ::fsync(descriptor);
  const int error = errno;
  ::close(descriptor);
  if (result != 0 && error != EINVAL && error != EROFS) {
    fail_with_errno(shown, "is changed, but may not outlive a loss of power", error);
  }
}

}  // namespace mendworth::cli
