#pragma once

#include <string>
#include <vector>

#include "mendworth/diagnostic.hpp"

namespace mendworth::cli {

/// Messages, one a line, each with the line of the file below it and a mark at the column; their number at the end, if
/// there are several.
[[nodiscard]] std::string problems_text(const std::vector<Diagnostic>& problems);

}  // namespace mendworth::cli
