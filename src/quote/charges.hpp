#pragma once

#include <optional>
#include <string>

#include "quote/customer_page.hpp"
#include "quote/job_futures.hpp"
#include "quote/owner.hpp"

/// What a shop charges beside the bill of a job, and up to where.
namespace mendworth {

/// What is quoted and by which rules: what every step of a quote asks.
struct QuoteTask {
  const Case& c;
  const Shop& shop;
  QuoteSettings settings;  ///< the case's own wishes and the number of threads filled in
  Currency currency;
  BillWishes wishes;
  double charge_rate = 0;  ///< an hour
  double ceiling = 0;      ///< confidence that the consent limit is set for; 0: none
};

/// Throws std::invalid_argument if a setting is out of range, InputError where case and shop contradict each other.
[[nodiscard]] QuoteTask task_of(const Case& c, const Shop& shop, const QuoteSettings& wanted);

/// What is charged if nothing is repaired: the fee for the diagnosis, which covers its time; where there is none, the
/// time of the diagnosis. Time stated as spent beyond that is charged by the hour.
[[nodiscard]] Bill decline_bill(const QuoteTask& task, const std::optional<double>& minutes_spent);

/// What is charged if the device cannot be repaired: nothing if the shop promises that, the sum that it states, else
/// what declining comes to. Absent: nothing.
[[nodiscard]] std::optional<Bill> no_cure_bill(const QuoteTask& task);

/// What the customer may be asked to pay without having been asked before: of the total and the margin on it, or of
/// what labour by time stays within at the chosen confidence, what is left to pay. Never below the price to pay.
[[nodiscard]] Money consent_limit(const QuoteTask& task, const JobPlan& plan, const Bill& bill,
                                  const OrderBook& book, ModelCache& cache);

/// What the customer still pays in the end.
[[nodiscard]] Payments payments_of(const QuoteTask& task, const Bill& bill,
                                   const std::optional<Bill>& no_cure);

/// How much dearer labour is to the customer than its charge: the taxes on it that are not in it.
[[nodiscard]] double labour_tax_factor(const QuoteTask& task);

}  // namespace mendworth
