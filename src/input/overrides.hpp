#pragma once

#include <string>
#include <vector>

#include "input/document.hpp"
#include "input/problems.hpp"

namespace mendworth::input {

/// Writes each "key=value" into the document of a case, as if the file had said so.
/// A key is that of for_each_quantity or of any other entry. The element of an array is named by its number from 1, by
/// its name, or not at all where there is only one. The value is TOML; what is no TOML value is a text.
/// One entry set by two overrides is a problem, however each spells its key, and so is a factor common to several
/// entries, as answers name them. What reading the case would find out later (unknown keys, wrong types) is left to it.
void apply_overrides(Node& document, const std::vector<std::string>& overrides, Problems& problems);

}  // namespace mendworth::input
