#include "quote/bill.hpp"

#include <algorithm>
#include <cstdint>
#include <utility>

#include "base/plain_number.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/written.hpp"
#include "quote/bill_lines.hpp"
#include "quote/bill_money.hpp"
#include "quote/bill_taxes.hpp"

namespace mendworth {

namespace {

bool subsidised(const Subsidy& subsidy, const Date& date) {
  return subsidy.registered && (!subsidy.until || date <= *subsidy.until);
}

Money subsidy_of(const Subsidy& subsidy, const Till& till, Money total) {
  Exact sum = Exact::decimal(subsidy.share) * till.units(total);
  if (subsidy.cap) sum = std::min(sum, Exact::decimal(*subsidy.cap));
  return std::clamp(till.rounded(sum), Money{}, std::max(Money{}, total));
}

/// The least coin; without one, the least unit of the currency.
Money coin_of(const Shop& shop, const Till& till) {
  if (!shop.cash_step) return {1};
  const Exact step = till.minor_units(Exact::decimal(*shop.cash_step));
  if (!step.is_whole() || step <= Exact()) {
    throw InputError(
        {shop.problem("payment.cash_step",
                      "found " + number_text(*shop.cash_step) + ", allowed are whole numbers of " +
                          written(Money{1}, till.currency(), {}),
                      "the least coin, for instance 0.05")});
  }
  return till.rounded(Exact::decimal(*shop.cash_step));
}

/// What is added so that the sum can be paid in coins, halves away from zero.
Money cash_rounding_of(const Till& till, Money coin, Money sum) {
  const std::int64_t coins = (Exact::whole(sum.minor) / Exact::whole(coin.minor)).rounded();
  return till.checked(coins * coin) - sum;
}

/// In coins too, so that neither it nor the rest asks for less than the least one. Never below what it must cover.
std::optional<Money> deposit_of(const Shop& shop, const Till& till, Money coin, const Bill& bill) {
  if (till.units(bill.payable) < Exact::decimal(shop.deposit_from)) return std::nullopt;
  const Exact unit = till.units(coin);
  Money deposit;
  if (shop.deposit_share) {
    deposit = (Exact::decimal(*shop.deposit_share) * till.units(bill.payable) / unit).rounded() * coin;
  }
  if (shop.deposit_covers_parts) {
    Exact parts;
    for (const BillLine& line : bill.lines) {
      if (line.kind == LineKind::parts || line.kind == LineKind::shipping) {
        parts += with_added_taxes(shop, till, line);
      }
    }
    deposit = std::max(deposit, (parts / unit).rounded_up() * coin);
  }
  deposit = std::min(deposit, bill.payable);
  return deposit > Money{} ? std::optional(deposit) : std::nullopt;
}

/// Whether the bill is for a repair, to which a subsidy and a deposit belong.
enum class For { repair, single };

/// What follows from the total.
void settle_total(const Shop& shop, const Till& till, const BillWishes& wishes, For purpose, Bill& bill) {
  if (purpose == For::repair && shop.subsidy && subsidised(*shop.subsidy, wishes.date)) {
    bill.subsidy = subsidy_of(*shop.subsidy, till, bill.total);
    if (bill.subsidy > Money{}) bill.subsidy_name = shop.subsidy->name;
  }
  bill.paid = wishes.paid;
  const Money due = bill.total - bill.subsidy - bill.paid;
  bill.cash_rounding = cash_rounding_of(till, coin_of(shop, till), due);
  bill.payable = due + bill.cash_rounding;
}

/// Everything that follows from the lines.
Bill settled(const Shop& shop, const Till& till, std::vector<BillLine> lines, const BillWishes& wishes,
             For purpose) {
  Bill bill;
  bill.lines = std::move(lines);
  for (const BillLine& line : bill.lines) bill.subtotal = till.checked(bill.subtotal + line.amount);
  bill.taxes = taxes_on(shop, till, bill.lines);
  bill.total = bill.subtotal;
  for (const BillTax& tax : bill.taxes) {
    Money& sum = tax.included ? bill.included_tax : bill.total;
    sum = till.checked(sum + tax.amount);
  }
  settle_total(shop, till, wishes, purpose, bill);
  if (purpose == For::repair) bill.deposit = deposit_of(shop, till, coin_of(shop, till), bill);
  return bill;
}

/// The line that a price is changed by: labour, else the diagnosis, else the first.
std::vector<BillLine>::iterator line_to_change(std::vector<BillLine>& lines) {
  for (const LineKind kind : {LineKind::labour, LineKind::diagnosis}) {
    const auto found = std::ranges::find(lines, kind, &BillLine::kind);
    if (found != lines.end()) return found;
  }
  if (lines.empty()) lines.emplace_back();
  return lines.begin();
}

Money net_of_lines(const Shop& shop, const Till& till, const std::vector<BillLine>& lines) {
  Money net;
  for (const BillLine& line : lines) net = till.checked(net + line.amount);
  for (const BillTax& tax : taxes_on(shop, till, lines)) {
    if (tax.included) net = till.checked(net - tax.amount);
  }
  return net;
}

}  // namespace

Bill job_bill(const Shop& shop, const Currency& currency, double charge_rate, const Case& c,
              const JobWork& work, const BillWishes& wishes) {
  const Till till(shop, currency);
  return settled(shop, till, job_lines(shop, till, charge_rate, c, work, wishes), wishes, For::repair);
}

Money payable_of(const Shop& shop, const Currency& currency, Money total, const BillWishes& wishes) {
  Bill bill;
  bill.total = total;
  settle_total(shop, Till(shop, currency), wishes, For::repair, bill);
  return bill.payable;
}

Bill single_bill(const Shop& shop, const Currency& currency, const BillLine& line, const BillWishes& wishes) {
  return bill_of_lines(shop, currency, {line}, wishes);
}

Bill bill_of_lines(const Shop& shop, const Currency& currency, std::vector<BillLine> lines,
                   const BillWishes& wishes) {
  return settled(shop, Till(shop, currency), std::move(lines), wishes, For::single);
}

Bill with_net(const Shop& shop, const Currency& currency, const Bill& bill, Money net,
              const BillWishes& wishes) {
  const Till till(shop, currency);
  std::vector<BillLine> lines = bill.lines;
  BillLine& line = *line_to_change(lines);
  line.unit = BillLine::Unit::none;
  line.quantity = 1;
  line.each.reset();

  // Without rounding the net would rise by a fixed share of each minor unit. With it, it is off that line by at
  // most half a minor unit for each included tax, here and where it starts. So below the first amount tried none
  // can do, and the first one that does is the least.
  const auto included = std::ranges::count_if(shop.taxes, &Tax::included);
  const Exact missing =
      Exact::whole((till.checked(net) - net_of_lines(shop, till, lines)).minor) - Exact::whole(included);
  const Exact change = till.units(Money{1}) * missing / net_share(shop, line.kind);
  line.amount = till.checked(line.amount + till.rounded_up(change));
  while (net_of_lines(shop, till, lines) < net) line.amount = till.checked(line.amount + Money{1});
  return settled(shop, till, std::move(lines), wishes, For::repair);
}

Money net_of(const Bill& bill) { return bill.subtotal - bill.included_tax; }

}  // namespace mendworth
