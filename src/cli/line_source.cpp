#include "cli/line_source.hpp"

#include <cerrno>
#include <filesystem>
#include <system_error>

#include "cli/output_file.hpp"
#include "input/csv_reading.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::cli {

LineSource::LineSource(const std::string& path, std::istream* in) : path_(path), in_(in) {
  if (path == "-") {
    if (in_ == nullptr) throw FileError("-: there is no standard input");
    return;
  }
  std::error_code error;
  if (std::filesystem::is_directory(path, error)) throw FileError(path + ": is a directory, not a file");
  file_.open(path, std::ios::binary);
  if (!file_) fail_with_errno(path, "cannot be read", errno);
  in_ = &file_;
  if (std::filesystem::is_regular_file(path, error)) size_ = std::filesystem::file_size(path, error);
}

std::optional<std::string> LineSource::next(std::size_t most) {
  std::string line;
  for (;;) {
    line.clear();
    std::streambuf& from = *in_->rdbuf();
    int c = from.sbumpc();
    const bool at_end = c == std::char_traits<char>::eof();
    for (; c != std::char_traits<char>::eof() && c != '\n'; c = from.sbumpc()) {
      ++bytes_;
      if (line.size() <= most) line += static_cast<char>(c);
    }
    if (at_end) return std::nullopt;
    ++bytes_;
    if (line.ends_with('\r')) line.pop_back();
    if (first_ && line.starts_with(input::byte_order_mark)) line.erase(0, input::byte_order_mark.size());
    first_ = false;
    if (line.find_first_not_of(" \t") != std::string::npos) return line;
  }
}

}  // namespace mendworth::cli
