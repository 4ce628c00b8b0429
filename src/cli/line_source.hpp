#pragma once

#include <cstdint>
#include <fstream>
#include <istream>
#include <optional>
#include <string>

namespace mendworth::cli {

/// The lines of a file or of standard input ("-"), one at a time, however many there are.
class LineSource {
 public:
  /// Throws FileError if the file cannot be read. `in` is read for "-"; null: there is none.
  LineSource(const std::string& path, std::istream* in);

  /// The next line that is not blank, without its line end; of a longer one than `most` bytes one byte more than that, the
  /// rest is skipped. Absent at the end. Throws FileError.
  [[nodiscard]] std::optional<std::string> next(std::size_t most);
  [[nodiscard]] std::uint64_t bytes_read() const noexcept { return bytes_; }
  [[nodiscard]] std::optional<std::uint64_t> size() const noexcept { return size_; }  ///< of a regular file

 private:
  std::string path_;
  std::ifstream file_;
  std::istream* in_;
  std::optional<std::uint64_t> size_;
  std::uint64_t bytes_ = 0;
  bool first_ = true;
};

}  // namespace mendworth::cli
