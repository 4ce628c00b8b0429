#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "quote/bill.hpp"
#include "quote/bill_taxes.hpp"
#include "support/bill_builder.hpp"

// Random shops and jobs from a fixed seed: a failure repeats and prints its number. What is stated to a shop is a
// whole number of small parts, so that each line can be worked out again in whole numbers, with one rounding.

namespace {

using namespace mendworth;
using namespace mendworth::test;

constexpr int kBills = 4000;
constexpr std::int64_t kParts = 10'000;  // sums and shares are stated in ten-thousandths
constexpr std::int64_t kTimes = 100;     // multiples of a cost in hundredths

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  std::int64_t whole(std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>(engine_() % static_cast<std::uint64_t>(high - low + 1));
  }
  bool chance(int percent) { return whole(1, 100) <= percent; }

 private:
  std::mt19937_64 engine_;
};

/// In ten-thousandths of what `units` says; it is exact that there are so many of them.
std::int64_t parts(double units) { return std::llround(units * static_cast<double>(kParts)); }

double from_parts(std::int64_t count) { return static_cast<double>(count) / static_cast<double>(kParts); }

/// A sum in ten-thousandths, coarse or fine.
double sum(Dice& dice, std::int64_t most_units) {
  const std::int64_t step = dice.chance(50) ? 1000 : dice.chance(50) ? 100 : 1;
  return from_parts(dice.whole(1, most_units * kParts / step) * step);
}

std::int64_t rounded(std::int64_t top, std::int64_t bottom) {
  const std::int64_t size = (2 * std::abs(top) + bottom) / (2 * bottom);
  return top < 0 ? -size : size;
}

struct Job {
  Shop shop;
  Currency currency;
  double rate = 0;
  Case c;
  JobWork work;
  BillWishes wishes;
  [[nodiscard]] Bill bill() const { return job_bill(shop, currency, rate, c, work, wishes); }
  [[nodiscard]] std::int64_t per_unit() const { return std::llround(std::pow(10.0, currency.minor_digits)); }
};

void random_charges(Dice& dice, Shop& shop) {
  if (dice.chance(50)) shop.billing_increment_minutes = static_cast<double>(dice.whole(1, 6)) * 5;
  if (dice.chance(40)) shop.minimum_charge = sum(dice, 40);
  if (dice.chance(40)) {
    shop.diagnosis_fee = sum(dice, 40);
    shop.diagnosis_credited = dice.chance(50);
  }
  if (dice.chance(30)) {
    FlatRate flat;
    flat.name = "Fixed";
    flat.part = "A";
    flat.positions = static_cast<int>(dice.whole(1, 3));
    flat.price = sum(dice, 80);
    flat.parts_included = dice.chance(50);
    shop.flat_rates.push_back(flat);
  }
  if (dice.chance(70)) {
    shop.markup = {{0, static_cast<double>(dice.whole(50, 400)) / static_cast<double>(kTimes)}};
    if (dice.chance(50)) {
      shop.markup.push_back(
          {sum(dice, 15), static_cast<double>(dice.whole(50, 400)) / static_cast<double>(kTimes)});
    }
  }
  if (dice.chance(30)) shop.least_markup = sum(dice, 8);
  if (dice.chance(60)) shop.shipping = dice.chance(50) ? ShippingCharge::spread : ShippingCharge::shop;
  if (dice.chance(30)) shop.consumables_flat = sum(dice, 4);
  if (!shop.consumables_flat && dice.chance(30)) shop.consumables_share = from_parts(dice.whole(0, 2000));
  if (dice.chance(50)) shop.rush_flat = sum(dice, 30);
  if (!shop.rush_flat && dice.chance(50)) shop.rush_share = from_parts(dice.whole(0, kParts));
  if (dice.chance(50)) shop.collection_fee = sum(dice, 20);
  if (dice.chance(40)) shop.discount_share = from_parts(dice.whole(0, 3000));
}

std::vector<LineKind> random_kinds(Dice& dice) {
  std::vector<LineKind> kinds;
  for (const LineKind kind :
       {LineKind::labour, LineKind::parts, LineKind::consumables, LineKind::shipping, LineKind::diagnosis,
        LineKind::rush, LineKind::collection, LineKind::discount}) {
    if (dice.chance(20)) kinds.push_back(kind);
  }
  return kinds;
}

std::vector<Tax> random_taxes(Dice& dice) {
  std::vector<Tax> taxes;
  for (std::int64_t k = dice.whole(0, 3); k > 0; --k) {
    taxes.push_back(tax("Tax", from_parts(dice.whole(0, 2500)), dice.chance(50), dice.chance(40)));
    if (dice.chance(40)) taxes.back().exempt = random_kinds(dice);
  }
  return taxes;
}

Job random_job(Dice& dice) {
  Job job;
  job.currency = dice.chance(60)   ? Currency{"EUR", 2}
                 : dice.chance(50) ? Currency{"JPY", 0}
                                   : Currency{"KWD", 3};
  random_charges(dice, job.shop);
  job.shop.taxes = random_taxes(dice);
  if (dice.chance(40)) job.shop.tax_by = TaxBy::line;
  if (dice.chance(30)) job.shop.cash_step = static_cast<double>(dice.whole(1, 20) * 5);
  if (dice.chance(50)) job.shop.deposit_share = from_parts(dice.whole(0, kParts));
  if (dice.chance(30)) job.shop.deposit_from = sum(dice, 90);
  job.shop.deposit_covers_parts = dice.chance(50);
  if (dice.chance(30)) {
    job.shop.subsidy.emplace(Subsidy{"Bonus", from_parts(dice.whole(0, kParts)), {}, dice.chance(80), {}});
    if (dice.chance(50)) job.shop.subsidy->cap = sum(dice, 60);
  }
  job.rate = dice.chance(10) ? 0 : sum(dice, 90);
  job.c = case_with_parts({"A", "B"});
  job.work = work_of(static_cast<double>(dice.whole(1, 400)) / 2);  // half minutes
  job.work.diagnosis_minutes = std::min(job.work.minutes, static_cast<double>(dice.whole(0, 60)) / 2);
  for (std::int64_t k = dice.whole(0, 3); k > 0; --k) {
    job.work.pieces.push_back(
        pieces(static_cast<int>(dice.whole(0, 1)), static_cast<int>(dice.whole(1, 5)), sum(dice, 20)));
  }
  job.work.shipping_cost = dice.chance(20) ? 0 : sum(dice, 12);
  job.work.consumables = dice.chance(20) ? 0 : sum(dice, 3);
  job.work.positions = static_cast<int>(dice.whole(1, 3));
  job.wishes.rush = dice.chance(50);
  job.wishes.collection = dice.chance(50);
  job.wishes.parts_from_customer = dice.chance(20);
  job.wishes.date = {2026, 3, 1};
  return job;
}

Money sum_of(const std::vector<BillLine>& lines) {
  Money total;
  for (const BillLine& line : lines) total += line.amount;
  return total;
}

/// The lines in whole numbers, from the rules as the public headers state them. Amounts alone, in the order of the
/// bill.
std::vector<std::int64_t> lines_by_hand(const Job& job) {
  const Shop& s = job.shop;
  const JobWork& w = job.work;
  const std::int64_t unit = job.per_unit();
  const auto stated = [&](double units) { return rounded(parts(units) * unit, kParts); };
  std::vector<std::int64_t> lines;
  const auto add = [&lines](std::int64_t minor) {
    if (minor != 0) lines.push_back(minor);
  };

  const bool apart = s.diagnosis_fee && !s.diagnosis_credited;
  if (apart) lines.push_back(stated(*s.diagnosis_fee));

  bool all_a = !w.pieces.empty();
  for (const JobWork::Piece& piece : w.pieces) all_a = all_a && piece.part == 0;
  const bool flat = all_a && !s.flat_rates.empty() && s.flat_rates[0].positions == w.positions &&
                    !(s.flat_rates[0].parts_included && job.wishes.parts_from_customer);
  std::int64_t labour = 0;
  if (flat) {
    labour = stated(s.flat_rates[0].price);
  } else {
    std::int64_t half_minutes = std::llround(2 * (w.minutes - (apart ? w.diagnosis_minutes : 0)));
    const std::int64_t step = std::llround(2 * s.billing_increment_minutes);
    if (step > 0) half_minutes = (half_minutes + step - 1) / step * step;
    labour = std::max(rounded(parts(job.rate) * half_minutes * unit, kParts * 120), stated(s.minimum_charge));
  }
  lines.push_back(labour);

  const bool nothing_more = flat && s.flat_rates[0].parts_included;
  const bool with_parts = !nothing_more && !job.wishes.parts_from_customer;
  std::int64_t discounted = labour;
  if (with_parts) {
    std::int64_t value = 0;  // of all pieces
    for (const JobWork::Piece& piece : w.pieces) value += piece.pieces * parts(piece.unit_cost);
    const std::int64_t spread = s.shipping == ShippingCharge::spread ? parts(w.shipping_cost) : 0;
    for (const JobWork::Piece& piece : w.pieces) {
      const std::int64_t cost = parts(piece.unit_cost) * (value + spread);  // over (kParts x value)
      std::int64_t times = kTimes;
      for (const MarkupBand& band : s.markup) {
        if (parts(band.cost_from) * value <= cost)
          times = std::llround(band.times * static_cast<double>(kTimes));
      }
      std::int64_t each = rounded(cost * times * unit, kParts * value * kTimes);
      if (s.least_markup > 0) {
        const std::int64_t least = (cost * piece.pieces + parts(s.least_markup) * value) * unit;
        const std::int64_t over = kParts * value * piece.pieces;
        if (each * over < least) each = (least + over - 1) / over;
      }
      lines.push_back(each * piece.pieces);
      discounted += each * piece.pieces;
    }
  }
  if (!nothing_more) {
    const std::int64_t consumables = s.consumables_flat ? stated(*s.consumables_flat)
                                     : s.consumables_share
                                         ? rounded(parts(*s.consumables_share) * labour, kParts)
                                         : stated(w.consumables);
    add(consumables);
    discounted += consumables;
  }
  if (with_parts && s.shipping == ShippingCharge::line) add(stated(w.shipping_cost));
  if (job.wishes.rush && s.rush_flat) add(stated(*s.rush_flat));
  if (job.wishes.rush && s.rush_share) add(rounded(parts(*s.rush_share) * labour, kParts));
  if (job.wishes.collection && s.collection_fee) add(stated(*s.collection_fee));
  add(-rounded(parts(s.discount_share) * discounted, kParts));
  return lines;
}

}  // namespace

TEST_CASE("random bills: each line, worked out again in whole numbers, is rounded once") {
  Dice dice(1);
  for (int number = 0; number < kBills; ++number) {
    CAPTURE(number);
    const Job job = random_job(dice);
    CHECK(amounts(job.bill()) == lines_by_hand(job));
  }
}

TEST_CASE("random bills: all sums are those of printed amounts") {
  Dice dice(2);
  for (int number = 0; number < kBills; ++number) {
    CAPTURE(number);
    const Job job = random_job(dice);
    const Bill bill = job.bill();
    CHECK(bill.subtotal == sum_of(bill.lines));
    for (const BillLine& line : bill.lines) {
      CHECK((line.kind == LineKind::discount) == (line.amount < Money{}));
      if (line.unit == BillLine::Unit::pieces) {
        REQUIRE(line.each);
        CHECK(std::llround(line.quantity) * *line.each == line.amount);
      }
      if (line.unit == BillLine::Unit::hours && line.each) {
        const double product = line.quantity * static_cast<double>(line.each->minor);
        CHECK(std::abs(product - static_cast<double>(line.amount.minor)) <= 0.5 + 1e-9 * product);
      }
    }
    Money added, included;
    for (const BillTax& tax : bill.taxes) {
      (tax.included ? included : added) += tax.amount;
      // What is printed is what the rate makes of what is printed, but for one rounding of each, on the total or by
      // line.
      const double roundings = job.shop.tax_by == TaxBy::line ? static_cast<double>(bill.lines.size()) : 1.0;
      const double exact = tax.rate * static_cast<double>(tax.taxable.minor);
      CHECK(std::abs(exact - static_cast<double>(tax.amount.minor)) <=
            0.5 * roundings + 0.5 * tax.rate + 1e-9);
    }
    CHECK(bill.included_tax == included);
    CHECK(bill.total == bill.subtotal + added);
    CHECK(net_of(bill) == bill.subtotal - included);
    CHECK(bill.subsidy >= Money{});
    CHECK(bill.subsidy <= bill.total);
    CHECK(bill.subsidy_name.has_value() == (bill.subsidy > Money{}));
    CHECK(bill.payable == bill.total - bill.subsidy + bill.cash_rounding);
    if (job.shop.cash_step) {
      const std::int64_t coin = std::llround(*job.shop.cash_step) * job.per_unit();
      CHECK(bill.payable.minor % coin == 0);
      CHECK(2 * std::abs(bill.cash_rounding.minor) <= coin);
    } else {
      CHECK(bill.cash_rounding == Money{});
    }
    if (bill.deposit) {
      CHECK(*bill.deposit > Money{});
      CHECK(*bill.deposit <= bill.payable);
      if (job.shop.cash_step) {
        CHECK(bill.deposit->minor % (std::llround(*job.shop.cash_step) * job.per_unit()) == 0);
      }
    }
    // A discount may be free of a tax that the discounted lines hold, and by line it has roundings of its own.
    if (line_of(bill, LineKind::discount) == nullptr) CHECK(bill.included_tax <= bill.subtotal);
  }
}

// A line as taxes see it: a discount is taken apart into what it takes off each kind.
std::vector<BillLine> taken_apart(const Bill& bill) {
  std::vector<BillLine> lines;
  for (const BillLine& line : bill.lines) {
    if (line.parts.empty()) lines.push_back(line);
    Money sum;
    for (const BillLine::Part& part : line.parts) {
      lines.push_back({.kind = line.kind, .amount = part.amount, .parts = {part}});
      sum += part.amount;
    }
    if (!line.parts.empty()) CHECK(sum == line.amount);
  }
  return lines;
}

// In whole numbers: added taxes r_i on the lines that bear them, compound ones (on every line) on all printed taxes
// before.
TEST_CASE("random bills: added taxes, worked out again from what is printed") {
  Dice dice(3);
  for (int number = 0; number < kBills; ++number) {
    CAPTURE(number);
    Job job = random_job(dice);
    for (Tax& tax : job.shop.taxes) {
      tax.included = false;
      if (tax.compound) tax.exempt.clear();
    }
    const Bill bill = job.bill();
    const auto levied = [&](const std::vector<BillLine>& lines) {
      std::vector<std::int64_t> printed;
      for (const Tax& tax : job.shop.taxes) {
        std::int64_t base = 0;
        for (const BillLine& line : lines) {
          const auto bears = [&tax](LineKind kind) {
            return std::find(tax.exempt.begin(), tax.exempt.end(), kind) == tax.exempt.end();
          };
          if (bears(line.kind) && (line.parts.empty() || bears(line.parts.front().kind)))
            base += line.amount.minor;
        }
        if (tax.compound) {
          for (const std::int64_t before : printed) base += before;
        }
        printed.push_back(rounded(parts(tax.rate) * base, kParts));
      }
      return printed;
    };
    std::int64_t expected = 0;
    if (job.shop.tax_by == TaxBy::line) {
      for (const BillLine& line : taken_apart(bill)) {
        for (const std::int64_t tax : levied({line})) expected += tax;
      }
    } else {
      for (const std::int64_t tax : levied(taken_apart(bill))) expected += tax;
    }
    CHECK((bill.total - bill.subtotal).minor == expected);
  }
}

// In whole numbers: of a price a, included taxes r_i and none on another, tax i is a r_i / (1 + r_1 + ... + r_n),
// and a tax that is added is on the net a / (1 + r_1 + ... + r_n).
TEST_CASE("random bills: included taxes, worked out again") {
  Dice dice(4);
  for (int number = 0; number < kBills; ++number) {
    CAPTURE(number);
    Job job = random_job(dice);
    std::int64_t net_parts = kParts;
    for (Tax& tax : job.shop.taxes) {
      tax.compound = false;
      tax.exempt.clear();
      if (tax.included) net_parts += parts(tax.rate);
    }
    const Bill bill = job.bill();
    REQUIRE(bill.taxes.size() == job.shop.taxes.size());
    for (std::size_t i = 0; i < bill.taxes.size(); ++i) {
      const std::int64_t rate = parts(job.shop.taxes[i].rate);
      std::int64_t expected = 0;
      if (job.shop.tax_by == TaxBy::line) {
        for (const BillLine& line : taken_apart(bill))
          expected += rounded(line.amount.minor * rate, net_parts);
      } else {
        expected = rounded(bill.subtotal.minor * rate, net_parts);
      }
      CHECK(bill.taxes[i].amount.minor == expected);
      CHECK(bill.taxes[i].taxable.minor == rounded(bill.subtotal.minor * kParts, net_parts));
    }
  }
}

TEST_CASE("random bills: a price for a net reaches it, and one minor unit less does not") {
  Dice dice(5);
  for (int number = 0; number < kBills / 2; ++number) {
    CAPTURE(number);
    const Job job = random_job(dice);
    const Bill bill = job.bill();
    const Money net{net_of(bill).minor + dice.whole(-3000, 6000)};
    const Bill changed = with_net(job.shop, job.currency, bill, net, job.wishes);
    CHECK(net_of(changed) >= net);
    REQUIRE(changed.lines.size() == bill.lines.size());
    std::size_t at = bill.lines.size();
    for (std::size_t i = 0; i < bill.lines.size(); ++i) {
      if (at == bill.lines.size() && bill.lines[i].kind == LineKind::labour) {
        at = i;
        CHECK_FALSE(changed.lines[i].each);
      } else {
        CHECK(changed.lines[i].amount == bill.lines[i].amount);
        CHECK(changed.lines[i].each == bill.lines[i].each);
      }
      CHECK(changed.lines[i].text == bill.lines[i].text);
    }
    REQUIRE(at < bill.lines.size());
    CHECK(changed.subtotal == sum_of(changed.lines));
    for (int less = 1; less <= 3; ++less) {
      std::vector<BillLine> lines = changed.lines;
      lines[at].amount = lines[at].amount - Money{less};
      Money left = sum_of(lines);
      for (const BillTax& tax : taxes_on(job.shop, Till(job.shop, job.currency), lines)) {
        if (tax.included) left = left - tax.amount;
      }
      CHECK(left < net);
    }
  }
}

// Not so with a markup that falls from one band to the next, or with shipping spread by value, which moves from
// piece to piece; and a discount that is rounded apart from its tax may take a minor unit more than the work adds.
TEST_CASE("random bills: dearer work is never cheaper, and one more tax never makes it so") {
  Dice dice(6);
  for (int number = 0; number < kBills; ++number) {
    CAPTURE(number);
    Job job = random_job(dice);
    if (job.shop.markup.size() > 1) job.shop.markup.pop_back();
    if (job.shop.shipping == ShippingCharge::spread) job.shop.shipping = ShippingCharge::line;
    if (job.shop.tax_by == TaxBy::line) job.shop.discount_share = 0;
    for (Tax& tax : job.shop.taxes) {
      if (job.shop.discount_share > 0) tax.exempt.clear();
    }
    const Bill bill = job.bill();
    const auto not_cheaper = [&bill](const Job& dearer) {
      const Bill other = dearer.bill();
      CHECK(other.subtotal >= bill.subtotal);
      CHECK(other.total >= bill.total);
      CHECK(other.payable >= bill.payable);
    };
    Job dearer = job;
    dearer.work.minutes += static_cast<double>(dice.whole(1, 60)) / 2;
    not_cheaper(dearer);
    dearer = job;
    dearer.rate += sum(dice, 2);
    not_cheaper(dearer);
    dearer = job;
    dearer.work.shipping_cost += sum(dice, 2);
    not_cheaper(dearer);
    if (!job.work.pieces.empty()) {
      dearer = job;
      dearer.work.pieces[0].unit_cost += sum(dice, 2);
      not_cheaper(dearer);
    }
    dearer = job;
    dearer.shop.taxes.push_back(tax("Another", from_parts(dice.whole(0, 2500)), false, dice.chance(50)));
    not_cheaper(dearer);
  }
}
