#pragma once

#include "mendworth/weigh.hpp"

/// A weighing made up by hand for the renderers' tests. The figures are
/// invented; they need not agree with each other beyond what the renderers
/// check.
namespace mendworth::testing {

inline OptionResult repair_option() {
  OptionResult o;
  o.kind = OptionKind::repair;
  o.name = "failed and mates";
  o.family = "failed and mates";
  o.renewed_now = 4;
  o.cash_now = 12.005;
  o.minutes_now = 64.6;
  o.cost_now = 33.54;
  o.present_cost = 58.375;
  o.futures = 100'000;
  o.present_cost_error = 0.08;
  o.cost_per_year = 12.75;
  o.cash_within = {14.5, 21, 38.25};
  o.parts.parts = 4.5;
  o.parts.shipping = 7.505;
  o.parts.labour = 21.53;
  o.parts.risk = 3.1;
  o.parts.later_visits = 9.24;
  o.parts.next_device = 14.5;
  o.parts.leftovers = -0.5;
  o.parts.resale = -1.5;
  o.damage_chance = 0.114;
  o.write_off_chance = 0.0438;
  o.cure_chance = 0.93;
  o.later_visits_expected = 0.35;
  o.second_device_chance = 0.31;
  return o;
}

inline OptionResult replacement_option() {
  OptionResult o;
  o.kind = OptionKind::replacement;
  o.name = "new: Panel recorder B";
  o.family = "Panel recorder B";
  o.cash_now = 89;
  o.minutes_now = 30;
  o.cost_now = 99;
  o.present_cost = 99.5;
  o.futures = 100'000;
  o.present_cost_error = 0.05;
  o.cost_per_year = 21.73;
  o.parts.purchase = 89;
  o.parts.labour = 10;
  o.parts.next_device = 2.5;
  o.parts.resale = -2;
  return o;
}

inline OptionResult leave_option() {
  OptionResult o;
  o.kind = OptionKind::leave;
  o.name = "leave it";
  o.family = "leave it";
  o.present_cost = 137.4;
  o.futures = 8192;
  o.cost_per_year = 30;
  o.parts.burden = 137.4;
  return o;
}

inline Weighing weighing() {
  Weighing w;
  w.source_name = "panel.toml";
  w.device = "Panel recorder";
  w.currency = "EUR";
  w.need_years = 5;
  w.settings.futures = 100'000;
  w.years_ahead = 5;
  w.discount_rate = 0.03;
  w.labour_rate = 20;
  w.settings.seed = 7;
  w.settings.today = Date{2026, 3, 1};
  w.options = {repair_option(), replacement_option(), leave_option()};

  Verdict& v = w.verdict;
  v.kind = VerdictKind::repair;
  v.confidence = Confidence::clear;
  v.best = repair_option().name;
  v.best_repair = repair_option().name;
  v.best_replacement = replacement_option().name;
  v.saving = 41.125;
  v.saving_error = 0.12;
  v.repair_cheaper_share = 0.912;
  v.saving_p10 = 3.1;
  v.saving_p50 = 44;
  v.saving_p90 = 71.255;
  v.lead = 41.125;
  v.lead_over = replacement_option().name;
  v.lead_error = 0.12;
  v.agreeing_share = 0.912;

  OrderAnswer order;
  order.plan = repair_option().name;
  order.lines = {{"button", "button 6 x 6", "Home parts", "EUR", 4, 10, 0.375, 3.75, 12.005, 1, ""}};
  order.quantities = {
      {"button", "button 6 x 6", "Home parts", 9, 0.5, 12.9, 1.4333, false, "10 cost less than 9"},
      {"button", "button 6 x 6", "Home parts", 10, 0.375, 12.005, 1.2005, true, ""}};
  order.goods = 3.75;
  order.shipping = 5;
  order.tax = 3.255;
  order.landed = 12.005;
  order.wait_days = 3;
  order.leftovers = 6;
  order.leftover_value = 0.5;
  order.charged_whole = 12.005;
  order.charged_pro_rata = 4.802;
  order.charged_by_reuse = 11.505;
  order.warnings = {"10 pieces of button cost less than 9."};
  w.order = order;

  w.evidence = {{"button", LifeUnit::cycles, 350000, 182000, 120000, 305000, 9.6, 5, 1, 3, 0.1, 4.5, 9.6,
                 0.031, 0.052}};
  w.mate_survival = {{"button 6 x 6", "feed", {{0, 1, 1}, {2.5, 0.75, 0.5}, {5, 0.5, 0.25}}}};
  w.saving_bins = {{-10, 0, 0.125}, {0, 10, 0.5}, {10, 20, 0.375}};
  w.cost_in_time = CostInTime{{{1, 20, 15, 30}, {5, 40, 20, 60}}, {{1, 50, 50, 50}, {5, 60, 50, 100}}};
  w.inputs = {
      {"replacement.1.price", "price of Desk 2 (EUR)", "55", "stated"},
      {"device.life_years", "life of such a device when new (years)", "7.667 (3 to 15)", "common practice"}};
  w.survivors = {
      {"transport keys", "button", 3, 0.6, 0.18, 0.285, 0.052, SurvivorRow::Renewal{3.25, 14, 0.2321}}};

  w.break_evens = {{"replacement.1.price", "price of the replacement (EUR)", 89, 20, 400, {43.2}, -28, 330},
                   {"device.use", "wear of the mates (factor)", 1, 0.2, 5, {}, 47, 12},
                   {"labour.rate_per_hour", "own time (EUR an hour)", 0, 0, 100, {31.5, 80}, 60, -4}};
  w.sensitivity = {
      {"labour.rate_per_hour", "own time (EUR an hour)", 0, 20, 60, 66.2, -8.75, 74.95, true, true, false},
      {"replacement.1.price", "price of the replacement (EUR)", 71.2, 89, 106.8, 22, 60.25, 38.25, false,
       false, true}};
  w.sensitivity_futures = 20000;
  w.half_price =
      HalfPriceRule{33.54, 89, 0.37685, true, true, "The repaired device lasts nearly as long as a new one."};
  w.payback = Payback{1.54, 0.4};
  w.own_time = OwnTime{20, 62.5, 41.125, 53.4};
  w.already_spent = 30;
  w.cautions = {
      {"mains", "mains inside", false, {"Unplug it before opening.", "Test the earth afterwards."}}};
  w.defaults = {{"horizon.years", "5", "mean life of the cheapest replacement", true},
                {"horizon.discount_rate", "0.03", "common practice, no source", false}};
  w.notes = {"The licensed repair has no price."};
  return w;
}

}  // namespace mendworth::testing
