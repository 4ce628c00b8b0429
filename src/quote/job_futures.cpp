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

/// Whether pieces that fail in time come back: the customer's own are not the shop's to answer for.
bool covers_returns(const JobFuturesSettings& settings) {
  return settings.warranty_days > 0 && !settings.parts_from_customer;
}

/// What one future of a job comes to, read off what happened in it.
class JobReading {
 public:
  JobReading(const Case& c, const DeviceModel& model, const Items& items, const OrderBook& book,
             const JobPlan& plan, const JobFuturesSettings& settings)
      : c_(c), model_(model), items_(items), book_(book), plan_(plan), settings_(settings) {
    for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) worth_.push_back(drawer_worth(p));
    renewed_.assign(model.positions.size(), false);
    for (const int i : plan.option.plan.renew_now) renewed_[static_cast<std::size_t>(i)] = true;
  }

  [[nodiscard]] JobFuture read(const Tally& tally, const Future& future) const {
    JobFuture job;
    job.minutes = at(tally, items_.case_work).labour;
    for (const ByPhase* item :
         {&items_.visit, &items_.visit_work, &items_.mend, &items_.second_attempt, &items_.dry_fit})
      add_work(tally, *item, job);
    for (const ByPhase& work : items_.work) add_work(tally, work, job);
    if (!settings_.parts_from_customer) add_goods(tally, future, job);
    job.returns = tally.counts.later_visits;
    job.cured = tally.counts.cured > 0;
    job.lost = tally.counts.written_off > 0;
    for (std::size_t i = 0; i < renewed_.size(); ++i) {
      const bool fails = future.failures()[i] < future.physics().end;
      if (!renewed_[i] && fails && covers_returns(settings_)) job.mates_failed += 1;
    }
    return job;
  }

 private:
  /// The drawer holds what was in it and what orders bring; far more than a job can bring is never asked for.
  [[nodiscard]] std::vector<double> drawer_worth(int part) const {
    int most = pieces_on_hand(c_.parts[static_cast<std::size_t>(part)]);
    for (int k = 0; k < book_.size(); ++k) {
      for (const OrderItem& item : book_.order(k).items) most += item.part == part ? item.quantity : 0;
    }
    return worth_elsewhere(c_, book_, part, most);
  }
  static const Tally::Sum& at(const Tally& tally, int item) {
    return tally.items[static_cast<std::size_t>(item)];
  }
  /// Minutes and money of one happening over the phases.
  static void add_work(const Tally& tally, const ByPhase& item, JobFuture& job) {
    const Tally::Sum& first = at(tally, item[Phase::first]);
    const Tally::Sum& luck = at(tally, item[Phase::luck]);
    const Tally::Sum& later = at(tally, item[Phase::later]);
    job.minutes += first.labour;
    job.consumables += first.money;
    job.luck_minutes += luck.labour;
    job.luck_money += luck.money;
    job.warranty_minutes += later.labour;
    job.warranty_money += later.money;
  }
  void add_goods(const Tally& tally, const Future& future, JobFuture& job) const {
    for (const ByPhase& order : items_.orders) {
      job.order += at(tally, order[Phase::first]).money;
      job.luck_money += at(tally, order[Phase::luck]).money;
      job.warranty_money += at(tally, order[Phase::later]).money;
    }
    for (std::size_t p = 0; p < worth_.size(); ++p) {
      const auto& value = worth_[p];
      const auto before = static_cast<std::size_t>(pieces_on_hand(c_.parts[p]));
      const double left = at(tally, items_.parts[p].left).amount + charged_for_drawer(future, p);
      const auto after =
          std::min(static_cast<std::size_t>(std::lround(std::max(left, 0.0))), value.size() - 1);
      job.stock += value[before] - value[after];
    }
  }
  /// What Runner::open_drawer takes off the pieces left, so that what a plan takes from the drawer is charged to it.
  [[nodiscard]] double charged_for_drawer(const Future& future, std::size_t p) const {
    const Physics::Drawer& drawer = future.physics().drawers[p];
    if (drawer.pieces() == 0) return 0.0;
    const auto candidate = static_cast<std::size_t>(plan_.option.plan.supplies[p].candidate);
    const int taken = std::min(model_.c.parts[p].candidates[candidate].on_hand, plan_.pieces[p]);
    return drawer.left[static_cast<std::size_t>(drawer.pieces() - taken)];
  }

  const Case& c_;
  const DeviceModel& model_;
  const Items& items_;
  const OrderBook& book_;
  const JobPlan& plan_;
  const JobFuturesSettings& settings_;
  std::vector<std::vector<double>> worth_;  ///< of so many pieces in the drawer, by part
  std::vector<bool> renewed_;
};

}  // namespace

std::vector<JobFuture> run_job(const Case& c, const OrderBook& book, const JobPlan& plan,
                               const JobFuturesSettings& settings, ModelCache& cache) {
  const DeviceModel model = DeviceModel::make(job_case(c, settings.warranty_days), Hypothesis{}, cache);
  const Items items(model.c, book.size());
  const Chains chains(model.c, items, unit_costs(model.c, items, book), cache);
  Option option = plan.option;
  if (!covers_returns(settings)) option.plan.rule.limit = 0;

  const JobReading reading(c, model, items, book, plan, settings);
  std::vector<JobFuture> futures(static_cast<std::size_t>(settings.futures));
  watch_futures({model, items, book, chains}, {option},
                {.seed = settings.seed, .futures = settings.futures, .threads = settings.threads},
                [&](int number, std::size_t, const Tally& tally, const Future& future) {
                  futures[static_cast<std::size_t>(number)] = reading.read(tally, future);
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
