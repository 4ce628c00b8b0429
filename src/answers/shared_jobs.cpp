#include "answers/shared_jobs.hpp"

#include <algorithm>
#include <cmath>

#include "answers/labels.hpp"
#include "answers/what_if.hpp"
#include "numeric/mean_error.hpp"

namespace mendworth {
namespace {

/// With so much from others in every parcel that nobody refuses it as too small.
Case among_other_goods(Case c) {
  for (Supplier& s : c.suppliers) {
    if (s.refuses_low_orders) s.other_goods = std::max(s.other_goods, s.low_order_below.base());
  }
  return c;
}

bool may_be_refused(const Case& c) {
  return std::any_of(c.suppliers.begin(), c.suppliers.end(), [](const Supplier& s) {
    return s.refuses_low_orders && s.other_goods < s.low_order_below.base();
  });
}

WeibullLaw law_of(const LifePrior& life) {
  const double shape = life.shape.base();
  return {scale_from_rated_life(life.rated_life.base(), life.failed_at_rated, shape), shape};
}

/// What a later failure of a part costs: another repair or giving up, whichever is less.
double later_failure(const Contest& contest, int part, int group) {
  const Case& c = contest.model.c;
  const Items& items = contest.items;
  const auto price = [&](int item) { return contest.unit[static_cast<std::size_t>(item)].total(); };
  const double anew = price(items.scrap) + price(items.keepsake) + contest.chains.cost();
  const int order = contest.book.reorder(part, 0, 1);
  if (order < 0) return anew;
  const double again = price(items.visit[Phase::later]) + price(items.visit_work[Phase::later]) +
                       price(items.work[static_cast<std::size_t>(group)][Phase::later]) +
                       price(items.orders[static_cast<std::size_t>(order)][Phase::later]);
  return c.device.must_keep ? again : std::min(again, anew);
}

std::vector<OrderJob::Places> places_of(const Contest& contest, const Option& option,
                                        const std::vector<WishedPart>& wished) {
  std::vector<OrderJob::Places> all;
  for (const WishedPart& part : wished) {
    OrderJob::Places places;
    for (const int i : option.plan.renew_now) {
      const Position& position = contest.model.positions[static_cast<std::size_t>(i)];
      if (position.part != part.wish.part) continue;
      if (places.shares.empty()) places.later_failure = later_failure(contest, position.part, position.group);
      places.shares.push_back(
          contest.model.c.positions[static_cast<std::size_t>(position.group)].share.base());
    }
    all.push_back(std::move(places));
  }
  return all;
}

/// A spill may have reached any piece.
std::optional<Stripping> stripping_of(const Contest& contest, const std::vector<double>& costs,
                                      std::optional<std::size_t> other) {
  const Case& c = contest.model.c;
  const auto replaced = contest.best_replacement(costs);
  if (contest.referred || contest.unpriced || !replaced || !other || c.fault.cause == Cause::spill)
    return std::nullopt;
  const double minute = c.labour.rate_per_hour.base() / 60.0;
  Stripping stripping;
  stripping.opening = c.labour.visit_minutes.base() * minute + costs[*replaced] - costs[*other];
  stripping.replaced_by = option_name(c, contest.options[*replaced]);
  for (const PositionGroup& group : c.positions) {
    const int pieces = group.count - group.failed - group.renewed;
    if (pieces < 1) continue;
    const LifePrior& life = c.parts[static_cast<std::size_t>(group.part)].life;
    stripping.goods.push_back(
        {.part = group.part,
         .pieces = pieces,
         .take_out = group.minutes.base() * minute,
         .unit = life.unit,
         .law = law_of(life),
         .age = c.device.age_years.base() * use_per_year(c.device, life.unit) * group.share.base()});
  }
  if (stripping.goods.empty()) return std::nullopt;
  return stripping;
}

/// False: the contest has no repair to order for.
bool fill(OrderJob& job, const Case& c, const RateBook& rates, const WeighSettings& settings,
          ModelCache& cache) {
  const Contest contest(c, rates, {}, settings, effort_for(settings), cache);
  const std::vector<double> costs = contest.mean_costs();
  const auto other = contest.least(costs, [&](std::size_t i) {
    if (contest.options[i].kind == OptionKind::replacement) return contest.is_priced_replacement(i);
    return contest.referred || !contest.is_repair(i);
  });
  if (other) job.instead = option_name(c, contest.options[*other]);
  job.stripping = stripping_of(contest, costs, other);
  const auto repair = contest.referred ? std::nullopt : contest.best_repair(costs);
  if (!repair) return contest.referred;
  const Option& option = contest.options[*repair];
  job.repair = option_name(c, option);
  const Purchase purchase = contest.purchase_of(option, contest.pieces_of(option.plan));
  if (!purchase.basket) return false;
  job.can_repair = true;
  job.must_repair = contest.unpriced || !other;
  if (!job.must_repair) {
    job.value = costs[*other] - (costs[*repair] - purchase.basket->net());
    job.value_error = mean_difference(contest.ensemble.costs[*other], contest.ensemble.costs[*repair]).error;
  }
  job.wished = purchase.wished;
  job.places = places_of(contest, option, job.wished);
  job.alone = purchase.basket;
  job.alone_proved = purchase.proved;
  return true;
}

}  // namespace

OrderJob order_job(const Case& c, const RateBook& rates, const WeighSettings& settings, ModelCache& cache) {
  OrderJob job;
  job.c = &c;
  if (fill(job, c, rates, settings, cache) || !may_be_refused(c)) return job;
  OrderJob among;
  among.c = &c;
  if (!fill(among, among_other_goods(c), rates, settings, cache)) return job;
  among.alone.reset();
  return among;
}

double age_loss(const OrderJob& job, std::size_t wish, double share, const Stripping::Good& good) {
  constexpr int points = 256;  // quantiles of each law, of equal weight
  const Case& c = *job.c;
  const double growth = std::log1p(c.horizon.discount_rate.base());
  const double until = std::min(years_ahead(c), mean_rest_years(c));
  const auto failing = [&](const WeibullLaw& law, double age, LifeUnit unit) {
    const double use = use_per_year(c.device, unit) * share;
    double sum = 0;
    for (int i = 0; i < points; ++i) {
      const double years = (conditional_quantile(law, age, (i + 0.5) / points) - age) / use;
      if (years < until) sum += std::exp(-growth * years);
    }
    return sum / points;
  };
  const LifePrior& fresh =
      c.parts[static_cast<std::size_t>(job.wished[wish].wish.part)].candidates.front().life;
  const double more = failing(good.law, good.age, good.unit) - failing(law_of(fresh), 0, fresh.unit);
  return std::max(0.0, more * job.places[wish].later_failure);
}

}  // namespace mendworth
