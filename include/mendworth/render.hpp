#pragma once

#include <string>

#include "mendworth/case.hpp"
#include "mendworth/lifetime.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"

/// Finished answers to text. Pure: same argument, same bytes.
namespace mendworth {

struct TextStyle {
  bool color = false;
  int width = 80;  ///< columns, >= 60
};

[[nodiscard]] std::string weighing_text(const Weighing& w, const TextStyle& style);

/// Schema "mendworth.weighing", version 1; see weighing_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string weighing_json(const Weighing& w);

/// The JSON Schema (draft-07) that every weighing_json satisfies.
[[nodiscard]] const std::string& weighing_schema();

/// What a history says about the life of a part, in words, tables and plots of plain characters.
[[nodiscard]] std::string lifetime_text(const Lifetime& lifetime, const TextStyle& style);

/// Schema "mendworth.lifetime", version 1; see lifetime_schema. A limit that does not exist is null. Throws
/// std::logic_error if any other number is not finite.
[[nodiscard]] std::string lifetime_json(const Lifetime& lifetime);

/// The JSON Schema (draft-07) that every lifetime_json satisfies.
[[nodiscard]] const std::string& lifetime_schema();

/// The distribution-free curves and the fitted laws on Weibull probability paper, as a self-contained SVG 1.1 image.
/// Groups differ by marker and dash, not by colour alone.
[[nodiscard]] std::string lifetime_svg(const Lifetime& lifetime);

/// All rates with their sources.
[[nodiscard]] std::string rates_text(const RateBook& rates, const TextStyle& style);

/// The same, schema "mendworth.rates", version 1.
[[nodiscard]] std::string rates_json(const RateBook& rates);

/// An amount with its currency's digits, for instance "EUR 12.50"; rounded half away from zero.
/// Throws std::domain_error if the amount is not finite.
[[nodiscard]] std::string amount_text(double amount, const std::string& currency, int minor_digits);

/// The version of this library, "0.1.0".
[[nodiscard]] const char* version() noexcept;

}  // namespace mendworth
