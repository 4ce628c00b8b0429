#include "quote/shop_choice.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "quote/bill_money.hpp"
#include "quote/shop_order.hpp"

namespace mendworth {
namespace {

constexpr std::array usual_warranties{30, 90, 180};
constexpr std::array usual_confidences{0.5, 0.8, 0.9, 0.95};

/// Shares of the outcomes of a job.
struct Outcomes {
  double cured = 0, not_cured = 0;
};

/// The price without tax at which the expected income is `wanted`, if a device that is not cured brings `not_cured`.
std::optional<double> price_for(double wanted, const Outcomes& outcomes, double not_cured) {
  if (outcomes.cured <= 0) return std::nullopt;
  return (wanted - outcomes.not_cured * not_cured) / outcomes.cured;
}

void set_prices(const ShopChoiceInput& in, const Margins& margins, double not_cured, ShopChoice& row) {
  const Currency currency = in.task.currency;
  const Outcomes outcomes{.cured = margins.cure_chance,
                          .not_cured = std::max(1.0 - margins.cure_chance - margins.lost_chance, 0.0)};
  const double cost = margins.cost.total();
  const auto set = [&](std::optional<Money>& net, std::optional<Money>& total,
                       const std::optional<double>& price) {
    if (!price) return;
    const Till till(in.task.shop, currency);
    const Money least = till.rounded_up(Exact::computed(std::max(*price, 0.0)));
    const Bill bill = with_net(in.task.shop, currency, in.choice.bill, least, in.task.wishes);
    net = net_of(bill);
    total = bill.total;
  };
  const double with_margin = cost / (1.0 - in.task.shop.target_margin);
  set(row.lowest_price, row.lowest_price_total, price_for(cost, outcomes, not_cured));
  set(row.target_price, row.target_price_total, price_for(with_margin, outcomes, not_cured));
  set(row.no_fee_price, row.no_fee_price_total, price_for(with_margin, outcomes, 0.0));
}

std::vector<ReserveRow> reserves_of(const ShopChoiceInput& in, const JobIncome& income, ModelCache& cache) {
  std::vector<int> days(usual_warranties.begin(), usual_warranties.end());
  if (const int promised = warranty_days(in.task.shop); promised > 0) days.push_back(promised);
  std::ranges::sort(days);
  days.erase(std::unique(days.begin(), days.end()), days.end());

  // A complaint of the work is as likely whatever is promised, as far as the shop file says.
  Shop promising = in.task.shop;
  std::vector<ReserveRow> rows;
  for (const int d : days) {
    promising.warranty_days = d;
    JobFuturesSettings settings = in.settings;
    settings.warranty_days = d;
    const auto futures = run_job(in.task.c, in.book, in.choice.plan, settings, cache);
    const Margins margins = margins_of(futures, income, shop_costs(promising, in.task.c), settings.seed);
    rows.push_back({.days = d,
                    .returns = margins.returns,
                    .reserve = margins.cost.warranty + margins.cost.come_back,
                    .mates_failing = margins.mates_failed,
                    .offered = d == warranty_days(in.task.shop)});
  }
  return rows;
}

/// Chance that the charge by time is above a sum; it never falls as the minutes rise.
double chance_above(const ShopChoiceInput& in, const std::vector<double>& rising_minutes, Money sum) {
  if (rising_minutes.empty()) return 0.0;
  const auto first = std::partition_point(rising_minutes.begin(), rising_minutes.end(), [&](double minutes) {
    return charge_by_time(in.task, in.choice.plan.work, minutes) <= sum;
  });
  return static_cast<double>(rising_minutes.end() - first) / static_cast<double>(rising_minutes.size());
}

void set_ceilings(const ShopChoiceInput& in, std::vector<double> minutes, ShopChoice& row) {
  std::ranges::sort(minutes);
  row.overrun_chance = chance_above(in, minutes, in.choice.bill.payable);
  row.over_limit_chance = chance_above(in, minutes, in.choice.consent_limit);
  if (minutes.empty()) return;
  std::vector<double> confidences(usual_confidences.begin(), usual_confidences.end());
  if (in.task.ceiling > 0 && std::ranges::find(confidences, in.task.ceiling) == confidences.end()) {
    confidences.push_back(in.task.ceiling);
  }
  std::ranges::sort(confidences);
  for (const double confidence : confidences) {
    row.ceilings.push_back(
        {.confidence = confidence,
         .charge = charge_by_time(in.task, in.choice.plan.work, quantile_of(minutes, confidence)),
         .chosen = confidence == in.task.ceiling});
  }
}

}  // namespace

JobIncome job_income(const Bill& bill, const std::optional<Bill>& no_cure, const Currency& currency) {
  return {.cured = in_units(net_of(bill), currency),
          .not_cured = no_cure ? in_units(net_of(*no_cure), currency) : 0.0};
}

std::vector<double> minutes_if_cured(const std::vector<JobFuture>& futures) {
  std::vector<double> minutes;
  for (const JobFuture& job : futures) {
    if (job.cured) minutes.push_back(job.minutes + job.luck_minutes);
  }
  return minutes;
}

Money charge_by_time(const QuoteTask& task, const JobWork& work, double minutes) {
  JobWork timed = work;
  timed.minutes = minutes;
  timed.diagnosis_minutes = std::min(work.diagnosis_minutes, minutes);
  return job_bill(task.shop, task.currency, task.charge_rate, task.c, timed, task.wishes).payable;
}

ShopChoice shop_choice(const ShopChoiceInput& in, ModelCache& cache) {
  const Currency currency = in.task.currency;
  const JobPlan& plan = in.choice.plan;
  const JobIncome income = job_income(in.choice.bill, in.no_cure, currency);
  const auto futures = run_job(in.task.c, in.book, plan, in.settings, cache);
  const Margins margins = margins_of(futures, income, shop_costs(in.task.shop, in.task.c), in.settings.seed);

  ShopChoice row;
  row.kind = plan.kind;
  row.title = title_of(in.task.c, plan);
  row.cure_chance = margins.cure_chance;
  row.lost_chance = margins.lost_chance;
  row.to_pay = in.choice.bill.payable;
  row.consent_limit = in.choice.consent_limit;
  row.income = net_of(in.choice.bill);
  row.no_cure_income = income.not_cured;
  row.expected_income = margins.income;
  row.cost = margins.cost;
  row.margin = margins.mean();
  if (margins.income > 0) row.margin_share = row.margin / margins.income;

  const auto n = static_cast<double>(margins.margins.size());
  double losses = 0;
  for (const double m : margins.margins) losses += m < 0 ? 1.0 : 0.0;
  row.margin_error = mean_of(margins.margins).error;
  row.loss_chance = losses / n;
  row.margin_p10 = quantile_of(margins.margins, 0.1);
  row.margin_p50 = quantile_of(margins.margins, 0.5);
  row.margin_p90 = quantile_of(margins.margins, 0.9);

  row.minutes_planned = plan.work.minutes;
  std::vector<double> minutes;
  for (const JobFuture& job : futures) minutes.push_back(job.minutes + job.luck_minutes);
  row.minutes_p10 = quantile_of(minutes, 0.1);
  row.minutes_p50 = quantile_of(minutes, 0.5);
  row.minutes_p90 = quantile_of(std::move(minutes), 0.9);

  set_prices(in, margins, income.not_cured, row);
  row.reserves = reserves_of(in, income, cache);
  row.order = order_rows(in.task.c, in.book, plan, in.settings.parts_from_customer);
  row.leftover_pieces = in.settings.parts_from_customer ? 0 : plan.leftovers;
  if (row.leftover_pieces > 0) row.leftover_value = leftovers_worth(in.task.c, in.book, plan);
  set_ceilings(in, minutes_if_cured(futures), row);
  return row;
}

}  // namespace mendworth
