#pragma once

#include <optional>

#include "quote/charges.hpp"
#include "quote/margin.hpp"

namespace mendworth {

/// What a choice at cost is worked out from.
struct ShopChoiceInput {
  const QuoteTask& task;
  const OrderBook& book;
  const PricedChoice& choice;
  const std::optional<Bill>& no_cure;  ///< charged without a cure; absent: nothing
  JobFuturesSettings settings;
};

/// One choice as the shop sees it; but for the owner's saving and what moves the margin.
[[nodiscard]] ShopChoice shop_choice(const ShopChoiceInput& input, ModelCache& cache);

/// What the job brings in, without taxes.
[[nodiscard]] JobIncome job_income(const Bill& bill, const std::optional<Bill>& no_cure,
                                   const Currency& currency);

/// Minutes on the bench of the futures in which the device works afterwards.
[[nodiscard]] std::vector<double> minutes_if_cured(const std::vector<JobFuture>& futures);

/// What is to pay if labour is charged by the time that it took.
[[nodiscard]] Money charge_by_time(const QuoteTask& task, const JobWork& work, double minutes);

}  // namespace mendworth
