#include "quote/charges.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "answers/settings.hpp"
#include "mendworth/diagnostic.hpp"
#include "quote/bill_money.hpp"
#include "quote/shop_choice.hpp"

namespace mendworth {
namespace {

QuoteSettings checked(const Case& c, const QuoteSettings& wanted) {
  QuoteSettings settings = wanted;
  const WeighSettings w =
      checked(WeighSettings{.seed = settings.seed, .futures = settings.futures, .threads = settings.threads});
  settings.threads = w.threads;
  if (settings.ceiling && (*settings.ceiling < 0.5 || *settings.ceiling > 0.999)) {
    throw std::invalid_argument("the ceiling's confidence must lie in 0.5..0.999");
  }
  settings.rush = settings.rush || c.intake.rush;
  settings.collection = settings.collection || c.intake.collection;
  settings.parts_from_customer = settings.parts_from_customer || c.intake.parts_from_customer;
  return settings;
}

/// What shop file and case must agree on.
void require_agreement(const Case& c, const Shop& shop) {
  std::vector<Diagnostic> problems;
  const auto report = [&](const std::string& key, std::string message, std::string remedy) {
    problems.push_back(shop.problem(key, std::move(message), std::move(remedy)));
  };
  if (shop.currency && *shop.currency != c.device.currency) {
    report("shop.currency",
           fmt::format("the shop's prices are in {}, the case is in {}", *shop.currency, c.device.currency),
           "state both in one currency");
  }
  for (std::size_t i = 0; i < shop.flat_rates.size(); ++i) {
    const FlatRate& flat = shop.flat_rates[i];
    const auto same_name = [&flat](const FlatRate& other) {
      return other.part == flat.part && other.positions == flat.positions;
    };
    if (std::ranges::find_if(shop.flat_rates, same_name) !=
        shop.flat_rates.begin() + static_cast<std::ptrdiff_t>(i)) {
      report(fmt::format("flat_rate.{}", i + 1),
             fmt::format("a second flat rate for {} x {}", flat.positions, flat.part), "keep one of them");
    }
  }
  if (!problems.empty()) throw InputError(problems);
}

Bill sum_bill(const QuoteTask& task, std::string text, double sum) {
  return single_bill(
      task.shop, task.currency,
      {.kind = LineKind::diagnosis, .text = std::move(text), .amount = rounded(sum, task.currency)},
      task.wishes);
}

}  // namespace

QuoteTask task_of(const Case& c, const Shop& shop, const QuoteSettings& wanted) {
  const QuoteSettings settings = checked(c, wanted);
  require_agreement(c, shop);
  const Currency currency = currency_of(c);
  return {.c = c,
          .shop = shop,
          .settings = settings,
          .currency = currency,
          .wishes = {.rush = settings.rush,
                     .collection = settings.collection,
                     .parts_from_customer = settings.parts_from_customer,
                     .date = settings.date,
                     .paid = rounded(c.intake.paid, currency)},
          .charge_rate = shop.charge_rate.value_or(c.labour.rate_per_hour.base()),
          .ceiling = settings.ceiling.value_or(shop.ceiling_confidence.value_or(0.0))};
}

Bill decline_bill(const QuoteTask& task, const std::optional<double>& minutes_spent) {
  const Shop& shop = task.shop;
  const double diagnosis =
      shop.diagnosis_minutes ? shop.diagnosis_minutes->base() : task.c.labour.case_minutes.base();
  const double spent = minutes_spent.value_or(diagnosis);
  const auto by_time = [&](LineKind kind, std::string text, double minutes) {
    return time_line(shop, task.currency, task.charge_rate, kind, std::move(text), minutes);
  };
  if (!shop.diagnosis_fee) {
    return single_bill(shop, task.currency, by_time(LineKind::diagnosis, "Time spent", spent), task.wishes);
  }
  std::vector<BillLine> lines = {{.kind = LineKind::diagnosis,
                                  .text = "Diagnosis",
                                  .amount = rounded(*shop.diagnosis_fee, task.currency)}};
  if (spent > diagnosis) {
    lines.push_back(by_time(LineKind::labour, "Time spent after the diagnosis", spent - diagnosis));
  }
  return bill_of_lines(shop, task.currency, std::move(lines), task.wishes);
}

std::optional<Bill> no_cure_bill(const QuoteTask& task) {
  if (task.shop.no_cure_no_fee) return std::nullopt;
  const Bill bill = task.shop.no_cure_charge ? sum_bill(task, "Time spent", *task.shop.no_cure_charge)
                                             : decline_bill(task, std::nullopt);
  return bill.total > Money{} ? std::optional(bill) : std::nullopt;
}

Money consent_limit(const QuoteTask& task, const JobPlan& plan, const Bill& bill, const OrderBook& book,
                    ModelCache& cache) {
  const Till till(task.shop, task.currency);
  const Exact times = Exact::whole(1) + Exact::decimal(task.shop.not_to_exceed.value_or(0.0));
  Money limit =
      payable_of(task.shop, task.currency, till.rounded(till.units(bill.total) * times), task.wishes);
  if (task.ceiling > 0) {
    const QuoteSettings& settings = task.settings;
    auto minutes = minutes_if_cured(run_job(task.c, book, plan,
                                            {.seed = settings.seed,
                                             .futures = settings.futures,
                                             .threads = settings.threads,
                                             .warranty_days = 0,
                                             .parts_from_customer = settings.parts_from_customer},
                                            cache));
    if (!minutes.empty()) {
      limit = charge_by_time(task, plan.work, quantile_of(std::move(minutes), task.ceiling));
    }
  }
  return std::max(limit, bill.payable);
}

Payments payments_of(const QuoteTask& task, const Bill& bill, const std::optional<Bill>& no_cure) {
  return {.cured = in_units(bill.payable, task.currency),
          .not_cured = in_units(no_cure ? no_cure->payable : -task.wishes.paid, task.currency),
          .lost = -task.shop.liability.value_or(0.0) - in_units(task.wishes.paid, task.currency)};
}

double labour_tax_factor(const QuoteTask& task) {
  constexpr std::int64_t probe = 1'000'000;
  BillWishes nothing_paid = task.wishes;
  nothing_paid.paid = {};
  const Bill bill = single_bill(task.shop, task.currency,
                                {.kind = LineKind::labour, .text = "", .amount = {probe}}, nothing_paid);
  return static_cast<double>(bill.total.minor) / static_cast<double>(probe);
}

}  // namespace mendworth
