#include "quote/bill_money.hpp"

#include <stdexcept>

#include "mendworth/diagnostic.hpp"

namespace mendworth {

namespace {

constexpr int most_minor_digits = 4;
constexpr std::int64_t largest_sum = 1'000'000'000'000'000;

}  // namespace

Till::Till(const Shop& shop, const Currency& currency)
    : source_name_(shop.source_name),
      currency_(currency),
      per_unit_(Exact::power_of_ten(currency.minor_digits)) {
  if (currency.minor_digits < 0 || currency.minor_digits > most_minor_digits) {
    throw std::invalid_argument("a currency has 0 to 4 minor digits");
  }
}

Money Till::rounded(const Exact& units) const {
  try {
    return {minor_units(units).rounded()};
  } catch (const std::domain_error&) {
    refuse_size();
  }
}

Money Till::rounded_up(const Exact& units) const {
  try {
    return {minor_units(units).rounded_up()};
  } catch (const std::domain_error&) {
    refuse_size();
  }
}

Exact Till::units(Money sum) const { return Exact::whole(sum.minor) / per_unit_; }

Money Till::checked(Money sum) const {
  if (sum.minor > largest_sum || sum.minor < -largest_sum) refuse_size();
  return sum;
}

void Till::refuse_size() const {
  Diagnostic problem;
  problem.source = source_name_;
  problem.message = "the bill has a sum beyond 1e15 of the smallest unit of " + currency_.code +
                    ": no job costs that much; look for a slip in a price, a rate or a markup";
  throw InputError({problem});
}

}  // namespace mendworth
