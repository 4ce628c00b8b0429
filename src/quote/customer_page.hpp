#pragma once

#include <string>
#include <vector>

#include "quote/job_plan.hpp"

namespace mendworth {

/// A choice as it goes onto the page.
struct PricedChoice {
  JobPlan plan;
  Bill bill;
  Money consent_limit;
  bool recommended = false;
};

/// What of a quote is not a choice.
struct PageTerms {
  bool parts_from_customer = false;
  bool worth_repairing = true;
  bool guarantee_live = false;  ///< why it is not
  /// How sure it is that the proposed choice costs the customer least; absent: there is nothing with a price to do
  /// instead.
  std::optional<Confidence> judgement{};
  std::optional<Bill> no_cure;  ///< charged without a cure; absent: nothing
  Bill decline;                 ///< charged if nothing is repaired
};

/// Letterhead, date, device and fault: what quote and invoice have in common.
[[nodiscard]] CustomerPage page_head(const Case& c, const Shop& shop, const QuoteSettings& settings);

/// The page of a quote. It names no supplier, cost, chance or margin.
[[nodiscard]] CustomerPage customer_page(const Case& c, const Shop& shop, const QuoteSettings& settings,
                                         const std::vector<PricedChoice>& choices, const PageTerms& terms);

/// The page of an invoice for what was done without a repair; `advice` says why it is not repaired here, if that is why.
[[nodiscard]] CustomerPage invoice_page(const Case& c, const Shop& shop, const QuoteSettings& settings,
                                        const Bill& bill, const std::string& advice);

/// The currency of a case.
[[nodiscard]] inline Currency currency_of(const Case& c) {
  return {.code = c.device.currency, .minor_digits = c.device.minor_digits};
}

/// "The failed part only"
[[nodiscard]] std::string title_of(const Case& c, const JobPlan& plan);

}  // namespace mendworth
