#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/output_file.hpp"
#include "cli/surroundings.hpp"

namespace mendworth::cli {

/// Where a result goes: to standard output, or to a file that appears whole or not at all.
class Destination {
 public:
  /// Absent or "-" is standard output. `option` is what the path was given with, `inputs` the files that are read.
  /// Throws UsageError if it is one of these, FileError if the place cannot be written.
  Destination(const std::optional<std::string>& path, const std::string& option,
              const std::vector<std::optional<std::string>>& inputs);

  [[nodiscard]] bool is_standard_output() const noexcept { return file_ == nullptr; }
  /// Once. Throws FileError.
  void write(std::string_view text, const Streams& streams);

 private:
  std::unique_ptr<OutputFile> file_;
};

/// True for absent or "-".
[[nodiscard]] bool names_standard_output(const std::optional<std::string>& path);

/// Throws UsageError if two outputs are one file.
void require_different_places(const std::optional<std::string>& a, const std::string& a_option,
                              const std::optional<std::string>& b, const std::string& b_option);

}  // namespace mendworth::cli
