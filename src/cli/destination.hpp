#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "cli/output_file.hpp"
#include "cli/surroundings.hpp"

namespace mendworth::cli {

/// Where a result goes: to standard output, or to a file that appears whole or not at all.
class Destination {
 public:
  /// Absent or "-" is standard output. `option` is what the path was given with, `input` the file that is read.
  /// Throws UsageError if both are the same file, FileError if the place cannot be written.
  Destination(const std::optional<std::string>& path, const std::string& option, const std::string& input);

  [[nodiscard]] bool is_standard_output() const noexcept { return file_ == nullptr; }
  /// Once. Throws FileError.
  void write(std::string_view text, const Streams& streams);

 private:
  std::unique_ptr<OutputFile> file_;
};

/// True for absent or "-".
[[nodiscard]] bool names_standard_output(const std::optional<std::string>& path);

/// Throws UsageError if an output names a file that is read.
void require_not_read(const std::optional<std::string>& path, const std::string& option,
                      const std::string& input);

/// Throws UsageError if two outputs are one file.
void require_different_places(const std::optional<std::string>& a, const std::string& a_option,
                              const std::optional<std::string>& b, const std::string& b_option);

}  // namespace mendworth::cli
