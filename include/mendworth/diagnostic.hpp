#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace mendworth {

/// One thing that is wrong with an input, said so that its writer can mend it.
struct Diagnostic {
  std::string source;   ///< file name, "-" for standard input, "--set" for an override
  int line = 0;         ///< 1-based; 0 where no line can be named
  int column = 0;       ///< 1-based, counted in code points; 0 where none can be named
  std::string key;      ///< dotted key, for instance "labour.rate_per_hour"; may be empty
  std::string message;  ///< what was found and what is allowed
  std::string remedy;   ///< what to do, for instance "did you mean 'weight'?"; may be empty
  std::string
      excerpt{};  ///< the line as it stands in the file; empty where none can be named, or a very long one

  /// "file:line:column: error: message (remedy)", without the parts that are not known.
  [[nodiscard]] std::string text() const;
};

/// Bad data: every problem of one input, in the order of its lines. The command exits with 3.
class InputError : public std::runtime_error {
 public:
  /// `problems` is not empty; what() is their text, a line each.
  explicit InputError(std::vector<Diagnostic> problems);
  /// In the order of their lines; at least one.
  [[nodiscard]] const std::vector<Diagnostic>& problems() const noexcept { return problems_; }

 private:
  std::vector<Diagnostic> problems_;
};

/// A file that cannot be read or written. The command exits with 4.
class FileError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace mendworth
