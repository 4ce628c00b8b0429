// The rules of a bill, one at a time.
#include <doctest/doctest.h>

#include <cstdint>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "mendworth/diagnostic.hpp"
#include "quote/bill.hpp"
#include "quote/bill_money.hpp"
#include "support/bill_builder.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

using Amounts = std::vector<std::int64_t>;

const Currency eur{"EUR", 2}, jpy{"JPY", 0};

Bill euro_bill(const Shop& shop, double rate, const JobWork& work, const BillWishes& wishes = {}) {
  return job_bill(shop, eur, rate, case_with_parts({"button", "jack"}), work, wishes);
}

FlatRate flat_rate(const std::string& name, int positions, double price, bool parts_included) {
  FlatRate flat;
  flat.name = name;
  flat.part = "button";
  flat.positions = positions;
  flat.price = price;
  flat.parts_included = parts_included;
  return flat;
}

/// Pays half, at most 20, until the end of June; the shop takes no part in it.
Shop with_bonus() {
  Shop shop;
  shop.subsidy.emplace();
  shop.subsidy->name = "Bonus";
  shop.subsidy->share = 0.5;
  shop.subsidy->cap = 20;
  shop.subsidy->until = Date{2026, 6, 30};
  return shop;
}

/// Two buttons renewed in half an hour.
JobWork two_buttons() {
  JobWork work = work_of(30);
  work.pieces = {pieces(0, 2, 1.5)};
  work.shipping_cost = 4;
  work.consumables = 0.75;
  work.positions = 2;
  return work;
}

Money single_total(const Shop& shop, const Currency& currency, std::int64_t minor) {
  return single_bill(shop, currency, bill_line(LineKind::labour, minor), {}).payable;
}

}  // namespace

TEST_CASE("bill: increments begun are charged in full, what is left over in binary begins none") {
  Shop shop;
  CHECK(billed_minutes(shop, 47.3) == 47.3);
  shop.billing_increment_minutes = 15;
  CHECK(billed_minutes(shop, 0) == 0);
  CHECK(billed_minutes(shop, 0.1) == 15);
  CHECK(billed_minutes(shop, 15) == 15);
  CHECK(billed_minutes(shop, 45.0000001) == 45);
  CHECK(billed_minutes(shop, 45.00001) == 60);
  CHECK(billed_minutes(shop, 44.9999999) == 45);
  shop.billing_increment_minutes = 0.1;
  double sum = 0;
  for (int i = 0; i < 450; ++i) sum += 0.1;  // 45.00000000000049
  CHECK(job_bill(shop, eur, 60, Case{}, work_of(sum), {}).subtotal == Money{4500});
}

TEST_CASE("bill: the price of an hour stands on the line only if it can be paid") {
  CHECK(euro_bill(Shop{}, 45.5, work_of(60)).lines[0].each == Money{4550});
  const Bill odd = euro_bill(Shop{}, 45.555, work_of(60));
  CHECK_FALSE(odd.lines[0].each);
  CHECK(odd.lines[0].amount == Money{4556});  // 45.555 is half a cent, up; in binary it is less
  CHECK_FALSE(job_bill(Shop{}, jpy, 5000.5, Case{}, work_of(60), {}).lines[0].each);
  // A rate that is the middle of a range carries what binary leaves behind.
  CHECK(euro_bill(Shop{}, 0.1 + 0.2, work_of(60)).lines[0].each == Money{30});
}

TEST_CASE("bill: the least charge is a sum, and only where time alone is less") {
  Shop shop;
  shop.minimum_charge = 30;
  const Bill bill = euro_bill(shop, 50, work_of(20));
  CHECK(bill.lines[0].amount == Money{3000});
  CHECK(bill.lines[0].text == "Labour (minimum charge)");
  CHECK(bill.lines[0].unit == BillLine::Unit::none);
  CHECK_FALSE(bill.lines[0].each);
  CHECK(euro_bill(shop, 60, work_of(30)).lines[0].text == "Labour");
  CHECK(euro_bill(Shop{}, 0, work_of(30)).lines.size() == 1);  // free labour is said
}

TEST_CASE("bill: a diagnosis fee is credited, or has a line and its minutes to itself") {
  Shop shop;
  shop.diagnosis_fee = 25;
  JobWork work = work_of(60);
  work.diagnosis_minutes = 15;
  CHECK(amounts(euro_bill(shop, 40, work)) == Amounts{4000});
  shop.diagnosis_credited = false;
  CHECK(amounts(euro_bill(shop, 40, work)) == Amounts{2500, 3000});
  shop.diagnosis_fee.reset();  // nothing to credit: all is labour
  CHECK(amounts(euro_bill(shop, 40, work)) == Amounts{4000});
}

TEST_CASE("bill: a flat rate holds for its part and number of positions alone") {
  Shop shop;
  shop.flat_rates = {flat_rate("Two buttons", 2, 39, true), flat_rate("Two again", 2, 29, true)};
  const Bill flat = euro_bill(shop, 60, two_buttons());
  CHECK(amounts(flat) == Amounts{3900});
  CHECK(flat.lines[0].text == "Two buttons");
  CHECK(flat.lines[0].kind == LineKind::labour);

  shop.flat_rates[0].parts_included = false;
  CHECK(amounts(euro_bill(shop, 60, two_buttons())) == Amounts{3900, 300, 75, 400});

  const Amounts by_time{3000, 300, 75, 400};
  shop.flat_rates[0].positions = shop.flat_rates[1].positions = 3;
  CHECK(amounts(euro_bill(shop, 60, two_buttons())) == by_time);
  shop.flat_rates[0].positions = 2;
  JobWork other = two_buttons();
  other.pieces[0].part = 1;
  CHECK(amounts(euro_bill(shop, 60, other)) == by_time);
  JobWork both = two_buttons();
  both.pieces.push_back(pieces(1, 1, 2));
  CHECK(amounts(euro_bill(shop, 60, both)) == Amounts{3000, 300, 200, 75, 400});
}

TEST_CASE("bill: the customer's own parts have no line, no shipping and no flat rate with parts") {
  Shop shop;
  BillWishes wishes;
  wishes.parts_from_customer = true;
  CHECK(amounts(euro_bill(shop, 60, two_buttons(), wishes)) == Amounts{3000, 75});
  shop.flat_rates = {flat_rate("With parts", 2, 39, true)};
  CHECK(amounts(euro_bill(shop, 60, two_buttons(), wishes)) == Amounts{3000, 75});
  shop.flat_rates.push_back(flat_rate("Work alone", 2, 29, false));
  CHECK(amounts(euro_bill(shop, 60, two_buttons(), wishes)) == Amounts{2900, 75});
}

TEST_CASE("bill: the band of the markup is that of the cost of a piece, limits included") {
  Shop shop;
  shop.markup = {{0, 3}, {5, 2}, {50, 1.25}};
  JobWork work = work_of(0);
  for (const auto& [cost, price] : {std::pair{4.99, 1497}, {5.0, 1000}, {49.99, 9998}, {50.0, 6250}}) {
    work.pieces = {pieces(0, 1, cost)};
    CHECK(line_of(euro_bill(shop, 0, work), LineKind::parts)->amount == Money{price});
  }
}

TEST_CASE("bill: shipping is a line, part of the pieces, or the shop's own") {
  Shop shop;
  shop.markup = {{0, 2}};
  JobWork work = work_of(0);
  work.pieces = {pieces(0, 2, 1), pieces(1, 1, 8)};
  work.shipping_cost = 5;
  CHECK(amounts(euro_bill(shop, 0, work)) == Amounts{0, 400, 1600, 500});
  shop.shipping = ShippingCharge::shop;
  CHECK(amounts(euro_bill(shop, 0, work)) == Amounts{0, 400, 1600});
  // Of 10 the shipping is half as much again: 1.5 and 12, twice.
  shop.shipping = ShippingCharge::spread;
  CHECK(amounts(euro_bill(shop, 0, work)) == Amounts{0, 600, 2400});
  // Pieces that cost nothing bear it by number: 5 / 3 x 2 = 3.33 each.
  work.pieces = {pieces(0, 2, 0), pieces(1, 1, 0)};
  CHECK(amounts(euro_bill(shop, 0, work)) == Amounts{0, 666, 333});
}

TEST_CASE("bill: lines of nothing are left out") {
  Shop shop;
  shop.consumables_share = 0.001;
  shop.rush_share = 0.001;
  shop.discount_share = 0.001;
  BillWishes wishes;
  wishes.rush = wishes.collection = true;
  JobWork work = work_of(3);  // 2.00: a thousandth is 0.002
  work.shipping_cost = 0.004;
  CHECK(amounts(euro_bill(shop, 40, work, wishes)) == Amounts{200});
  shop.rush_share.reset();
  shop.rush_flat = 7;
  CHECK(amounts(euro_bill(shop, 40, work, wishes)) == Amounts{200, 700});
  CHECK(amounts(euro_bill(shop, 40, work)) == Amounts{200});
}

TEST_CASE("bill: taxes that bear on no line of the bill are not shown, those of no rate are") {
  Shop shop;
  shop.taxes = {tax("Goods", 0.2, false, false, {LineKind::labour}), tax("Zero", 0)};
  const Bill bill = euro_bill(shop, 40, work_of(30));
  REQUIRE(bill.taxes.size() == 1);
  CHECK(bill.taxes[0].name == "Zero");
  CHECK(bill.taxes[0].taxable == Money{2000});
  CHECK(bill.taxes[0].amount == Money{0});
  CHECK(bill.total == Money{2000});
}

TEST_CASE("bill: a subsidy needs its register and its date, and never exceeds the total") {
  Shop shop = with_bonus();
  BillWishes wishes;
  wishes.date = {2026, 6, 30};
  CHECK(euro_bill(shop, 60, work_of(60), wishes).subsidy == Money{0});
  shop.subsidy->registered = true;
  CHECK(euro_bill(shop, 60, work_of(60), wishes).subsidy == Money{2000});
  CHECK(euro_bill(shop, 60, work_of(30.01), wishes).subsidy == Money{1501});  // 30.01: half of it 15.005
  shop.subsidy->share = 1;
  shop.subsidy->cap.reset();
  CHECK(euro_bill(shop, 60, work_of(60), wishes).payable == Money{0});
  wishes.date = {2026, 7, 1};
  CHECK(euro_bill(shop, 60, work_of(60), wishes).payable == Money{6000});
  // It is for a repair, not for a bill without one.
  CHECK(single_total(shop, eur, 6000) == Money{6000});
}

TEST_CASE("bill: cash is rounded to the least coin, halves away from zero") {
  Shop shop;
  shop.cash_step = 0.05;
  for (const auto& [total, paid] :
       {std::pair{1002, 1000}, {1003, 1005}, {1005, 1005}, {-1003, -1005}, {2, 0}}) {
    CHECK(single_total(shop, eur, total) == Money{paid});
  }
  shop.cash_step = 0.1;
  CHECK(single_total(shop, eur, 1005) == Money{1010});
  CHECK(single_total(shop, eur, -1005) == Money{-1010});
  shop.cash_step = 10;
  CHECK(single_total(shop, jpy, 4995) == Money{5000});
  CHECK(single_total(shop, jpy, 4994) == Money{4990});
}

TEST_CASE("bill: a coin that the currency does not have is the shop file's error") {
  Shop shop;
  shop.source_name = "shop.toml";
  for (const double step : {0.025, 0.001, 0.0, -0.05}) {
    shop.cash_step = step;
    CAPTURE(step);
    try {
      static_cast<void>(single_total(shop, eur, 100));
      FAIL("no error");
    } catch (const InputError& e) {
      REQUIRE(e.problems().size() == 1);
      CHECK(e.problems()[0].key == "payment.cash_step");
      CHECK(e.problems()[0].source == "shop.toml");
    }
  }
}

TEST_CASE("bill: a deposit is asked from its limit, never more than the sum") {
  Shop shop;
  shop.deposit_share = 0.3;
  shop.deposit_from = 60;
  CHECK(euro_bill(shop, 60, work_of(60)).deposit == Money{1800});
  CHECK_FALSE(euro_bill(shop, 60, work_of(59)).deposit);
  shop.deposit_share.reset();
  CHECK_FALSE(euro_bill(shop, 60, work_of(60)).deposit);
  shop.deposit_covers_parts = true;
  JobWork work = two_buttons();
  work.minutes = 60;
  CHECK(euro_bill(shop, 60, work).deposit == Money{700});
  shop.discount_share = 1;
  shop.deposit_from = 0;
  CHECK(euro_bill(shop, 60, work).deposit == Money{400});  // shipping is all that is left to pay
}

TEST_CASE("bill: sums beyond 1e15 minor units are refused with a message") {
  Shop shop;
  shop.source_name = "shop.toml";
  CHECK(euro_bill(shop, 1e13, work_of(60)).total == Money{1'000'000'000'000'000});
  CHECK_THROWS_WITH_AS(
      static_cast<void>(euro_bill(shop, 1.1e13, work_of(60))),
      "shop.toml: error: the bill has a sum beyond 1e15 of the smallest unit of EUR: no job costs "
      "that much; look for a slip in a price, a rate or a markup",
      InputError);
  // Each is in range, but not their sum, their product, or the sum with tax.
  JobWork work = work_of(60);
  work.pieces = {pieces(0, 1, 6e12)};
  CHECK_THROWS_AS(static_cast<void>(euro_bill(shop, 6e12, work)), InputError);
  work.pieces = {pieces(0, 2'000'000'000, 9e12)};
  CHECK_THROWS_AS(static_cast<void>(euro_bill(shop, 6, work)), InputError);
  shop.taxes = {tax("VAT", 0.2)};
  CHECK_THROWS_AS(static_cast<void>(euro_bill(shop, 9e12, work_of(60))), InputError);
  CHECK_THROWS_AS(static_cast<void>(single_total(shop, Currency{"XXX", 5}, 1)), std::invalid_argument);
  // To either side, the limit included.
  const Till till(shop, eur);
  for (const std::int64_t most : {1'000'000'000'000'000, -1'000'000'000'000'000}) {
    CHECK(till.checked(Money{most}) == Money{most});
    CHECK_THROWS_AS(static_cast<void>(till.checked(Money{most + (most > 0 ? 1 : -1)})), InputError);
  }
}

TEST_CASE("bill: a price that leaves a given net") {
  Shop shop;
  shop.taxes = {tax("VAT", 0.19, true), tax("Eco", 0.01)};
  shop.rush_share = 0.5;
  BillWishes wishes;
  wishes.rush = true;
  JobWork work = two_buttons();
  const Bill bill = euro_bill(shop, 60, work, wishes);
  CHECK(amounts(bill) == Amounts{3000, 300, 75, 400, 1500});
  // 119.00 holds 19.00, so 100 are left of it; the other lines are 22.75.
  const Bill hundred = with_net(shop, eur, bill, Money{10000}, wishes);
  CHECK(amounts(hundred) == Amounts{11900 - 2275, 300, 75, 400, 1500});
  CHECK(net_of(hundred) == Money{10000});
  CHECK(hundred.lines[0].text == "Labour");
  CHECK_FALSE(hundred.lines[0].each);
  CHECK(hundred.lines[1].each == Money{150});
  CHECK(hundred.total == Money{11900 + 100});  // 1 % of the net 100
  // A price below that of the other lines is told by what labour would have to give up.
  CHECK(net_of(with_net(shop, eur, bill, Money{0}, wishes)) == Money{0});
  CHECK(with_net(shop, eur, bill, Money{0}, wishes).subtotal == Money{0});

  shop.taxes.clear();
  CHECK(with_net(shop, eur, single_bill(shop, eur, bill_line(LineKind::diagnosis, 2500), {}), Money{3100}, {})
            .total == Money{3100});
}

TEST_CASE("bill: a single line has its taxes and its coins, but no deposit") {
  Shop shop;
  shop.taxes = {tax("VAT", 0.2)};
  shop.cash_step = 0.05;
  shop.deposit_share = 0.5;
  const Bill bill = single_bill(shop, eur, bill_line(LineKind::diagnosis, 2499), {});
  CHECK(bill.subtotal == Money{2499});
  CHECK(bill.taxes[0].amount == Money{500});  // 4.998
  CHECK(bill.total == Money{2999});
  CHECK(bill.payable == Money{3000});
  CHECK_FALSE(bill.deposit);
}

TEST_CASE("bill: what is paid already is taken off, and more than that is given back") {
  Shop shop = with_bonus();
  shop.subsidy->registered = true;
  shop.cash_step = 0.05;
  BillWishes wishes;
  wishes.date = {2026, 6, 1};
  wishes.paid = Money{1203};
  // 60.00 less 20.00 less 12.03 is 27.97, in coins 27.95.
  const Bill bill = euro_bill(shop, 60, work_of(60), wishes);
  CHECK(bill.total == Money{6000});
  CHECK(bill.paid == Money{1203});
  CHECK(bill.cash_rounding == Money{-2});
  CHECK(bill.payable == Money{2795});
  // Of any total: half of 30.00 is the subsidy, 15.00; 2.97 are left.
  CHECK(payable_of(shop, eur, Money{3000}, wishes) == Money{295});
  // A single line has no subsidy: 10.00 less 12.03.
  CHECK(single_bill(shop, eur, bill_line(LineKind::diagnosis, 1000), wishes).payable == Money{-205});
}
