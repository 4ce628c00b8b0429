#pragma once

#include <doctest/doctest.h>

#include <cstddef>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <system_error>

namespace mendworth::test {

/// A folder of a test's own that is gone afterwards.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "mendworth-test-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  /// Where a file of this name is, or would be.
  [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }
  /// Writes such a file; its place.
  [[nodiscard]] std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name) << text;
    return file(name);
  }
  /// How many files and folders are in it, hidden or not; a link that leads nowhere is none.
  [[nodiscard]] std::size_t entries() const { return entries_in(path_); }
  [[nodiscard]] static std::size_t entries_in(const std::filesystem::path& folder) {
    std::size_t count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) count += entry.exists() ? 1U : 0U;
    return count;
  }

 private:
  std::filesystem::path path_;
};

}  // namespace mendworth::test
