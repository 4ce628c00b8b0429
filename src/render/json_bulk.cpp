#include <string>
#include <utility>

#include "mendworth/render.hpp"
#include "render/answer_words.hpp"
#include "render/json_support.hpp"

// Keys that end in _pieces count pieces, in _years are years, in _days days, in _chance or _share are 0..1; what has no
// such end and is no name or count is money. The schema beside this file says what each means.
namespace mendworth {

namespace {

Json demand_json(const PartDemand& d) {
  return {{"part", d.part},
          {"within_years", number(d.years)},
          {"shelf_life_years", number(d.shelf_years)},
          {"now_pieces", d.now},
          {"mean_pieces", number(d.mean)},
          {"deviation_pieces", number(d.deviation)},
          {"low_pieces", d.low},
          {"median_pieces", d.median},
          {"high_pieces", d.high},
          {"per_year_pieces", number(d.per_year)},
          {"drawer_pieces", d.drawer}};
}

Json line_json(const BulkLine& l) {
  return {{"supplier", l.supplier},
          {"quantity", l.quantity},
          {"each", number(l.each)},
          {"each_currency", l.currency}};
}

Json row_json(const BulkRow& r) {
  const BulkLine first = r.lines.empty() ? BulkLine{"", 0, 0.0, r.currency} : r.lines.front();
  return {{"quantity", r.quantity},
          {"supplier", r.lines.empty() ? Json(nullptr) : Json(first.supplier)},
          {"each", number(first.each)},
          {"each_currency", first.currency},
          {"lines", list(r.lines, line_json)},
          {"landed", number(r.landed)},
          {"landed_each", number(r.landed_each)},
          {"suffices_chance", number(r.suffices)},
          {"runs_out_chance", number(r.runs_out_by)},
          {"short_pieces", number(r.short_pieces)},
          {"left_pieces", number(r.left_pieces)},
          {"left_chance", number(r.left_chance)},
          {"stock_years", number(r.years_of_stock)},
          {"write_off", number(r.write_off)},
          {"landed_per_used_piece", number(r.per_used)},
          {"waiting", number(r.waiting)},
          {"ordering", number(r.ordering)},
          {"keeping", number(r.keeping)},
          {"expected_cost", number(r.cost)},
          {"best", r.best}};
}

Json repeated_json(const RepeatedOrders& r) {
  return {{"quantity", r.quantity},
          {"supplier", r.lines.front().supplier},
          {"lines", list(r.lines, line_json)},
          {"landed", number(r.landed)},
          {"orders_per_year", number(r.orders_per_year)},
          {"purchase_per_year", number(r.purchase)},
          {"ordering_per_year", number(r.ordering)},
          {"carrying_per_year", number(r.carrying)},
          {"total_per_year", number(r.total)},
          {"lead_days", number(r.lead_days)},
          {"reorder_point_pieces", r.reorder_point},
          {"reorder_suffices_chance", number(r.reorder_cover)},
          {"expected_cost", number(r.cost)}};
}

Json asked_json(const BulkAsked& a) { return {{"pieces", a.pieces}, {"instead_pieces", a.instead}}; }

Json ladder_json(const BulkLadder& l) {
  return {{"part", l.part},
          {"candidate", l.candidate},
          {"quotation", l.quotation.empty() ? Json(nullptr) : Json(l.quotation)},
          {"shortage_cost", number(l.shortage_cost)},
          {"most_pieces", l.most ? Json(*l.most) : Json(nullptr)},
          {"asked", list(l.asked, asked_json)},
          {"rows", list(l.rows, row_json)},
          {"best", row_json(l.best)},
          {"repeated", maybe(l.repeated, repeated_json)}};
}

Json point_json(const BulkPoint& p) {
  return {{"wanted_pieces", p.wanted},
          {"quantity", p.quantity},
          {"landed", number(p.landed)},
          {"landed_per_used_piece", number(p.per_used)},
          {"expected_cost", number(p.cost)}};
}

Json offer_json(const BulkOffer& o) {
  return {{"part", o.part},
          {"candidate", o.candidate},
          {"supplier", o.supplier.empty() ? Json(nullptr) : Json(o.supplier)},
          {"quotation", o.quotation.empty() ? Json(nullptr) : Json(o.quotation)},
          {"best", row_json(o.best)},
          {"again_expected_cost", number(o.again)},
          {"points", list(o.points, point_json)}};
}

Json choice_json(const BulkChoice& c) {
  return {{"part", c.part},
          {"ladder", static_cast<int>(c.ladder)},
          {"way", c.again ? "again" : "once"},
          {"within_years", number(c.years)},
          {"expected_cost", number(c.cost)},
          {"other_way_expected_cost", number(c.other)}};
}

Json best_line_json(const BulkBest::Line& l) { return {{"supplier", l.supplier}, {"quantity", l.quantity}}; }

Json turn_json(const BulkTurn& t) {
  return {{"part", t.part},
          {"key", t.key},
          {"label", t.label},
          {"now", number(t.now)},
          {"turns_at", number(t.at)},
          {"candidate", t.best.candidate},
          {"quotation", t.best.quotation.empty() ? Json(nullptr) : Json(t.best.quotation)},
          {"way", t.best.again ? "again" : "once"},
          {"quantity", t.best.quantity},
          {"lines", list(t.best.lines, best_line_json)}};
}

Json swap_row_json(const SwapOut& s, const SwapOutRow& r) {
  return {{"units", r.units},
          {"cover_chance", number(r.cover)},
          {"at_hand_chance", number(r.at_hand)},
          {"short_units", number(r.short_units)},
          {"cover_at_first_chance", number(r.cover_at_first)},
          {"chosen", r.units == s.units},
          {"chosen_at_first", r.units == s.units_at_first}};
}

Json swap_out_json(const SwapOut& s) {
  Json rows = Json::array();
  for (const SwapOutRow& row : s.rows) rows.push_back(swap_row_json(s, row));
  return {{"units_per_week", number(s.per_week)},
          {"repair_days", number(s.repair_days)},
          {"away_units", number(s.mean_away)},
          {"broken_now_units", s.broken_now},
          {"units", s.units},
          {"units_at_first", s.units_at_first},
          {"rows", std::move(rows)}};
}

Json policy_json(const PolicyCost& p) {
  return {{"policy", name_of(p.policy)},
          {"openings", number(p.openings)},
          {"unplanned", number(p.unplanned)},
          {"pieces", number(p.pieces)},
          {"labour", number(p.labour)},
          {"parts", number(p.parts)},
          {"damage", number(p.risk)},
          {"downtime", number(p.downtime)},
          {"total", number(p.total)},
          {"standard_error", number(p.error)},
          {"can_be_done", p.can_be_done},
          {"cheapest", p.cheapest},
          {"more_than_cheapest", number(p.more)},
          {"more_standard_error", number(p.more_error)},
          {"equal_within_error", p.equal}};
}

Json policy_turn_json(const PolicyTurn& t) {
  return {{"shape", number(t.shape)},
          {"standard_error", number(t.error)},
          {"below", name_of(t.below)},
          {"above", name_of(t.above)}};
}

Json policies_json(const FleetPolicies& p) {
  return {{"years", number(p.years)},
          {"failures_next_year", number(p.failures_next_year)},
          {"failures_next_year_low", number(p.failures_low)},
          {"failures_next_year_high", number(p.failures_high)},
          {"policies", list(p.policies, policy_json)},
          {"shape_part", p.shape_part},
          {"shape", number(p.shape_now)},
          {"shape_from", number(p.shape_low)},
          {"shape_to", number(p.shape_high)},
          {"cheapest_at_shape_from", name_of(p.at_low)},
          {"cheapest_at_shape_to", name_of(p.at_high)},
          {"turns", list(p.turns, policy_turn_json)}};
}

Json use_json(const UseFit& f) {
  return {{"source", f.source},
          {"part", f.part},
          {"from", date_text(f.from)},
          {"to", date_text(f.to)},
          {"months", f.months},
          {"pieces", number(f.pieces)},
          {"per_month_pieces", number(f.rate)},
          {"per_month_standard_error", number(f.rate_error)},
          {"month_deviation_pieces", number(f.deviation)},
          {"law", f.size ? "negative_binomial" : "poisson"},
          {"size", number(f.size)},
          {"dispersion", number(f.dispersion)},
          {"degrees_of_freedom", number(f.degrees)},
          {"dispersion_p", number(f.p)},
          {"dispersion_level", number(f.level)}};
}

Json scenario_json(const BulkScenario& s) {
  return {{"name", s.name},
          {"kind", s.fleet ? "fleet" : "shop"},
          {"demand", list(s.demand, demand_json)},
          {"past_use", list(s.past_use, use_json)},
          {"ladders", list(s.ladders, ladder_json)},
          {"choices", list(s.choices, choice_json)},
          {"offers", list(s.offers, offer_json)},
          {"turns", list(s.turns, turn_json)},
          {"swap_out", swap_out_json(s.swap_out)},
          {"policies", maybe(s.policies, policies_json)}};
}

Json default_json(const BulkDefault& d) { return {{"key", d.key}, {"value", d.value}, {"source", d.source}}; }

}  // namespace

std::string bulk_json(const BulkAnswer& a) {
  const Json out = {{"schema", "mendworth.bulk"},
                    {"version", 1},
                    {"program_version", version()},
                    {"source_name", a.source_name},
                    {"device", a.device},
                    {"currency", a.currency},
                    {"minor_digits", a.minor_digits},
                    {"wanted_chance", number(a.cover)},
                    {"until_years", a.until > 0 ? number(a.until) : Json(nullptr)},
                    {"order_cost", number(a.order_cost)},
                    {"carrying_share_per_year", number(a.carrying_rate)},
                    {"scenarios", list(a.scenarios, scenario_json)},
                    {"notes", a.notes},
                    {"defaults", list(a.defaults, default_json)}};
  return out.text();
}

}  // namespace mendworth
