#pragma once

#include "mendworth/money.hpp"
#include "mendworth/quote.hpp"
#include "render/json_support.hpp"

/// What the two JSON files of a quote share.
namespace mendworth {

/// A sum as {"minor": 1250, "text": "EUR 12.50"}: the first to count with, the second as it is printed.
template <>
Shape<Money>::Shape();
template <>
Shape<Currency>::Shape();

[[nodiscard]] const char* name_of(CustomerChoice::Kind kind);

}  // namespace mendworth
