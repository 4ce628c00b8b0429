#pragma once

#include <optional>

#include "quote/customer_page.hpp"
#include "quote/margin.hpp"

namespace mendworth {

/// What a choice at cost is worked out from.
struct ShopChoiceInput {
  const Case& c;
  const OrderBook& book;
  const Shop& shop;
  const PricedChoice& choice;
  const std::optional<Bill>& no_cure;  ///< charged without a cure; absent: nothing
  double charge_rate = 0;
  BillWishes wishes;
  double ceiling = 0;  ///< confidence that the consent limit was set for; 0: none
  JobFuturesSettings settings;
};

/// One choice as the shop sees it; but for the owner's saving and what moves the margin.
[[nodiscard]] ShopChoice shop_choice(const ShopChoiceInput& input, ModelCache& cache);

/// What the job brings in, without taxes.
[[nodiscard]] JobIncome job_income(const Bill& bill, const std::optional<Bill>& no_cure,
                                   const Currency& currency);

/// Minutes on the bench of the futures in which the device works afterwards.
[[nodiscard]] std::vector<double> minutes_if_cured(const std::vector<JobFuture>& futures);

/// The charge, tax included, if labour is charged by the time that it took.
[[nodiscard]] Money charge_by_time(const Shop& shop, const Case& c, double charge_rate, const JobWork& work,
                                   double minutes, const BillWishes& wishes);

[[nodiscard]] inline double to_double(Money sum, const Currency& currency) {
  double factor = 1;
  for (int i = 0; i < currency.minor_digits; ++i) factor *= 10;
  return static_cast<double>(sum.minor) / factor;
}

}  // namespace mendworth
