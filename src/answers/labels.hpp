#pragma once

#include <string>

#include "mendworth/case.hpp"

namespace mendworth {

/// A case key in words with its unit: "price of Desk 2 (EUR)" for "replacement.1.price".
[[nodiscard]] std::string label_of(const Case& c, const std::string& key);

}  // namespace mendworth
