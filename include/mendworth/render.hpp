#pragma once

#include <string>

#include "mendworth/case.hpp"
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
