#pragma once

#include <string>
#include <string_view>
#include <vector>

/// Records: a folder DIR/NUMBER for each, whole or not at all, never overwritten.
namespace mendworth::cli {

struct RecordFile {
  std::string path;  ///< within the record, with '/' between folders
  std::string bytes;
};

/// 1 to 40 letters, digits, '-', '_' and '.' of ASCII, the first no '.'.
[[nodiscard]] bool is_record_number(std::string_view number) noexcept;

/// DIR/NUMBER.
[[nodiscard]] std::string record_place(const std::string& directory, const std::string& number);

/// Throws FileError if no record can be put there: it is a file, or a folder that may not be written to. A folder that
/// is not there yet will do.
void require_record_directory(const std::string& directory);

/// Whether there is anything of this number.
[[nodiscard]] bool record_exists(const std::string& directory, const std::string& number);

/// Writes a record of at least one file, readable by its owner only, one command at a time; makes the directory if it is missing. False if the number is taken: then
/// nothing is changed. Of commands that run at once with one number a single one succeeds. When this returns true, the
/// record is on the disk. Throws FileError.
[[nodiscard]] bool add_record(const std::string& directory, const std::string& number,
                              const std::vector<RecordFile>& files);

/// For file systems that cannot be asked to leave an existing place alone: moves a folder that holds something to a
/// place that is free; false if it is not. Throws FileError.
[[nodiscard]] bool move_folder(const std::string& from, const std::string& to);

}  // namespace mendworth::cli
