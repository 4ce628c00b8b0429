#include "mendworth/quote.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "answers/notes.hpp"
#include "answers/settings.hpp"
#include "answers/what_if.hpp"
#include "base/plain_number.hpp"
#include "mendworth/diagnostic.hpp"
#include "numeric/exact.hpp"
#include "quote/customer_page.hpp"
#include "quote/diagnosis.hpp"
#include "quote/margin_moves.hpp"
#include "quote/owner.hpp"
#include "quote/refusal.hpp"
#include "quote/shop_choice.hpp"

namespace mendworth {
namespace {

constexpr std::size_t most_moves = 12;

/// The settings with the case's own wishes and the number of threads filled in.
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
    if (std::find_if(shop.flat_rates.begin(), shop.flat_rates.end(), same_name) !=
        shop.flat_rates.begin() + static_cast<std::ptrdiff_t>(i)) {
      report(fmt::format("flat_rate.{}", i + 1),
             fmt::format("a second flat rate for {} x {}", flat.positions, flat.part), "keep one of them");
    }
  }
  if (!problems.empty()) throw InputError(problems);
}

double charge_rate_of(const Shop& shop, const Case& c) {
  return shop.charge_rate.value_or(c.labour.rate_per_hour.base());
}

BillLine sum_line(LineKind kind, std::string text, Money amount) {
  return {.kind = kind, .text = std::move(text), .amount = amount};
}

/// What is charged if the device cannot be repaired: nothing, the sum that the shop file states, the fee for the
/// diagnosis, or the labour as planned.
std::optional<Bill> no_cure_bill(const Case& c, const Shop& shop, const Bill& bill,
                                 const BillWishes& wishes) {
  if (shop.no_cure_no_fee) return std::nullopt;
  const Currency currency = currency_of(c);
  if (const auto& sum = shop.no_cure_charge ? shop.no_cure_charge : shop.diagnosis_fee) {
    if (*sum <= 0) return std::nullopt;
    return single_bill(shop, currency, sum_line(LineKind::diagnosis, "Time spent", rounded(*sum, currency)),
                       wishes);
  }
  const auto labour = std::find_if(bill.lines.begin(), bill.lines.end(),
                                   [](const BillLine& line) { return line.kind == LineKind::labour; });
  if (labour == bill.lines.end() || labour->amount.minor <= 0) return std::nullopt;
  return single_bill(shop, currency, *labour, wishes);
}

Payments payments_of(const Case& c, const Shop& shop, const Bill& bill, const std::optional<Bill>& no_cure) {
  const Currency currency = currency_of(c);
  return {.cured = to_double(bill.payable, currency),
          .not_cured = no_cure ? to_double(no_cure->payable, currency) : 0.0,
          .lost = -shop.liability.value_or(0.0)};
}

/// How much dearer labour is to the customer than its charge: the taxes on it that are not in it.
double labour_tax_factor(const Case& c, const Shop& shop, const BillWishes& wishes) {
  constexpr std::int64_t probe = 1'000'000;
  const Bill bill = single_bill(shop, currency_of(c), sum_line(LineKind::labour, "", {probe}), wishes);
  return static_cast<double>(bill.total.minor) / static_cast<double>(probe);
}

BillLine time_line(const Shop& shop, const Case& c, LineKind kind, std::string text, double minutes) {
  const Currency currency = currency_of(c);
  const double hours = billed_minutes(shop, minutes) / 60.0;
  const double rate = charge_rate_of(shop, c);
  return {.kind = kind,
          .text = std::move(text),
          .unit = BillLine::Unit::hours,
          .quantity = hours,
          // A rate with a part of a minor unit would not multiply out on the page.
          .each = to_double(rounded(rate, currency), currency) == rate
                      ? std::optional<Money>(rounded(rate, currency))
                      : std::nullopt,
          .amount = rounded(hours * rate, currency)};
}

/// Who declines pays the fee for the diagnosis, which covers its time; where there is none, the time of the diagnosis.
/// Time stated as spent beyond that is charged by the hour.
CustomerPage declined_page(const Case& c, const Shop& shop, const QuoteSettings& settings,
                           const BillWishes& wishes) {
  const Currency currency = currency_of(c);
  const double diagnosis =
      shop.diagnosis_minutes ? shop.diagnosis_minutes->base() : c.labour.case_minutes.base();
  const double spent = settings.declined->minutes.value_or(diagnosis);
  std::vector<BillLine> lines;
  if (shop.diagnosis_fee) {
    lines.push_back(sum_line(LineKind::diagnosis, "Diagnosis", rounded(*shop.diagnosis_fee, currency)));
    if (spent > diagnosis) {
      lines.push_back(
          time_line(shop, c, LineKind::labour, "Time spent after the diagnosis", spent - diagnosis));
    }
  } else {
    lines.push_back(time_line(shop, c, LineKind::diagnosis, "Time spent", spent));
  }
  return invoice_page(c, shop, settings, bill_of_lines(shop, currency, std::move(lines), wishes));
}

/// What the customer may be charged without being asked: the total and the margin on it, or what labour by time stays
/// within at the chosen confidence.
Money consent_limit_of(const Case& c, const Shop& shop, const PricedChoice& choice, double ceiling,
                       const QuoteSettings& settings, const OrderBook& book, const BillWishes& wishes,
                       ModelCache& cache) {
  const Currency currency = currency_of(c);
  Money limit =
      rounded(to_double(choice.bill.total, currency) * (1.0 + shop.not_to_exceed.value_or(0.0)), currency);
  if (ceiling > 0) {
    const auto futures = run_job(c, book, choice.plan,
                                 {.seed = settings.seed,
                                  .futures = settings.futures,
                                  .threads = settings.threads,
                                  .warranty_days = 0,
                                  .parts_from_customer = settings.parts_from_customer},
                                 cache);
    auto minutes = minutes_if_cured(futures);
    if (!minutes.empty()) {
      limit = charge_by_time(shop, c, charge_rate_of(shop, c), choice.plan.work,
                             quantile_of(std::move(minutes), ceiling), wishes);
    }
  }
  // What is handed over in coins may be more than the total.
  return std::max(limit, choice.bill.total + std::max(choice.bill.cash_rounding, Money{}));
}

void add_defaults(const Case& c, const Shop& shop, ShopPage& page) {
  const auto rate = [&](const char* what, const char* key) {
    page.defaults.push_back(fmt::format("{}: {} {} an hour, the case's labour rate ({} is not stated).", what,
                                        c.device.currency, number_text(c.labour.rate_per_hour.base()), key));
  };
  if (!shop.charge_rate) rate("Charged for labour", "labour.charge_rate");
  if (!shop.cost_rate) rate("Cost of labour", "labour.cost_rate");
  if (shop.markup.empty()) page.defaults.push_back("Parts are charged at cost (parts.markup is not stated).");
  if (shop.taxes.empty()) page.defaults.push_back("No tax is charged ([[tax]] is not stated).");
  if (!shop.come_back && shop.warranty_days > 0) {
    page.defaults.push_back(
        "Nobody complains of the work (workmanship.come_back is not stated; 2 to 8 % of jobs is common "
        "practice, no "
        "source).");
  }
  if (!shop.not_to_exceed && !shop.ceiling_confidence) {
    page.defaults.push_back("No bill above the total without consent (terms.not_to_exceed is not stated).");
  }
}

void add_notes(const Case& c, const Shop& shop, const Contest& contest, const QuoteSettings& settings,
               ShopPage& page) {
  page.notes = contest.notes;
  page.notes.push_back(
      "Sums at cost and margins are without the taxes that pass through. Limits on estimates, fees, "
      "deposits, "
      "warranties and uncollected goods differ from place to place: check the local rules before this page "
      "is used.");
  if (settings.parts_from_customer) {
    page.notes.push_back(
        "The customer brings the parts: no margin on them and no warranty on them; whether they fit is the "
        "customer's "
        "risk, the minutes that a misfit takes are counted as yours.");
  }
  if (shop.subsidy && !shop.subsidy->registered) {
    page.notes.push_back(
        fmt::format("{}: only registered shops can deduct it (subsidy.registered is not true), so the "
                    "customer's page does not.",
                    shop.subsidy->name));
  }
  if (c.device.already_spent > 0) {
    page.notes.push_back("Money already spent on the device is sunk and counts nowhere.");
  }
}

/// The subsidy that a registered shop would deduct from a bill.
double subsidy_worth(const Shop& shop, const Bill& bill, const Currency& currency, const Date& date) {
  if (!shop.subsidy || (shop.subsidy->until && date > *shop.subsidy->until)) return 0.0;
  const double worth = shop.subsidy->share * to_double(bill.total, currency);
  return std::min(worth, shop.subsidy->cap.value_or(worth));
}

}  // namespace

Money rounded(double amount, const Currency& currency) {
  constexpr double most_minor_units = 1e15;
  const Exact factor = Exact::power_of_ten(currency.minor_digits);
  if (!(std::abs(amount) * std::pow(10.0, currency.minor_digits) <= most_minor_units)) {
    Diagnostic problem;
    problem.message =
        fmt::format("a sum of {} {} is beyond what a bill can hold", currency.code, number_text(amount));
    throw InputError({problem});
  }
  return {(Exact::computed(amount) * factor).rounded()};
}

QuoteResult quote(const Case& c, const Shop& shop, const RateBook& rates, const QuoteSettings& wanted) {
  check(c);
  const QuoteSettings settings = checked(c, wanted);
  require_agreement(c, shop);
  if (auto refusal = refuse_unlicensed(c, shop, rates)) return {.quote = {}, .refusal = std::move(refusal)};
  const Currency currency = currency_of(c);
  const BillWishes wishes{.rush = settings.rush,
                          .collection = settings.collection,
                          .parts_from_customer = settings.parts_from_customer,
                          .date = settings.date};
  if (settings.declined) {
    return {.quote = Quote{.customer = declined_page(c, shop, settings, wishes), .shop = {}}, .refusal = {}};
  }

  ModelCache cache;
  const WeighSettings weighing{
      .seed = settings.seed, .futures = settings.futures, .threads = settings.threads};
  const RateBook shop_rates = rates_for(shop, rates);
  const Contest contest(c, shop_rates, {}, weighing, full_effort(weighing), cache);
  const std::vector<JobPlan> plans = job_plans(contest, shop, settings.parts_from_customer);
  std::vector<PricedChoice> choices;
  std::vector<Payments> payments;
  std::vector<std::optional<Bill>> no_cure;
  const double rate = charge_rate_of(shop, c);
  const double ceiling = settings.ceiling.value_or(shop.ceiling_confidence.value_or(0.0));
  for (const JobPlan& plan : plans) {
    PricedChoice choice{.plan = plan, .bill = {}, .consent_limit = {}};
    choice.bill = job_bill(shop, currency, rate, c, choice.plan.work, wishes);
    choice.consent_limit = consent_limit_of(c, shop, choice, ceiling, settings, contest.book, wishes, cache);
    no_cure.push_back(no_cure_bill(c, shop, choice.bill, wishes));
    payments.push_back(payments_of(c, shop, choice.bill, no_cure.back()));
    choices.push_back(std::move(choice));
  }
  if (choices.empty()) {
    throw InputError(
        {{.source = c.source_name,
          .key = "part",
          .message = "the failed parts cannot be had: no supplier sells as many as are needed at once",
          .remedy = "add an offer"}});
  }

  const OwnerView owner = owner_view(contest, plans, payments,
                                     {.seed = settings.seed,
                                      .futures = settings.futures,
                                      .threads = settings.threads,
                                      .charge_rate = rate * labour_tax_factor(c, shop, wishes)});
  const auto loss = refuse_owner_loss(c, shop, owner, choices, payments, settings.date);
  if (loss && !settings.despite_owner_loss) return {.quote = {}, .refusal = loss};

  std::size_t proposed = best_for_owner(owner, payments);
  if (settings.choice) {
    const auto wanted_choice = std::find_if(choices.begin(), choices.end(), [&](const PricedChoice& choice) {
      return choice.plan.kind == *settings.choice;
    });
    if (wanted_choice == choices.end()) {
      throw InputError(
          {{.source = c.source_name,
            .key = "position",
            .message = "there is no such choice for this device: no other parts of the kind are left",
            .remedy = "propose another choice"}});
    }
    proposed = static_cast<std::size_t>(wanted_choice - choices.begin());
  }
  choices[proposed].recommended = true;

  Quote result;
  result.customer = customer_page(c, shop, rates, settings, choices,
                                  {.parts_from_customer = settings.parts_from_customer,
                                   .worth_repairing = !loss,
                                   .guarantee_live = loss && loss->reason == Refusal::Reason::guarantee_live,
                                   .judgement = owner_judgement(owner, proposed),
                                   .no_cure = no_cure[proposed]});

  ShopPage page;
  page.source_name = c.source_name;
  page.shop_source = shop.source_name;
  page.currency = currency;
  page.style = shop.style;
  page.number = settings.number;
  page.date = settings.date;
  page.device = c.device.name;
  page.seed = settings.seed;
  page.futures = settings.futures;
  page.charge_rate = rate;
  const ShopCosts costs = shop_costs(shop, c);
  page.cost_rate = costs.cost_rate.base();
  page.target_margin = shop.target_margin;
  page.warranty_days = shop.warranty_days;
  page.horizon_years = years_ahead(c);
  page.owner_verdict = owner_verdict(c, shop, owner, proposed);
  page.proposed = static_cast<int>(proposed);
  const JobFuturesSettings job_settings{.seed = settings.seed,
                                        .futures = settings.futures,
                                        .threads = settings.threads,
                                        .warranty_days = shop.warranty_days,
                                        .parts_from_customer = settings.parts_from_customer};
  for (std::size_t i = 0; i < choices.size(); ++i) {
    ShopChoice row = shop_choice({.c = c,
                                  .book = contest.book,
                                  .shop = shop,
                                  .choice = choices[i],
                                  .no_cure = no_cure[i],
                                  .charge_rate = rate,
                                  .wishes = wishes,
                                  .ceiling = ceiling,
                                  .settings = job_settings},
                                 cache);
    if (!owner.savings.empty()) {
      const OwnerView::Saving& saving = owner.savings[i];
      const double deducted = saving.cure_chance * to_double(choices[i].bill.subsidy, currency);
      row.owner_saving = saving.mean - deducted;
      if (shop.subsidy) {
        row.owner_saving_with_subsidy =
            *row.owner_saving +
            saving.cure_chance * subsidy_worth(shop, choices[i].bill, currency, settings.date);
      }
    }
    if (i == proposed) {
      row.moves =
          margin_moves(c, contest.book, choices[i].plan, job_settings,
                       job_income(choices[i].bill, no_cure[i], currency), costs, row.margin, most_moves);
    }
    page.choices.push_back(std::move(row));
  }
  if (shop.diagnosis_fee || shop.walk_away) {
    const double fee = shop.diagnosis_fee.value_or(0.0);
    const Bill bill = single_bill(shop, currency,
                                  sum_line(LineKind::diagnosis, "Diagnosis", rounded(fee, currency)), wishes);
    page.diagnosis = diagnosis_answer(
        {.fee = to_double(net_of(bill), currency),
         .credited = shop.diagnosis_credited,
         .cost = choices[proposed].plan.work.diagnosis_minutes / 60.0 * costs.cost_rate.base(),
         .job_margin = page.choices[proposed].margin,
         .walk_away = shop.walk_away});
  }
  for (const Weighing::Caution& caution : cautions_of(c, rates)) {
    page.cautions.push_back({.title = caution.title, .sentences = caution.sentences});
  }
  add_defaults(c, shop, page);
  add_notes(c, shop, contest, settings, page);
  result.shop = std::move(page);
  return {.quote = std::move(result), .refusal = {}};
}

}  // namespace mendworth
