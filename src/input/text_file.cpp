#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <string>
#include <system_error>

#include <fmt/format.h>

#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"

namespace mendworth {

namespace {

[[noreturn]] void fail(const std::string& path, const std::string& why) {
  throw FileError(fmt::format("{}: {}", path, why));
}

/// Reads to the end, or one byte beyond the limit.
std::string read_stream(std::FILE* stream, const std::string& path, std::size_t limit) {
  std::string text;
  std::array<char, 65'536> block{};
  while (text.size() <= limit) {
    const std::size_t count = std::fread(block.data(), 1, block.size(), stream);
    text.append(block.data(), count);
    if (count < block.size()) {
      if (std::ferror(stream) != 0) fail(path, fmt::format("cannot be read: {}", std::strerror(errno)));
      break;
    }
  }
  if (text.size() > limit) {
    throw InputError(
        {{path, 0, 0, "", fmt::format("larger than {} bytes, which is the most that is read", limit), ""}});
  }
  return text;
}

}  // namespace

std::string read_text_file(const std::string& path, std::size_t limit) {
  if (path == "-") return read_stream(stdin, path, limit);
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found) fail(path, "there is no such file");
  if (error) fail(path, fmt::format("cannot be read: {}", error.message()));
  if (fs::is_directory(status)) fail(path, "is a folder, not a file");
  if (!fs::is_regular_file(status) && !fs::is_fifo(status)) fail(path, "is neither a file nor a pipe");
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"), &std::fclose);
  if (!file) fail(path, fmt::format("cannot be read: {}", std::strerror(errno)));
  return read_stream(file.get(), path, limit);
}

}  // namespace mendworth
