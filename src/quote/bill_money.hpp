#pragma once

#include <string>

#include "mendworth/money.hpp"
#include "mendworth/shop.hpp"
#include "numeric/exact.hpp"

namespace mendworth {

/// Turns exact sums into money of one currency. What goes beyond 1e15 minor units is the InputError of the shop's file.
class Till {
 public:
  /// Throws std::invalid_argument unless the currency has 0 to 4 minor digits.
  Till(const Shop& shop, const Currency& currency);

  [[nodiscard]] Money rounded(const Exact& units) const;     ///< halves away from zero
  [[nodiscard]] Money rounded_up(const Exact& units) const;  ///< to the next minor unit above
  [[nodiscard]] Exact units(Money sum) const;                ///< of the currency, not minor ones
  [[nodiscard]] Exact minor_units(const Exact& units) const { return units * per_unit_; }
  [[nodiscard]] Money checked(Money sum) const;  ///< sums of sums: throws if it is beyond

  [[nodiscard]] const Currency& currency() const noexcept { return currency_; }

 private:
  [[noreturn]] void refuse_size() const;

  std::string source_name_;
  Currency currency_;
  Exact per_unit_;
};

}  // namespace mendworth
