#include "quote/job_futures.hpp"

#include <algorithm>
#include <cmath>

#include "answers/purchasing.hpp"
#include "futures/watch.hpp"

namespace mendworth {
namespace {

constexpr double least_years = 1.0 / days_per_year;  // a horizon must be some time, even without a warranty

/// The case as the job sees it: it ends with the warranty; an hour of labour costs 60, so that labour is counted in
/// minutes; nothing is discounted; other jobs leave the spares alone, as the drawer is valued afterwards.
Case job_case(const Case& c, int warranty_days) {
  Case job = c;
  job.horizon.years = Quantity::exactly(std::max(warranty_days / days_per_year, least_years));
  job.horizon.discount_rate = Quantity::exactly(0);
  job.device.must_keep = true;  // what becomes of a device that is lost is not the job's
  job.labour.rate_per_hour = Quantity::exactly(60);
  for (Part& part : job.parts) part.other_uses_per_year = Quantity::exactly(0);
  return job;
}

/// Minutes and money of one happening over the phases.
class Reading {
 public:
  Reading(const Tally& tally, JobFuture& out) : tally_(tally), out_(out) {}

  void take(const ByPhase& item) {
    take_first(item[Phase::first]);
    const Tally::Sum& luck = at(item[Phase::luck]);
    out_.luck_minutes += luck.labour;
    out_.luck_money += luck.money;
    const Tally::Sum& later = at(item[Phase::later]);
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

std::vector<JobFuture> run_job(const Case& c, const OrderBook& book, const JobPlan& plan,
                               const JobFuturesSettings& settings, ModelCache& cache) {
  const DeviceModel model = DeviceModel::make(job_case(c, settings.warranty_days), Hypothesis{}, cache);
  const Items items(model.c, book.size());
  const Chains chains(model.c, items, unit_costs(model.c, items, book));
  Option option = plan.option;
  const bool returns = settings.warranty_days > 0 && !settings.parts_from_customer;
  if (!returns) option.plan.rule.limit = 0;

  // The drawer holds what was in it and what orders bring; far more than a job can bring is never asked for.
  std::vector<std::vector<double>> worth;
  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    int most = pieces_on_hand(c.parts[static_cast<std::size_t>(p)]);
    for (int k = 0; k < book.size(); ++k) {
      for (const OrderItem& item : book.order(k).items) most += item.part == p ? item.quantity : 0;
    }
    worth.push_back(worth_elsewhere(c, book, p, most));
  }

  std::vector<JobFuture> futures(static_cast<std::size_t>(settings.futures));
  std::vector<bool> renewed(model.positions.size(), false);
  for (const int i : option.plan.renew_now) renewed[static_cast<std::size_t>(i)] = true;

  watch_futures({model, items, book, chains}, {option},
                {.seed = settings.seed, .futures = settings.futures, .threads = settings.threads},
                [&](int number, std::size_t, const Tally& tally, const Future& future) {
                  JobFuture& job = futures[static_cast<std::size_t>(number)];
                  Reading reading(tally, job);
                  job.minutes = reading.at(items.case_work).labour;
                  reading.take(items.visit);
                  reading.take(items.visit_work);
                  reading.take(items.mend);
                  reading.take(items.second_attempt);
                  reading.take(items.dry_fit);
                  for (const ByPhase& work : items.work) reading.take(work);
                  if (!settings.parts_from_customer) {
                    for (const ByPhase& order : items.orders) {
                      job.order += reading.at(order[Phase::first]).money;
                      job.luck_money += reading.at(order[Phase::luck]).money;
                      job.warranty_money += reading.at(order[Phase::later]).money;
                    }
                    for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
                      const auto& value = worth[static_cast<std::size_t>(p)];
                      const int before = pieces_on_hand(c.parts[static_cast<std::size_t>(p)]);
                      const double left = reading.at(items.parts[static_cast<std::size_t>(p)].left).amount +
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
                    const bool fails = future.failures()[i] < future.physics().end;
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
    const auto value = worth_elsewhere(c, book, item.part, after);
    worth += value[static_cast<std::size_t>(after)] - value[static_cast<std::size_t>(before)];
  }
  return worth;
}

}  // namespace mendworth
