#include "cli/record_folder.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <set>
#include <system_error>

#include "cli/locked_file.hpp"
#include "cli/output_file.hpp"
#include "mendworth/diagnostic.hpp"

// A record is written into a hidden folder of the directory and then moved to its number in one step that fails if the
// number is taken. A lock of the directory is held meanwhile, so the hidden folder has one name for all commands, and what
// is there belongs to one that was killed: it is cleared away.
namespace mendworth::cli {

namespace {

namespace fs = std::filesystem;

bool anything_at(const std::string& path) {
  struct stat status {};
  return ::lstat(path.c_str(), &status) == 0;
}

void make_folder(const fs::path& path) {
  if (::mkdir(path.c_str(), 0700) != 0 && errno != EEXIST)
    fail_with_errno(path.string(), "cannot be created", errno);
}

/// A folder for half-written things, empty at first, gone with this object.
class HiddenFolder {
 public:
  explicit HiddenFolder(const std::string& directory) : path_(fs::path(directory) / ".mendworth-new") {
    std::error_code error;
    fs::remove_all(path_, error);
    if (error)
      throw FileError(fmt::format("{}: cannot be cleared away: {}", path_.string(), error.message()));
    make_folder(path_);
  }
  ~HiddenFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  HiddenFolder(const HiddenFolder&) = delete;
  HiddenFolder& operator=(const HiddenFolder&) = delete;

  [[nodiscard]] std::string place(const std::string& name) const { return (path_ / name).string(); }

 private:
  fs::path path_;
};

/// Writes the files below `root` for the owner's eyes alone and brings everything to the disk.
void write_tree(const std::string& root, const std::vector<RecordFile>& files) {
  std::set<fs::path> folders = {root};
  make_folder(root);
  for (const RecordFile& file : files) {
    const fs::path place = fs::path(root) / file.path;
    fs::path folder = root;
    for (const fs::path& step : fs::path(file.path).parent_path()) {
      folder /= step;
      if (folders.insert(folder).second) make_folder(folder);
    }
    write_new_file(place.string(), file.bytes, Sync::yes);
    fs::permissions(place, fs::perms::owner_read | fs::perms::owner_write);
  }
  for (const fs::path& folder : folders) sync_folder(folder.string(), folder.string());
}

/// False if the place is taken.
bool move_to_free_place(const std::string& from, const std::string& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return true;
  if (errno == EEXIST || errno == ENOTEMPTY) return false;
  // EINVAL: the file system does not know the flag; ENOSYS: the kernel does not know the call.
  if (errno == EINVAL || errno == ENOSYS || errno == EOPNOTSUPP) return move_folder(from, to);
  fail_with_errno(to, "cannot be put in its place", errno);
}

}  // namespace

bool is_record_number(std::string_view number) noexcept {
  constexpr std::size_t longest = 40;
  constexpr std::string_view allowed = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.";
  return !number.empty() && number.size() <= longest && number.front() != '.' &&
         number.find_first_not_of(allowed) == std::string_view::npos;
}

std::string record_place(const std::string& directory, const std::string& number) {
  return (fs::path(directory) / number).string();
}

void require_record_directory(const std::string& directory) {
  struct stat status {};
  if (::stat(directory.c_str(), &status) != 0) {
    if (errno == ENOENT) return;
    fail_with_errno(directory, "cannot be used for records", errno);
  }
  if (!S_ISDIR(status.st_mode)) throw FileError(directory + ": is a file, not a folder for records");
  if (::access(directory.c_str(), W_OK | X_OK) != 0) fail_with_errno(directory, "cannot be written", errno);
}

bool record_exists(const std::string& directory, const std::string& number) {
  return anything_at(record_place(directory, number));
}

bool add_record(const std::string& directory, const std::string& number,
                const std::vector<RecordFile>& files) {
  std::error_code error;
  fs::create_directories(directory, error);
  if (error) throw FileError(fmt::format("{}: cannot be created: {}", directory, error.message()));
  const FileLock lock((fs::path(directory) / ".mendworth-lock").string());
  if (record_exists(directory, number)) return false;
  const SignalsWait no_litter;
  const HiddenFolder hidden(directory);
  const std::string draft = hidden.place(number);
  write_tree(draft, files);
  if (!move_to_free_place(draft, record_place(directory, number))) return false;
  sync_folder(directory, record_place(directory, number));
  return true;
}

bool move_folder(const std::string& from, const std::string& to) {
  if (anything_at(to)) return false;
  // POSIX rename: a folder takes the place of an empty folder only. All that could be lost between the two calls is a
  // folder with nothing in it.
  if (std::rename(from.c_str(), to.c_str()) == 0) return true;
  if (errno == EEXIST || errno == ENOTEMPTY || errno == ENOTDIR) return false;
  fail_with_errno(to, "cannot be put in its place", errno);
}

}  // namespace mendworth::cli
