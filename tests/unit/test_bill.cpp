// Whole bills to the last minor unit. Every derivation is by hand, checked with the decimal module of Python 3.11
// (ROUND_HALF_UP, which is half away from zero), never with the program.
#include <doctest/doctest.h>

#include <cstdint>
#include <utility>
#include <vector>

#include "quote/bill.hpp"
#include "support/bill_builder.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

using Amounts = std::vector<std::int64_t>;

const Currency eur{"EUR", 2}, jpy{"JPY", 0}, kwd{"KWD", 3}, cad{"CAD", 2};

}  // namespace

// Labour: 64 min are 5 increments of 15, 75 min = 1.25 h; 1.25 x 48.50 = 60.625    ->  60.63
// Buttons: cost 0.35 with 19 % = 0.4165, below 5, x 3 = 1.2495 -> 1.25; 2 x 1.25   =    2.50
// Jack: cost 7.13, from 5, x 1.5 = 10.695 -> 10.70 (in binary 10.694999...)        =   10.70
// Consumables: 4 % of 60.63 = 2.4252                                               ->   2.43
// Shipping at cost                                                                 =   4.76
// Rush: 25 % of 60.63 = 15.1575                                                    ->  15.16
// Collection                                                                       =   9.90
// Discount: 5 % of 60.63 + 2.50 + 10.70 + 2.43 = 76.26: 3.813                      ->  -3.81
//                                                                        subtotal    102.27
// Tax 20 % of 102.27 = 20.454                                                      ->  20.45
//                                                                           total    122.72
// Subsidy: 50 % is 61.36, capped at 50                                             =  -50.00
// Left 72.72; nearest multiple of 0.05 is 72.70                                    =   -0.02
//                                                                         payable     72.70
// Deposit: 25 % of 72.70 = 18.175 -> 18.18; parts with shipping and tax: 17.96 x 1.2 = 21.552, up -> 21.56.
TEST_CASE("bill by hand: euro, every kind of line") {
  Shop shop;
  shop.billing_increment_minutes = 15;
  shop.markup = {{0, 3}, {5, 1.5}};
  shop.consumables_share = 0.04;
  shop.rush_share = 0.25;
  shop.collection_fee = 9.90;
  shop.discount_share = 0.05;
  shop.discount_name = "Members";
  shop.taxes = {tax("VAT", 0.2)};
  shop.cash_step = 0.05;
  shop.deposit_share = 0.25;
  shop.deposit_covers_parts = true;
  shop.subsidy.emplace(Subsidy{"Repair bonus", 0.5, 50, true, Date{2026, 3, 1}});
  const Case c = case_with_parts({"button", "jack"});
  JobWork work = work_of(64);
  work.pieces = {pieces(0, 2, 0.35 * 1.19), pieces(1, 1, 7.13)};
  work.shipping_cost = 4.76;
  work.consumables = 99;  // the shop has its own rule
  work.positions = 3;
  BillWishes wishes;
  wishes.rush = wishes.collection = true;
  wishes.date = {2026, 3, 1};

  const Bill bill = job_bill(shop, eur, 48.50, c, work, wishes);
  CHECK(amounts(bill) == Amounts{6063, 250, 1070, 243, 476, 1516, 990, -381});
  CHECK(bill.lines[0].unit == BillLine::Unit::hours);
  CHECK(bill.lines[0].quantity == 1.25);
  CHECK(bill.lines[0].each == Money{4850});
  CHECK(bill.lines[1].unit == BillLine::Unit::pieces);
  CHECK(bill.lines[1].quantity == 2);
  CHECK(bill.lines[1].each == Money{125});
  CHECK(bill.lines[2].each == Money{1070});
  CHECK(bill.lines[7].text == "Members");
  CHECK(bill.lines[7].kind == LineKind::discount);
  CHECK(bill.subtotal == Money{10227});
  REQUIRE(bill.taxes.size() == 1);
  CHECK(bill.taxes[0].taxable == Money{10227});
  CHECK(bill.taxes[0].amount == Money{2045});
  CHECK(bill.total == Money{12272});
  CHECK(bill.included_tax == Money{0});
  CHECK(bill.subsidy_name == "Repair bonus");
  CHECK(bill.subsidy == Money{5000});
  CHECK(bill.cash_rounding == Money{-2});
  CHECK(bill.payable == Money{7270});
  CHECK(bill.deposit == Money{2160});  // parts and shipping 21.56, in coins of 0.05 that cover them

  // Without the parts the share counts: 18.175, half a coin up.
  shop.deposit_covers_parts = false;
  CHECK(job_bill(shop, eur, 48.50, c, work, wishes).deposit == Money{1820});
  // A day later the bonus has ended: 122.72 -> 122.70, a quarter of it 30.675 -> 30.70.
  wishes.date = {2026, 3, 2};
  const Bill late = job_bill(shop, eur, 48.50, c, work, wishes);
  CHECK(late.subsidy == Money{0});
  CHECK_FALSE(late.subsidy_name);
  CHECK(late.payable == Money{12270});
  CHECK(late.deposit == Money{3070});
}

// Labour: 47 min at 6500 an hour = 5091.67                                   ->  5092
// Parts: cost 118.4 x 2 = 236.8 -> 237; 3 x 237 = 711, but the markup must come to 400: 355.2 + 400 = 755.2;
//   755.2 / 3 = 251.73 -> up 252; 3 x 252                                    =    756
// Consumables, flat                                                          =    155
// Shipping                                                                   =    580
//                                                  subtotal and total             6583
// holds 10 %: 6583 / 1.1 = 5984.55, its tenth 598.45                         ->   598
TEST_CASE("bill by hand: yen, prices that hold their tax, a least markup") {
  Shop shop;
  shop.markup = {{0, 2}};
  shop.least_markup = 400;
  shop.consumables_flat = 155;
  shop.taxes = {tax("Consumption tax", 0.1, true)};
  JobWork work = work_of(47);
  work.pieces = {pieces(0, 3, 118.4)};
  work.shipping_cost = 580;
  const Bill bill = job_bill(shop, jpy, 6500, case_with_parts({"button"}), work, {});
  CHECK(amounts(bill) == Amounts{5092, 756, 155, 580});
  CHECK(bill.lines[0].each == Money{6500});
  CHECK(bill.lines[1].each == Money{252});
  CHECK(bill.subtotal == Money{6583});
  REQUIRE(bill.taxes.size() == 1);
  CHECK(bill.taxes[0].taxable == Money{5985});
  CHECK(bill.taxes[0].amount == Money{598});
  CHECK(bill.taxes[0].included);
  CHECK(bill.included_tax == Money{598});
  CHECK(bill.total == Money{6583});
  CHECK(bill.payable == Money{6583});
  CHECK(net_of(bill) == Money{5985});
  CHECK_FALSE(bill.deposit);
}

// Diagnosis, not credited                                                    =   3.250, tax 5 % 0.1625  -> 0.163
// Labour: 40 - 12 = 28 min at 7.5 = 3.5, at least 10                         =  10.000,         0.5     =  0.500
// Order: goods 2 x 0.425 + 1.3 = 2.15, shipping 0.9 spread: each costs 1 + 0.9 / 2.15 as much
//   0.425 -> 0.602906976..., x 1.8 = 1.08523 -> 1.085, two                   =   2.170,         0.1085  -> 0.109
//   1.3 -> 1.844186046..., x 1.8 = 3.31953                                   ->  3.320,         0.166   =  0.166
// Consumables of the case, 0.3334                                            ->  0.333,         0.01665 -> 0.017
//                                                  subtotal                     19.073                     0.955
// total 20.028; on the total the tax would be 0.95365 -> 0.954.
TEST_CASE("bill by hand: dinar, shipping spread, tax by line") {
  Shop shop;
  shop.minimum_charge = 10;
  shop.diagnosis_fee = 3.25;
  shop.diagnosis_credited = false;
  shop.markup = {{0, 1.8}};
  shop.shipping = ShippingCharge::spread;
  shop.taxes = {tax("VAT", 0.05)};
  shop.tax_by = TaxBy::line;
  JobWork work = work_of(40);
  work.diagnosis_minutes = 12;
  work.pieces = {pieces(0, 2, 0.425), pieces(1, 1, 1.3)};
  work.shipping_cost = 0.9;
  work.consumables = 0.3334;
  const Case c = case_with_parts({"button", "jack"});
  const Bill bill = job_bill(shop, kwd, 7.5, c, work, {});
  CHECK(amounts(bill) == Amounts{3250, 10000, 2170, 3320, 333});
  CHECK(bill.lines[0].kind == LineKind::diagnosis);
  CHECK(bill.lines[1].text == "Labour (minimum charge)");
  CHECK_FALSE(bill.lines[1].each);
  CHECK(bill.lines[2].each == Money{1085});
  CHECK(bill.subtotal == Money{19073});
  REQUIRE(bill.taxes.size() == 1);
  CHECK(bill.taxes[0].taxable == Money{19073});
  CHECK(bill.taxes[0].amount == Money{955});
  CHECK(bill.total == Money{20028});

  shop.tax_by = TaxBy::total;
  CHECK(job_bill(shop, kwd, 7.5, c, work, {}).taxes[0].amount == Money{954});
}

// Labour 90 min at 55 = 82.50; three pieces at 4.31 = 12.93; subtotal 95.43.
// Federal 5 %: 4.7715 -> 4.77. Provincial 9.975 % on 95.43 + 4.77 = 100.20: 9.99495 -> 9.99. Total 110.19.
//   (On the unrounded federal tax it would be 9.9950996 -> 10.00, which nobody could work out from the page.)
// By line: 82.50: 4.125 -> 4.13, 9.975 % of 86.63 = 8.6413425 -> 8.64; 12.93: 0.6465 -> 0.65, 9.975 % of 13.58 =
//   1.354605 -> 1.35. Together 4.78 and 9.99, total 110.20.
// Both included: net 95.43 / (1 + 0.05 + 0.09975 x 1.05) = 82.64216...; federal 4.13211 -> 4.13; provincial on
//   86.77427: 8.65573 -> 8.66.
TEST_CASE("bill by hand: two taxes, the second on top of the first") {
  Shop shop;
  shop.taxes = {tax("Federal", 0.05), tax("Provincial", 0.09975, false, true)};
  JobWork work = work_of(90);
  work.pieces = {pieces(0, 3, 4.31)};
  const Case c = case_with_parts({"button"});
  Bill bill = job_bill(shop, cad, 55, c, work, {});
  CHECK(amounts(bill) == Amounts{8250, 1293});
  REQUIRE(bill.taxes.size() == 2);
  CHECK(bill.taxes[0].taxable == Money{9543});
  CHECK(bill.taxes[0].amount == Money{477});
  CHECK(bill.taxes[1].taxable == Money{10020});
  CHECK(bill.taxes[1].amount == Money{999});
  CHECK(bill.taxes[1].compound);
  CHECK(bill.total == Money{11019});

  shop.tax_by = TaxBy::line;
  bill = job_bill(shop, cad, 55, c, work, {});
  CHECK(bill.taxes[0].amount == Money{478});
  CHECK(bill.taxes[1].taxable == Money{10021});
  CHECK(bill.taxes[1].amount == Money{999});
  CHECK(bill.total == Money{11020});

  shop.tax_by = TaxBy::total;
  shop.taxes[0].included = shop.taxes[1].included = true;
  bill = job_bill(shop, cad, 55, c, work, {});
  CHECK(bill.taxes[0].taxable == Money{8264});
  CHECK(bill.taxes[0].amount == Money{413});
  CHECK(bill.taxes[1].taxable == Money{8677});
  CHECK(bill.taxes[1].amount == Money{866});
  CHECK(bill.total == Money{9543});
  CHECK(bill.included_tax == Money{1279});

  // The federal one included, the provincial one added to the price: it is on the price, 9.975 % of 95.43 = 9.51914.
  shop.taxes[1].included = false;
  bill = job_bill(shop, cad, 55, c, work, {});
  CHECK(bill.taxes[1].taxable == Money{9543});
  CHECK(bill.taxes[1].amount == Money{952});
  CHECK(bill.total == Money{10495});
}

// Labour 82.50 bears both, parts 12.93 only the federal tax. Federal 4.7715 -> 4.77. The provincial one is on 82.50
// and the federal 4.125 of it: 86.625 x 9.975 % = 8.64084 -> 8.64. Turned round, the federal tax on labour alone
// stands on the page, 4.125 -> 4.13: 9.975 % of 95.43 + 4.13 = 99.56 is 9.93111 -> 9.93.
TEST_CASE("bill by hand: two taxes that bear on different lines") {
  Shop shop;
  shop.taxes = {tax("Federal", 0.05), tax("Provincial", 0.09975, false, true, {LineKind::parts})};
  JobWork work = work_of(90);
  work.pieces = {pieces(0, 3, 4.31)};
  const Case c = case_with_parts({"button"});
  Bill bill = job_bill(shop, cad, 55, c, work, {});
  CHECK(bill.taxes[0].amount == Money{477});
  CHECK(bill.taxes[1].taxable == Money{8663});
  CHECK(bill.taxes[1].amount == Money{864});

  std::swap(shop.taxes[0].exempt, shop.taxes[1].exempt);
  bill = job_bill(shop, cad, 55, c, work, {});
  CHECK(bill.taxes[0].taxable == Money{8250});
  CHECK(bill.taxes[0].amount == Money{413});
  CHECK(bill.taxes[1].taxable == Money{9956});
  CHECK(bill.taxes[1].amount == Money{993});
}

// An added tax of 5 %, and within the prices 8 % on top of it: net 50.65 / (1 + 0.08 x 1.05) = 46.72509...; added
// 2.33625 -> 2.34; within 0.08 x 49.06135 = 3.92491 -> 3.92. (On the printed 2.34 it would be 3.9252 -> 3.93, but
// then net and taxes no longer make up the price.)
TEST_CASE("bill by hand: a tax within the prices on top of one that is added") {
  Shop shop;
  shop.taxes = {tax("Added", 0.05), tax("Within", 0.08, true, true)};
  const Bill bill = single_bill(shop, eur, bill_line(LineKind::labour, 5065), {});
  CHECK(bill.taxes[0].taxable == Money{4673});
  CHECK(bill.taxes[0].amount == Money{234});
  CHECK(bill.taxes[1].taxable == Money{4906});
  CHECK(bill.taxes[1].amount == Money{392});
  CHECK(bill.total == Money{5299});
  CHECK(bill.included_tax == Money{392});
}

// Labour 80.00, exempt; parts 2 x 10.00 = 20.00; 20 % discount of 100.00: -20.00, of which 16.00 on labour, 4.00 on
// parts. Tax 20 % on 20.00 - 4.00 = 16.00: 3.20, total 83.20. Where discounts are exempt it is on 20.00: 4.00, 84.00.
// Labour alone, 80.00 less 16.00: the tax bears on nothing and is not shown.
TEST_CASE("bill by hand: a discount bears the taxes of what it is taken off") {
  Shop shop;
  shop.discount_share = 0.2;
  shop.taxes = {tax("VAT", 0.2, false, false, {LineKind::labour})};
  JobWork work = work_of(60);
  work.pieces = {pieces(0, 2, 10)};
  const Case c = case_with_parts({"button"});
  Bill bill = job_bill(shop, eur, 80, c, work, {});
  CHECK(amounts(bill) == Amounts{8000, 2000, -2000});
  CHECK(bill.taxes.at(0).taxable == Money{1600});
  CHECK(bill.taxes[0].amount == Money{320});
  CHECK(bill.total == Money{8320});
  shop.taxes[0].exempt.push_back(LineKind::discount);
  CHECK(job_bill(shop, eur, 80, c, work, {}).total == Money{8400});
  work.pieces.clear();
  shop.taxes[0].exempt = {LineKind::labour};
  bill = job_bill(shop, eur, 80, c, work, {});
  CHECK(bill.taxes.empty());
  CHECK(bill.total == Money{6400});

  // Within the prices: 16.00 / 1.2 = 13.33, tax 2.67; total 80.00. By line each rounds alone: of 20.00 it is
  // 3.33, of -4.00 it is -0.67: 2.66.
  work.pieces = {pieces(0, 2, 10)};
  shop.taxes[0].included = true;
  bill = job_bill(shop, eur, 80, c, work, {});
  CHECK(bill.included_tax == Money{267});
  CHECK(bill.total == Money{8000});
  shop.tax_by = TaxBy::line;
  CHECK(job_bill(shop, eur, 80, c, work, {}).included_tax == Money{266});
}

// 7.5 % of 33.33 + 11.11 + 0.07 = 44.51 is 3.33825 -> 3.34. Off labour 2.49975 -> 2.50; with parts, of 44.44, 3.333 ->
// 3.33, so 0.83 off parts; the rest, 0.01, off consumables.
TEST_CASE("bill by hand: the parts of a discount add up to it") {
  Shop shop;
  shop.discount_share = 0.075;
  JobWork work = work_of(60);
  work.pieces = {pieces(0, 1, 11.11)};
  work.consumables = 0.07;
  const Bill bill = job_bill(shop, eur, 33.33, case_with_parts({"button"}), work, {});
  const BillLine& discount = bill.lines.back();
  CHECK(discount.amount == Money{-334});
  REQUIRE(discount.parts.size() == 3);
  CHECK(discount.parts[0].amount == Money{-250});
  CHECK(discount.parts[1].amount == Money{-83});
  CHECK(discount.parts[2].amount == Money{-1});
}
