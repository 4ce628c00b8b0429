#include "quote/margin.hpp"

#include <algorithm>
#include <cmath>

#include "numeric/random.hpp"
#include "numeric/sampler.hpp"

namespace mendworth {

ShopCosts shop_costs(const Shop& shop, const Case& c) {
  return {.cost_rate = shop.cost_rate.value_or(c.labour.rate_per_hour),
          .come_back = warranty_days(shop) > 0 ? shop.come_back.value_or(Quantity{}) : Quantity{},
          .come_back_minutes = shop.come_back_minutes.value_or(c.labour.visit_minutes),
          .liability = shop.liability.value_or(0.0)};
}

Margins margins_of(const std::vector<JobFuture>& futures, const JobIncome& income, const ShopCosts& costs,
                   std::uint64_t seed) {
  const Sampler rate(costs.cost_rate), chance(costs.come_back), minutes(costs.come_back_minutes);
  const RandomBlocks random(seed);
  Margins result;
  result.margins.reserve(futures.size());
  const double share = 1.0 / static_cast<double>(futures.size());
  for (std::size_t f = 0; f < futures.size(); ++f) {
    const JobFuture& job = futures[f];
    const auto u = random(Stream::shop, f, 0);
    const double minute = rate(u[0]) / 60.0;
    const bool comes_back = job.cured && u[1] < chance(u[2]);
    const JobCost cost{
        .labour = job.minutes * minute,
        .order = job.order,
        .consumables = job.consumables,
        .stock = job.stock,
        .rework = job.luck_minutes * minute + job.luck_money,
        .warranty = job.warranty_minutes * minute + job.warranty_money,
        .come_back = comes_back ? minutes(u[3]) * minute : 0.0,
        .liability = job.lost ? costs.liability : 0.0,
    };
    const double earned = job.cured ? income.cured : job.lost ? 0.0 : income.not_cured;
    result.margins.push_back(earned - cost.total());
    result.income += earned * share;
    result.cost.labour += cost.labour * share;
    result.cost.order += cost.order * share;
    result.cost.consumables += cost.consumables * share;
    result.cost.stock += cost.stock * share;
    result.cost.rework += cost.rework * share;
    result.cost.warranty += cost.warranty * share;
    result.cost.come_back += cost.come_back * share;
    result.cost.liability += cost.liability * share;
    result.cure_chance += job.cured ? share : 0.0;
    result.lost_chance += job.lost ? share : 0.0;
    result.returns += job.returns * share;
    result.mates_failed += job.mates_failed * share;
  }
  return result;
}

double quantile_of(std::vector<double> values, double q) {
  const auto last = static_cast<double>(values.size() - 1);
  const auto place = static_cast<std::size_t>(
      std::clamp(std::ceil(q * static_cast<double>(values.size())) - 1.0, 0.0, last));
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(place), values.end());
  return values[place];
}

}  // namespace mendworth
