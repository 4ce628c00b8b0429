#pragma once

#include <string>
#include <utility>
#include <vector>

#include "mendworth/quote.hpp"

/// Pages of a quote made up by hand for the renderers' tests. Names and figures are invented; each bill adds up.
namespace mendworth::testing {

/// A bill of these lines; every tax is on the subtotal, as `taxes` gives it.
inline Bill added_up(std::vector<BillLine> lines, std::vector<BillTax> taxes) {
  Bill bill;
  bill.lines = std::move(lines);
  bill.taxes = std::move(taxes);
  for (const BillLine& line : bill.lines) bill.subtotal += line.amount;
  bill.total = bill.subtotal;
  for (const BillTax& tax : bill.taxes) {
    if (tax.included) {
      bill.included_tax += tax.amount;
    } else {
      bill.total += tax.amount;
    }
  }
  bill.payable = bill.total;
  return bill;
}

inline CustomerChoice failed_only_choice() {
  CustomerChoice choice;
  choice.kind = CustomerChoice::Kind::failed_only;
  choice.title = "Failed key only";
  choice.work = {"Renew 1 latching key.", "Clean the contacts beside it."};
  choice.why = "The least to pay today; the other keys are as old and may follow.";
  using Unit = BillLine::Unit;
  // 1.25 h x 48.00 = 60.00; 60.00 + 4.30 + 6.90 + 2.50 = 73.70; 20 % of it is 14.74; 88.44, in coins of 0.05: 88.45.
  choice.bill = added_up(
      {{LineKind::labour, "Labour: renew 1 latching key", Unit::hours, 1.25, Money{4800}, {6000}},
       {LineKind::parts, "Latching key \"A&B\" <b>6x6</b> | new", Unit::pieces, 1, Money{430}, {430}},
       {LineKind::shipping, "Shipping of the parts", Unit::none, 1, {}, {690}},
       {LineKind::consumables, "Consumables", Unit::none, 1, {}, {250}}},
      {{"VAT", 0.20, false, false, {7370}, {1474}}});
  choice.bill.cash_rounding = {1};
  choice.bill.payable = {8845};
  choice.bill.deposit = Money{2000};
  choice.consent_limit = {9728};
  choice.days_low = 3;
  choice.days_high = 5;
  return choice;
}

inline CustomerChoice with_mates_choice() {
  CustomerChoice choice;
  choice.kind = CustomerChoice::Kind::with_mates;
  choice.title = "Failed key and its mates";
  choice.work = {"Renew 1 latching key.", "Renew the 3 keys beside it, which are as old and as worn.",
                 "Clean the contacts."};
  choice.why = "Right for whoever uses it daily: one opening serves four keys.";
  using Unit = BillLine::Unit;
  // 1.75 x 48.00 = 84.00; 4 x 4.10 = 16.40; 3 x 1.20 = 3.60; less 5.20: 108.20; 20 % of it is 21.64; 129.84 less a
  // grant of 30.00 is 99.84, in coins of 0.05: 99.85.
  choice.bill = added_up(
      {{LineKind::labour, "Labour: renew 4 latching keys", Unit::hours, 1.75, Money{4800}, {8400}},
       {LineKind::parts, "Latching key \"A&B\" <b>6x6</b> | new", Unit::pieces, 4, Money{410}, {1640}},
       {LineKind::parts, "\u0645\u0641\u062a\u0627\u062d cap, gr\u00fcn", Unit::pieces, 3, Money{120}, {360}},
       {LineKind::shipping, "Shipping of the parts", Unit::none, 1, {}, {690}},
       {LineKind::consumables, "Consumables", Unit::none, 1, {}, {250}},
       {LineKind::discount, "Discount for early booking", Unit::none, 1, {}, {-520}}},
      {{"VAT", 0.20, false, false, {10820}, {2164}}});
  choice.bill.subsidy_name = "Repair grant of the town";
  choice.bill.subsidy = {3000};
  choice.bill.cash_rounding = {1};
  choice.bill.payable = {9985};
  choice.bill.deposit = Money{2700};
  choice.consent_limit = {14282};
  choice.days_low = 3;
  choice.days_high = 6;
  choice.recommended = true;
  return choice;
}

inline CustomerPage sample_customer_page() {
  CustomerPage page;
  page.currency = {"EUR", 2};
  page.letterhead = {"Harbour Lane Repairs", "7 Harbour Lane, 4020 Lindw\u00f6rth",
                     "bench@harbour-lane.example", "VAT number XY 0000000"};
  page.number = "2026-0017";
  page.date = {2026, 3, 2};
  page.valid_until = Date{2026, 4, 1};
  page.customer = {"Zo\u00eb M\u00fcller-\u0141ukasz", "\u91ce\u9ce5 <b>\"A&B\"</b> | GmbH",
                   "12 *Long* _Row_ [x](http://evil.example)"};
  page.device = "Table radio \u53f0\u5f0f\u6536\u97f3\u673a with six station keys";
  page.serial = "TR-6/004411";
  page.condition = "Works but for one key; lid scratched, foot missing.";
  page.fault = "The second station key no longer latches.";
  page.not_included = {"The tuning dial, which slips a little.", "Polishing the lid."};
  page.advice =
      "Renew the failed key and its mates: over the next five years that is the least to pay, since each "
      "later "
      "visit opens the radio again.";
  page.choices = {failed_only_choice(), with_mates_choice()};
  page.alternatives = {{"A new table radio of the same class", Money{18900}, 3},
                       {"The same model, reconditioned", {}, 0}};
  page.warranty = "90 days on the work and on the parts it brought.";
  page.diagnosis = "The diagnosis costs EUR 25.00; it is not charged if the job goes ahead.";
  page.consent = "No bill is above the consent limit of your choice unless you agreed to it before.";
  page.if_not_repaired = "If it cannot be repaired, EUR 25.00 for the diagnosis is all that is charged.";
  page.risk =
      "Old plastic may break when the case is opened. About 1 in 50 such radios suffers damage that cannot "
      "be "
      "mended; the shop then pays up to EUR 100.00.";
  page.terms = {"Replaced parts are yours: please say so when you bring the device.",
                "The warranty ends if somebody else opens the case.",
                "A device that is not collected within six months after a written notice may be sold."};
  page.decline = added_up({{LineKind::diagnosis, "Diagnosis", BillLine::Unit::none, 1, {}, {2500}}},
                          {{"VAT", 0.20, true, false, {2083}, {417}}});
  page.accessories = {"Mains lead", "A bag with the lid's screws"};
  page.data = "If it stores data or settings, save a copy first.";
  page.safe_return = "Repaired, it is tested before it goes back.";
  return page;
}

inline CustomerPage sample_decline_invoice() {
  CustomerPage page = sample_customer_page();
  page.document = CustomerPage::Document::decline_invoice;
  page.valid_until.reset();
  page.advice.clear();
  page.choices.clear();
  page.alternatives.clear();
  page.consent.clear();
  page.decline.reset();
  page.data.clear();
  page.safe_return.clear();
  page.if_not_repaired.clear();
  page.diagnosis = "You asked for a diagnosis and chose no repair.";
  // A price with the tax in it: 25.00 / 1.2 = 20.83 and 4.17.
  page.invoice = added_up({{LineKind::diagnosis, "Diagnosis", BillLine::Unit::none, 1, {}, {2500}}},
                          {{"VAT", 0.20, true, false, {2083}, {417}}});
  return page;
}

inline ShopChoice sample_shop_choice(CustomerChoice::Kind kind, const std::string& title, double income) {
  ShopChoice choice;
  choice.kind = kind;
  choice.title = title;
  choice.cure_chance = 0.943;
  choice.lost_chance = 0.0041;
  choice.to_pay = {static_cast<std::int64_t>(120 * income)};  // a tax of 20 %
  choice.consent_limit = choice.to_pay;
  choice.income = {static_cast<std::int64_t>(100 * income)};
  choice.no_cure_income = 20.8333;
  choice.expected_income = 0.943 * income + 0.057 * 20.8333;
  choice.cost = {38.2, 11.9, 2.5, -0.8, 6.13, 0.42, 3.95, 0.41};
  choice.margin = choice.expected_income - choice.cost.total();
  choice.margin_error = 0.09;
  choice.margin_share = choice.margin / choice.expected_income;
  choice.loss_chance = 0.083;
  choice.margin_p10 = -2.004;
  choice.margin_p50 = 9.5;
  choice.margin_p90 = 24.75;
  choice.minutes_planned = 75;
  choice.minutes_p10 = 58.2;
  choice.minutes_p50 = 77.1;
  choice.minutes_p90 = 118;
  choice.lowest_price = Money{6450};
  choice.lowest_price_total = Money{7740};
  choice.target_price = Money{8890};
  choice.target_price_total = Money{10668};
  choice.no_fee_price = Money{9412};
  choice.no_fee_price_total = Money{11294};
  choice.reserves = {
      {30, 0.0031, 1.21, 0.012, false}, {90, 0.0094, 3.64, 0.037, true}, {180, 0.0188, 7.3, 0.075, false}};
  choice.order = {{"", "Latching key 6x6", 1, 0}, {"Quay Parts", "Latching key 6x6", 6, 3.0451}};
  choice.leftover_pieces = 6;
  choice.leftover_value = 1.8;
  choice.ceilings = {{0.8, {9120}, false}, {0.9, {10440}, true}, {0.95, {11760}, false}};
  choice.overrun_chance = 0.31;
  choice.over_limit_chance = 0.12;
  choice.owner_saving = 41.2;
  choice.owner_saving_with_subsidy = 71.2;
  return choice;
}

inline ShopPage sample_shop_page() {
  ShopPage page;
  page.source_name = "table-radio.toml";
  page.shop_source = "harbour-lane.toml";
  page.currency = {"EUR", 2};
  page.number = "2026-0017";
  page.date = {2026, 3, 2};
  page.device = sample_customer_page().device;
  page.seed = 7;
  page.futures = 20'000;
  page.charge_rate = 48;
  page.cost_rate = 30.5;
  page.cautions = {{"Mains voltage", {"The case must stay closed while it is plugged in."}}};
  page.target_margin = 0.3;
  page.warranty_days = 90;
  page.horizon_years = 5;
  page.owner_verdict = "At this price the repair saves the owner EUR 41.20 against a new radio over 5 years.";
  page.choices = {sample_shop_choice(CustomerChoice::Kind::failed_only, "Failed key only", 73.7),
                  sample_shop_choice(CustomerChoice::Kind::with_mates, "Failed key and its mates", 108.2),
                  sample_shop_choice(CustomerChoice::Kind::every_original, "Every original key", 131.4)};
  page.choices[2].target_price.reset();
  page.choices[2].target_price_total.reset();
  page.proposed = 1;
  page.choices[1].moves = {
      {"labour.once_minutes", "Minutes to open and close <b>|</b>", 20, 32, 55, 21.4, 3.1, 18.3, true},
      {"labour.rate_per_hour", "Cost of an hour", 24.4, 30.5, 36.6, 18.2, 8.75, 9.45, false},
      {"part.damage", "Chance of damage at a joint", 0.0012, 0.0031, 0.0098, 14, 9.4, 4.6, true}};
  DiagnosisAnswer diagnosis;
  diagnosis.fee = 20.8333;
  diagnosis.cost = 10.17;
  diagnosis.walk_away_low = 0.1;
  diagnosis.walk_away = 0.2;
  diagnosis.walk_away_high = 0.35;
  diagnosis.walk_away_known = true;
  diagnosis.income_per_intake = 11.3;
  diagnosis.income_low = 7.9;
  diagnosis.income_high = 13.05;
  diagnosis.break_even_fee = 4.12;
  page.diagnosis = diagnosis;
  page.defaults = {"Labour is billed by the minute.", "No share of customers who walk away is given."};
  page.notes = {"The shipping of this order is shared with job 2026-0016."};
  return page;
}

}  // namespace mendworth::testing
