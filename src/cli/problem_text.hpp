#pragma once

#include <string>
#include <vector>

#include "mendworth/diagnostic.hpp"

namespace mendworth::cli {

/// A message in lines of at most so many columns, those but the first a little to the right. Longer are lines that hold
/// one name, path or command, quoted or not, which somebody may want to copy.
[[nodiscard]] std::string message_text(const std::string& message, int columns);

/// Messages, each with the line of the file below it, as it is, and a mark at the column; their number at the end, if
/// there are several.
[[nodiscard]] std::string problems_text(const std::vector<Diagnostic>& problems, int columns);

}  // namespace mendworth::cli
