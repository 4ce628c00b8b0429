#include "quote/shop_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "answers/notes.hpp"
#include "base/plain_number.hpp"
#include "quote/diagnosis.hpp"
#include "quote/margin_moves.hpp"
#include "quote/refusal.hpp"

namespace mendworth {
namespace {

constexpr std::size_t most_moves = 12;

ShopPage page_head(const ShopPageInput& in) {
  const Case& c = in.task.c;
  const Shop& shop = in.task.shop;
  const QuoteSettings& settings = in.task.settings;
  ShopPage page;
  page.source_name = c.source_name;
  page.shop_source = shop.source_name;
  page.currency = in.task.currency;
  page.style = shop.style;
  page.number = settings.number;
  page.date = settings.date;
  page.device = c.device.name;
  page.seed = settings.seed;
  page.futures = settings.futures;
  page.charge_rate = in.task.charge_rate;
  page.cost_rate = shop_costs(shop, c).cost_rate.base();
  page.target_margin = shop.target_margin;
  page.warranty_days = warranty_days(shop);
  page.horizon_years = years_ahead(c);
  page.owner_verdict = owner_verdict(c, shop, in.owner, in.proposed);
  page.proposed = static_cast<int>(in.proposed);
  return page;
}

/// The subsidy that a registered shop would deduct from a bill.
double subsidy_worth(const QuoteTask& task, const Bill& bill) {
  const std::optional<Subsidy>& subsidy = task.shop.subsidy;
  if (!subsidy || (subsidy->until && task.settings.date > *subsidy->until)) return 0.0;
  const double worth = subsidy->share * in_units(bill.total, task.currency);
  return std::min(worth, subsidy->cap.value_or(worth));
}

void add_owner_saving(const ShopPageInput& in, std::size_t choice, ShopChoice& row) {
  if (in.owner.savings.empty()) return;
  const OwnerView::Saving& saving = in.owner.savings[choice];
  const Bill& bill = in.choices[choice].bill;
  const double without = saving.mean - saving.cure_chance * in_units(bill.subsidy, in.task.currency);
  row.owner_saving = without;
  if (in.task.shop.subsidy) {
    row.owner_saving_with_subsidy = without + saving.cure_chance * subsidy_worth(in.task, bill);
  }
}

void add_choices(const ShopPageInput& in, ModelCache& cache, ShopPage& page) {
  const QuoteTask& task = in.task;
  const JobFuturesSettings settings{.seed = task.settings.seed,
                                    .futures = task.settings.futures,
                                    .threads = task.settings.threads,
                                    .warranty_days = warranty_days(task.shop),
                                    .parts_from_customer = task.settings.parts_from_customer};
  for (std::size_t i = 0; i < in.choices.size(); ++i) {
    const PricedChoice& choice = in.choices[i];
    ShopChoice row = shop_choice({.task = task,
                                  .book = in.contest.book,
                                  .choice = choice,
                                  .no_cure = in.no_cure,
                                  .settings = settings},
                                 cache);
    add_owner_saving(in, i, row);
    if (i == in.proposed) {
      row.moves = margin_moves(task.c, in.contest.book, choice.plan, settings,
                               job_income(choice.bill, in.no_cure, task.currency),
                               shop_costs(task.shop, task.c), row.margin, most_moves);
    }
    page.choices.push_back(std::move(row));
  }
}

void add_diagnosis(const ShopPageInput& in, ShopPage& page) {
  const Shop& shop = in.task.shop;
  if (!shop.diagnosis_fee && !shop.walk_away) return;
  Money fee;
  if (shop.diagnosis_fee) fee = net_of(decline_bill(in.task, std::nullopt));
  page.diagnosis =
      diagnosis_answer({.fee = in_units(fee, in.task.currency),
                        .credited = shop.diagnosis_credited,
                        .cost = in.choices[in.proposed].plan.work.diagnosis_minutes / 60.0 * page.cost_rate,
                        .job_margin = page.choices[in.proposed].margin,
                        .walk_away = shop.walk_away});
}

/// What the shop file leaves open: what is taken instead, or that the customer's page is silent about it.
std::vector<std::string> unset_keys(const Case& c, const Shop& shop) {
  std::vector<std::string> unset;
  const auto say = [&unset](bool missing, std::string sentence) {
    if (missing) unset.push_back(std::move(sentence));
  };
  const auto rate = [&](const char* what, const char* key) {
    return fmt::format("{}: {} {} an hour, the case's labour rate ({} is not stated).", what,
                       c.device.currency, number_text(c.labour.rate_per_hour.base()), key);
  };
  say(!shop.charge_rate, rate("Charged for labour", "labour.charge_rate"));
  say(!shop.cost_rate, rate("Cost of labour", "labour.cost_rate"));
  say(shop.markup.empty(), "Parts are charged at cost (parts.markup is not stated).");
  say(shop.taxes.empty(), "No tax is charged ([[tax]] is not stated).");
  say(!shop.diagnosis_fee,
      "Declining costs the time of the diagnosis at the charge rate (diagnosis.fee is not stated).");
  say(!shop.no_cure_no_fee && !shop.no_cure_charge,
      "Without a cure the charge is what declining costs (terms.no_cure_no_fee and terms.no_cure_charge are "
      "not stated).");
  say(!shop.valid_days, "No day until which the quote holds (terms.valid_days is not stated).");
  say(!shop.warranty_days, "No warranty is promised or counted (terms.warranty_days is not stated).");
  say(!shop.liability,
      "Nothing is said of a device lost on the bench; none is charged or paid for (terms.liability is not "
      "stated).");
  say(!shop.come_back && warranty_days(shop) > 0,
      "Nobody complains of the work (workmanship.come_back is not stated; 2 to 8 % of jobs is common "
      "practice, no source).");
  say(!shop.not_to_exceed && !shop.ceiling_confidence,
      "No bill above the price without consent (terms.not_to_exceed is not stated).");
  say(shop.terms.empty(),
      "No sentences of your own, of old parts or what ends the warranty for instance (terms.text is not "
      "stated).");
  return unset;
}

std::vector<std::string> notes_of(const ShopPageInput& in) {
  const Shop& shop = in.task.shop;
  std::vector<std::string> notes = in.contest.notes;
  notes.emplace_back(
      "Sums at cost and margins are without the taxes that pass through. Limits on estimates, fees, "
      "deposits, warranties and uncollected goods differ from place to place: check the local rules before "
      "this page is used.");
  if (in.task.settings.parts_from_customer) {
    notes.emplace_back(
        "The customer brings the parts: no margin on them and no warranty on them; whether they fit is the "
        "customer's risk, the minutes that a misfit takes are counted as yours.");
  }
  if (shop.subsidy && !shop.subsidy->registered) {
    notes.push_back(
        fmt::format("{}: only registered shops can deduct it (subsidy.registered is not true), so the "
                    "customer's page does not.",
                    shop.subsidy->name));
  }
  if (in.task.c.device.already_spent > 0) {
    notes.emplace_back("Money already spent on the device is sunk and counts nowhere.");
  }
  return notes;
}

}  // namespace

ShopPage shop_page(const ShopPageInput& in, ModelCache& cache) {
  ShopPage page = page_head(in);
  add_choices(in, cache, page);
  add_diagnosis(in, page);
  for (const Weighing::Caution& caution : cautions_of(in.task.c, in.rates)) {
    page.cautions.push_back({.title = caution.title, .sentences = caution.sentences});
  }
  page.defaults = unset_keys(in.task.c, in.task.shop);
  page.notes = notes_of(in);
  return page;
}

double planned_cost(const QuoteTask& task, const JobPlan& plan) {
  const JobWork& work = plan.work;
  double cost = work.minutes / 60.0 * shop_costs(task.shop, task.c).cost_rate.base() + work.shipping_cost +
                work.consumables;
  if (task.wishes.parts_from_customer) return cost;
  for (const JobWork::Piece& piece : work.pieces) cost += piece.pieces * piece.unit_cost;
  return cost;
}

}  // namespace mendworth
