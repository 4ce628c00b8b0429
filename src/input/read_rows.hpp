#pragma once

#include <vector>

#include "input/document.hpp"
#include "input/problems.hpp"
#include "mendworth/case.hpp"

namespace mendworth::input {

/// The words of the section [rows], each with the key that it stands for; reports keys that a case cannot have.
[[nodiscard]] std::vector<RowWord> read_row_words(const Node& document, Problems& problems);

}  // namespace mendworth::input
