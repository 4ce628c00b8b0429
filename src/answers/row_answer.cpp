#include "mendworth/row_answer.hpp"
#include "answers/contest.hpp"
#include "answers/option_results.hpp"
#include "answers/rules.hpp"
#include "answers/settings.hpp"
#include "answers/verdict.hpp"
#include "answers/what_if.hpp"
#include "model/pricing.hpp"

namespace mendworth {

namespace {

/// Devices of a replacement that an option buys, discounted, each with its tax.
double devices_bought(const Contest& contest, std::size_t option, int replacement) {
  const auto r = static_cast<std::size_t>(replacement);
  double devices = 0;
  for (const int item : contest.items.devices[r].device.all())
    devices += contest.ensemble.mean_amount(option, item);
  return devices * paid_per_price(contest.model.c.replacements[r]);
}

/// Costs are linear in the price as long as nothing else is chosen.
std::optional<double> turning_price_of(const Contest& contest, std::size_t repair, std::size_t replacement,
                                       double saving) {
  const int bought = contest.options[replacement].replacement;
  const double slope = devices_bought(contest, replacement, bought) - devices_bought(contest, repair, bought);
  if (slope <= 0) return std::nullopt;
  const double price =
      contest.model.c.replacements[static_cast<std::size_t>(bought)].price->base() - saving / slope;
  return price >= 0 ? std::optional(price) : std::nullopt;
}

}  // namespace

struct RowAnswerer::Shared {
  const RateBook& rates;
  WeighSettings settings;
  ModelCache cache{};
};

RowAnswerer::RowAnswerer(const RateBook& rates, const WeighSettings& settings)
    : shared_(new Shared{.rates = rates, .settings = checked(settings)}) {}
RowAnswerer::~RowAnswerer() = default;

RowAnswer RowAnswerer::operator()(const Case& c) const {
  check(c);
  const Contest contest(c, shared_->rates, {}, shared_->settings, effort_for(shared_->settings),
                        shared_->cache);
  std::vector<OptionResult> results;
  for (std::size_t i = 0; i < contest.options.size(); ++i) results.push_back(option_result(contest, i));
  RowAnswer answer;
  answer.currency = c.device.currency;
  answer.minor_digits = c.device.minor_digits;
  double price = 0;
  if (contest.unpriced) {
    answer.turning_price = unpriced_of(results).repair_pays_from;
    price = answer.turning_price.value_or(0.0);
  }
  std::vector<double> costs;
  for (const auto& r : results) costs.push_back(r.present_cost + r.price_weight * price);
  answer.verdict = verdict_of(contest, results, costs);
  if (const auto best = contest.least(costs, [](std::size_t) { return true; }))
    answer.money_now = results[*best].cash_now;
  const auto repair = contest.best_repair(costs);
  const auto replacement = contest.best_replacement(costs);
  if (repair && replacement && answer.verdict.saving)
    answer.turning_price = turning_price_of(contest, *repair, *replacement, *answer.verdict.saving);
  return answer;
}

}  // namespace mendworth
