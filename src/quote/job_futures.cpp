#include "quote/job_futures.hpp"

#include <algorithm>
#include <cmath>

#include "futures/watch.hpp"
#include "numeric/poisson_stock.hpp"

namespace mendworth {
namespace {

constexpr double days_a_year = 365.25;
constexpr double least_years = 1.0 / days_a_year;  // a horizon must be some time, even without a warranty
constexpr int no_fallback = -1;

/// The case as the job sees it: it ends with the warranty; an hour of labour costs 60, so that labour is counted in
/// minutes; nothing is discounted; other jobs leave the spares alone, as the drawer is valued afterwards.
Case job_case(const Case& c, int warranty_days) {
  Case job = c;
  job.horizon.years = Quantity::exactly(std::max(warranty_days / days_a_year, least_years));
  job.horizon.discount_rate = Quantity::exactly(0);
  job.labour.rate_per_hour = Quantity::exactly(60);
  for (Part& part : job.parts) part.other_uses_per_year = Quantity::exactly(0);
  return job;
}

/// Minutes and money of one happening over the phases.
class Reading {
 public:
  Reading(const Tally& tally, JobFuture& out) : tally_(tally), out_(out) {}

  /// `item(phase)` numbers the happening.
  template <class Item>
  void take(Item item) {
    take_first(item(Phase::first));
    const Tally::Sum& luck = at(item(Phase::luck));
    out_.luck_minutes += luck.labour;
    out_.luck_money += luck.money;
    const Tally::Sum& later = at(item(Phase::later));
    out_.warranty_minutes += later.labour;
    out_.warranty_money += later.money;
  }
  [[nodiscard]] const Tally::Sum& at(int item) const { return tally_.items[static_cast<std::size_t>(item)]; }

 private:
  void take_first(int item) {
    out_.minutes += at(item).labour;
    out_.consumables += at(item).money;
  }

  const Tally& tally_;
  JobFuture& out_;
};

/// What Runner::open_drawer takes off the pieces left, so that what a plan takes from the drawer is charged to it.
double charged_for_drawer(const DeviceModel& model, const JobPlan& plan, const Future& future, int part) {
  const auto p = static_cast<std::size_t>(part);
  const Physics::Drawer& drawer = future.physics().drawers[p];
  if (drawer.pieces() == 0) return 0.0;
  const auto candidate = static_cast<std::size_t>(plan.option.plan.supplies[p].candidate);
  const int taken = std::min(model.c.parts[p].candidates[candidate].on_hand, plan.pieces[p]);
  return drawer.left[static_cast<std::size_t>(drawer.pieces() - taken)];
}

}  // namespace

std::vector<double> drawer_worth(const Case& c, const OrderBook& book, int part, int most) {
  const Part& p = c.parts[static_cast<std::size_t>(part)];
  const double horizon = years_of_need(c);
  const double shelf = p.shelf_life_years.base();
  const double growth = std::log1p(c.horizon.discount_rate.base());
  const int kind = book.small_order(part);
  const auto landed = kind < 0 ? std::nullopt : landed_cost(c, book.order(kind).items, Parcel::alone);
  const double saved = kind < 0 ? 0.0 : landed ? landed->total : book.order(kind).cost.total;
  const auto uses = stock_uses(most, p.other_uses_per_year.base(), std::min(horizon, shelf), growth);
  const auto left = stock_left(most, p.other_uses_per_year.base(), horizon);
  const double resale = horizon <= shelf ? p.spare_resale.base() * std::exp(-growth * horizon) : 0.0;
  std::vector<double> worth;
  for (std::size_t n = 0; n < uses.size(); ++n) worth.push_back(uses[n] * saved + left[n] * resale);
  return worth;
}

std::vector<JobFuture> run_job(const Case& c, const OrderBook& book, const JobPlan& plan,
                               const JobFuturesSettings& settings, ModelCache& cache) {
  const DeviceModel model = DeviceModel::make(job_case(c, settings.warranty_days), Hypothesis{}, cache);
  const ItemLayout& layout = model.layout;
  Option option = plan.option;
  const bool returns = settings.warranty_days > 0 && !settings.parts_from_customer;
  if (!returns) option.plan.later_limit = 0;

  // The drawer holds what was in it and what orders bring; far more than a job can bring is never asked for.
  std::vector<std::vector<double>> worth;
  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    int most = pieces_on_hand(c.parts[static_cast<std::size_t>(p)]);
    for (int k = 0; k < book.size(); ++k) {
      for (const Need& need : book.needs(k)) most += need.part == p ? need.pieces : 0;
    }
    worth.push_back(drawer_worth(c, book, p, most));
  }

  std::vector<JobFuture> futures(static_cast<std::size_t>(settings.futures));
  std::vector<bool> renewed(model.positions.size(), false);
  for (const int i : option.plan.renew_now) renewed[static_cast<std::size_t>(i)] = true;

  watch_futures(model, book, {option}, {no_fallback},
                {.seed = settings.seed, .futures = settings.futures, .threads = settings.threads},
                [&](int number, std::size_t, const Tally& tally, const Future& future) {
                  JobFuture& job = futures[static_cast<std::size_t>(number)];
                  Reading reading(tally, job);
                  job.minutes = reading.at(layout.case_work()).labour;
                  reading.take([&](Phase phase) { return layout.visit(phase); });
                  reading.take([&](Phase phase) { return layout.mend(phase); });
                  reading.take([&](Phase phase) { return layout.second_attempt(phase); });
                  reading.take([&](Phase phase) { return layout.dry_fit(phase); });
                  for (int g = 0; g < static_cast<int>(c.positions.size()); ++g) {
                    reading.take([&](Phase phase) { return layout.work(g, phase); });
                  }
                  if (!settings.parts_from_customer) {
                    for (int k = 0; k < book.size(); ++k) {
                      job.order += reading.at(layout.order(k, Phase::first)).money;
                      job.luck_money += reading.at(layout.order(k, Phase::luck)).money;
                      job.warranty_money += reading.at(layout.order(k, Phase::later)).money;
                    }
                    for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
                      const auto& value = worth[static_cast<std::size_t>(p)];
                      const int before = pieces_on_hand(c.parts[static_cast<std::size_t>(p)]);
                      const double left = reading.at(layout.spare_left(p)).amount +
                                          charged_for_drawer(model, plan, future, p);
                      const auto after = std::min(static_cast<std::size_t>(std::lround(std::max(left, 0.0))),
                                                  value.size() - 1);
                      job.stock += value[static_cast<std::size_t>(before)] - value[after];
                    }
                  }
                  job.returns = tally.counts.later_visits;
                  job.cured = tally.counts.cured > 0;
                  job.lost = tally.counts.written_off > 0;
                  for (std::size_t i = 0; i < renewed.size(); ++i) {
                    const bool fails = future.failures()[i] < future.physics().horizon;
                    if (!renewed[i] && fails && returns) job.mates_failed += 1;
                  }
                });
  return futures;
}

double leftovers_worth(const Case& c, const OrderBook& book, const JobPlan& plan) {
  if (plan.option.plan.first_order < 0) return 0.0;
  double worth = 0;
  for (const OrderItem& item : book.order(plan.option.plan.first_order).items) {
    const auto p = static_cast<std::size_t>(item.part);
    if (item.candidate != plan.option.plan.supplies[p].candidate) continue;
    const Part& part = c.parts[p];
    const int taken =
        std::min(part.candidates[static_cast<std::size_t>(item.candidate)].on_hand, plan.pieces[p]);
    const int before = pieces_on_hand(part) - taken;
    const int after = before + item.quantity - (plan.pieces[p] - taken);
    const auto value = drawer_worth(c, book, item.part, after);
    worth += value[static_cast<std::size_t>(after)] - value[static_cast<std::size_t>(before)];
  }
  return worth;
}

}  // namespace mendworth
