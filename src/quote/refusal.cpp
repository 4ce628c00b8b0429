#include "quote/refusal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "answers/rules.hpp"
#include "answers/verdict.hpp"
#include "mendworth/written.hpp"

namespace mendworth {
namespace {

constexpr double certain_errors = 2.0;  // a loss within so many standard errors may be none

std::string sum_text(const Case& c, const Shop& shop, double amount) {
  const Currency currency = currency_of(c);
  return written(rounded(amount, currency), currency, shop.style);
}

std::optional<Refusal> refuse_live_guarantee(const Case& c, const Shop& shop, double best_cost,
                                             const Date& date) {
  if (!c.device.guarantee_until) return std::nullopt;
  const GuaranteeAnswer guarantee = guarantee_of(c, best_cost, date);
  if (!guarantee.live || guarantee.claim_worth <= 0) return std::nullopt;
  return Refusal{.reason = Refusal::Reason::guarantee_live,
                 .sentences = {fmt::format("Not to be repaired at the owner's expense: the guarantee runs "
                                           "until {}, and a claim is worth about {} to the owner.",
                                           written(*c.device.guarantee_until, shop.style),
                                           sum_text(c, shop, guarantee.claim_worth)),
                               "Opening the device may end the guarantee."}};
}

}  // namespace

std::optional<Refusal> refuse_unlicensed(const Case& c, const Shop& shop, const RateBook& rates) {
  Refusal refusal{.reason = Refusal::Reason::not_licensed, .sentences = {}};
  for (const std::string& name : c.device.hazards) {
    const auto found = rates.hazards.find(name);
    if (found == rates.hazards.end() || !found->second.licensed_only) continue;
    if (std::ranges::find(shop.licensed_for, name) != shop.licensed_for.end()) continue;
    refusal.sentences.push_back(
        fmt::format("{} (hazard '{}') is work for licensed people or qualified places, and the shop file "
                    "does not claim that the shop is licensed for it.",
                    found->second.title, name));
    for (const std::string& caution : found->second.cautions) refusal.sentences.push_back(caution);
  }
  if (refusal.sentences.empty()) return std::nullopt;
  refusal.sentences.push_back(
      "Refer the device on. 'mendworth weigh' compares the price of a licensed repair with a replacement; "
      "local rules and licensed practice come first.");
  return refusal;
}

std::size_t best_for_owner(const OwnerView& view, const std::vector<Payments>& payments) {
  if (!view.costs.empty()) {
    return static_cast<std::size_t>(std::ranges::min_element(view.costs) - view.costs.begin());
  }
  const auto least = std::ranges::min_element(
      payments, [](const Payments& a, const Payments& b) { return a.cured < b.cured; });
  return static_cast<std::size_t>(least - payments.begin());
}

std::optional<Refusal> refuse_owner_loss(const Case& c, const Shop& shop, const OwnerView& view,
                                         const std::vector<PricedChoice>& choices,
                                         const std::vector<Payments>& payments, const Date& date) {
  const std::size_t best = best_for_owner(view, payments);
  const double best_cost =
      view.costs.empty() ? payments[best].cured : std::min(view.costs[best], view.instead_cost);
  if (auto refusal = refuse_live_guarantee(c, shop, best_cost, date)) return refusal;
  if (view.savings.empty()) return std::nullopt;
  const OwnerView::Saving& saving = view.savings[best];
  if (saving.mean + certain_errors * saving.error >= 0) return std::nullopt;
  const Currency currency = currency_of(c);
  return Refusal{.reason = Refusal::Reason::owner_loses,
                 .sentences = {fmt::format("Not worth repairing for its owner: at {}, '{}' is expected to "
                                           "cost the owner {} more over {} than to {}.",
                                           written(choices[best].bill.payable, currency, shop.style),
                                           title_of(c, choices[best].plan), sum_text(c, shop, -saving.mean),
                                           written_years(years_ahead(c)), view.instead)}};
}

std::string owner_verdict(const Case& c, const Shop& shop, const OwnerView& view, std::size_t proposed) {
  if (view.savings.empty()) {
    return "Nothing with a known price can take the place of the repair, so its worth to the owner is not "
           "weighed.";
  }
  const OwnerView::Saving& saving = view.savings[proposed];
  const double agreeing = saving.mean > 0 ? saving.cheaper_share : 1 - saving.cheaper_share;
  const char* start = confidence_of(agreeing) == Confidence::toss_up ? "A toss-up for the owner: at" : "At";
  return fmt::format("{} this price the repair is expected to {} the owner {} (+/- {}) over {} against: {}.",
                     start, saving.mean >= 0 ? "save" : "cost", sum_text(c, shop, std::abs(saving.mean)),
                     sum_text(c, shop, saving.error), written_years(years_ahead(c)), view.instead);
}

std::optional<Confidence> owner_judgement(const OwnerView& view, std::size_t proposed) {
  if (view.savings.empty()) return std::nullopt;
  const OwnerView::Saving& saving = view.savings[proposed];
  return saving.mean > 0 ? confidence_of(saving.cheaper_share) : Confidence::toss_up;
}

}  // namespace mendworth
