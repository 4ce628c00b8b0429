#include "cli/destination.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <ostream>
#include <system_error>

namespace mendworth::cli {

namespace {

std::filesystem::path place_of(const std::string& path) {
  std::error_code ignored;
  std::filesystem::path place = std::filesystem::weakly_canonical(path, ignored);
  return place.empty() ? std::filesystem::path(path) : place;
}

bool same_place(const std::string& a, const std::string& b) {
  std::error_code ignored;
  return std::filesystem::equivalent(a, b, ignored) || place_of(a) == place_of(b);
}

}  // namespace

Destination::Destination(const std::optional<std::string>& path, const std::string& option,
                         const std::vector<std::optional<std::string>>& inputs) {
  if (names_standard_output(path)) return;
  for (const auto& input : inputs) {
    if (!names_standard_output(input) && same_place(*input, *path))
      throw UsageError(fmt::format("{} names the file that is read, '{}'", option, *path));
  }
  file_ = std::make_unique<OutputFile>(*path);
}

void Destination::write(std::string_view text, const Streams& streams) {
  if (file_) {
    file_->commit(text);
  } else {
    streams.out << text;
  }
}

bool names_standard_output(const std::optional<std::string>& path) { return !path || *path == "-"; }

void require_different_places(const std::optional<std::string>& a, const std::string& a_option,
                              const std::optional<std::string>& b, const std::string& b_option) {
  if (!a || !b) return;
  if (names_standard_output(a) != names_standard_output(b)) return;
  if (names_standard_output(a) || same_place(*a, *b)) {
    throw UsageError(fmt::format("{} and {} both write to '{}'", a_option, b_option, *a));
  }
}

}  // namespace mendworth::cli
