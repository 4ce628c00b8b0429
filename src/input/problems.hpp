#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "input/document.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::input {

/// In a CSV file, where one slip may repeat in every row.
inline constexpr std::size_t most_reported_of_csv = 100;

/// Collects what is wrong with one input, so that all of it is said at once.
class Problems {
 public:
  /// Beyond `most_reported` problems the rest are only counted.
  explicit Problems(std::string source_name, std::size_t most_reported = 200)
      : source_name_(std::move(source_name)), most_reported_(most_reported) {}

  void add(Place place, std::string key, std::string message, std::string remedy = "");
  [[nodiscard]] std::size_t count() const noexcept { return found_.size() + left_out_; }

  /// Throws InputError with everything found, in the order of the lines, overrides last. Does nothing if there
  /// is nothing.
  void throw_if_any();

 private:
  std::string source_name_;
  std::size_t most_reported_;
  std::vector<Diagnostic> found_;
  std::size_t left_out_ = 0;
};

}  // namespace mendworth::input
