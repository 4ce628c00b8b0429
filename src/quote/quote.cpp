#include "mendworth/quote.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "answers/what_if.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/written.hpp"
#include "quote/charges.hpp"
#include "quote/refusal.hpp"
#include "quote/shop_page.hpp"

namespace mendworth {
namespace {

/// A referral is no reason not to pay for the diagnosis that led to it.
Quote invoice_of(const QuoteTask& task, const RateBook& rates) {
  std::string advice;
  if (const auto referral = refuse_unlicensed(task.c, task.shop, rates)) {
    advice =
        "Not repaired here: it is work for licensed people or qualified places. Do not open it, and do not "
        "use it before they have looked at it.";
  }
  const Bill bill = decline_bill(task, task.settings.declined->minutes);
  return {
      .customer = invoice_page(task.c, task.shop, task.settings, bill, advice), .shop = {}, .remarks = {}};
}

std::vector<PricedChoice> priced_choices(const QuoteTask& task, const Contest& contest, ModelCache& cache) {
  std::vector<PricedChoice> choices;
  for (const JobPlan& plan : job_plans(contest, task.shop, task.wishes.parts_from_customer)) {
    PricedChoice choice{.plan = plan, .bill = {}, .consent_limit = {}};
    choice.bill = job_bill(task.shop, task.currency, task.charge_rate, task.c, plan.work, task.wishes);
    choice.consent_limit = consent_limit(task, plan, choice.bill, contest.book, cache);
    choices.push_back(std::move(choice));
  }
  if (choices.empty()) {
    throw InputError(
        {{.source = task.c.source_name,
          .key = "part",
          .message = "the failed parts cannot be had: no supplier sells as many as are needed at once",
          .remedy = "add an offer"}});
  }
  return choices;
}

std::size_t proposed_of(const QuoteTask& task, const std::vector<PricedChoice>& choices,
                        const OwnerView& owner, const std::vector<Payments>& payments) {
  if (!task.settings.choice) return best_for_owner(owner, payments);
  const auto wanted = std::ranges::find_if(
      choices, [&](const PricedChoice& choice) { return choice.plan.kind == *task.settings.choice; });
  if (wanted == choices.end()) {
    throw InputError(
        {{.source = task.c.source_name,
          .key = "position",
          .message = "there is no such choice for this device: no other parts of the kind are left",
          .remedy = "propose another choice"}});
  }
  return static_cast<std::size_t>(wanted - choices.begin());
}

OwnerView view_of_owner(const QuoteTask& task, const Contest& contest,
                        const std::vector<PricedChoice>& choices, const std::vector<Payments>& payments) {
  std::vector<JobPlan> plans;
  for (const PricedChoice& choice : choices) plans.push_back(choice.plan);
  return owner_view(contest, plans, payments,
                    {.seed = task.settings.seed,
                     .futures = task.settings.futures,
                     .threads = task.settings.threads,
                     .charge_rate = task.charge_rate * labour_tax_factor(task),
                     .declining = in_units(decline_bill(task, std::nullopt).payable, task.currency)});
}

/// What to look at before the page goes out. Known without a simulation, so that it is the same for every page.
std::vector<std::string> remarks_on(const QuoteTask& task, const std::vector<PricedChoice>& choices) {
  std::vector<std::string> remarks;
  if (task.shop.source_name.empty()) {
    remarks.emplace_back(
        "no shop file: labour at the case's rate, parts at cost, no tax, no terms. Such a price has no room "
        "for bad luck on the bench.");
  }
  for (const PricedChoice& choice : choices) {
    const double income = in_units(net_of(choice.bill), task.currency);
    const double cost = planned_cost(task, choice.plan);
    if (rounded(income, task.currency) >= rounded(cost, task.currency)) continue;
    const auto text = [&](double sum) {
      return written(rounded(sum, task.currency), task.currency, task.shop.style);
    };
    remarks.push_back(
        fmt::format("{}: below cost. Without tax the price is {}, work and parts as planned cost {}.",
                    title_of(task.c, choice.plan), text(income), text(cost)));
  }
  return remarks;
}

}  // namespace

QuoteResult quote(const Case& c, const Shop& shop, const RateBook& rates, const QuoteSettings& wanted) {
  check(c);
  QuoteTask task = task_of(c, shop, wanted);
  if (task.settings.declined) return {.quote = invoice_of(task, rates), .refusal = {}};
  if (auto refusal = refuse_unlicensed(c, shop, rates)) return {.quote = {}, .refusal = std::move(refusal)};

  ModelCache cache;
  const WeighSettings weighing{
      .seed = task.settings.seed, .futures = task.settings.futures, .threads = task.settings.threads};
  const RateBook shop_rates = rates_for(shop, rates);
  const Contest contest(c, shop_rates, {}, weighing, effort_for(weighing), cache);
  task.settings.futures = contest.ensemble.futures;
  std::vector<PricedChoice> choices = priced_choices(task, contest, cache);
  const std::optional<Bill> no_cure = no_cure_bill(task);
  std::vector<Payments> payments;
  for (const PricedChoice& choice : choices) payments.push_back(payments_of(task, choice.bill, no_cure));
  const OwnerView owner = view_of_owner(task, contest, choices, payments);
  const auto loss = refuse_owner_loss(c, shop, owner, choices, payments, task.settings.date);
  if (loss && !task.settings.despite_owner_loss) return {.quote = {}, .refusal = loss};

  const std::size_t proposed = proposed_of(task, choices, owner, payments);
  choices[proposed].recommended = true;
  Quote result;
  result.remarks = remarks_on(task, choices);
  result.customer = customer_page(c, shop, task.settings, choices,
                                  {.parts_from_customer = task.settings.parts_from_customer,
                                   .worth_repairing = !loss,
                                   .guarantee_live = loss && loss->reason == Refusal::Reason::guarantee_live,
                                   .judgement = owner_judgement(owner, proposed),
                                   .no_cure = no_cure,
                                   .decline = decline_bill(task, std::nullopt)});
  if (task.settings.shop_page) {
    result.shop = shop_page({.task = task,
                             .rates = rates,
                             .contest = contest,
                             .owner = owner,
                             .choices = choices,
                             .no_cure = no_cure,
                             .proposed = proposed},
                            cache);
  }
  return {.quote = std::move(result), .refusal = {}};
}

}  // namespace mendworth
