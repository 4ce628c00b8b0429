#pragma once

#include <string>

#include "mendworth/case.hpp"
#include "model/plan.hpp"

namespace mendworth {

/// A case key in words with its unit: "price of Desk 2 (EUR)" for "replacement.1.price", or for "replacement.price".
[[nodiscard]] std::string label_of(const Case& c, const std::string& key);

/// "failed and mates", "replace: <name>"
[[nodiscard]] std::string option_name(const Case& c, const Option& option);

}  // namespace mendworth
