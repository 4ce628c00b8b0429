#include <string>

#include "mendworth/render.hpp"
#include "render/json_support.hpp"

// Keys that end in _cost are in the currency at the top, in _price in the supplier's, in _share are 0..1. The schema
// beside this file says what each means.
namespace mendworth {
namespace {

Json basket_json(const BasketAnswer& basket) {
  return {{"lines", list(basket.lines, bought_line_json)},
          {"landed_cost", number(basket.landed)},
          {"wait_days", number(basket.wait_days)},
          {"wait_cost", number(basket.wait_cost)},
          {"misfit_cost", number(basket.misfit_cost)},
          {"leftover_worth_cost", number(basket.leftover_worth)},
          {"net_cost", number(basket.net)},
          {"more_cost", number(basket.more)}};
}

Json faster_json(const FasterBasket& f) {
  return {{"basket", basket_json(f.basket)},
          {"saved_days", number(f.days_saved)},
          {"day_saved_cost", number(f.cost_per_day)}};
}

Json try_json(const TryOrder& t) {
  Json order = Json::array();
  for (std::size_t k = 0; k < t.candidates.size(); ++k)
    order.push_back({{"candidate", t.candidates[k]}, {"first_to_fit_share", number(t.fits[k])}});
  return {{"part", t.part}, {"order", order}};
}

Json hedge_json(const HedgeChoice& h) {
  return {{"part", h.part},
          {"first", h.first},
          {"second", h.second},
          {"alone", h.alone},
          {"misfit_share", number(h.misfit_chance)},
          {"extra_cost", number(h.costs)},
          {"saved_cost", number(h.saves)},
          {"pays", h.pays},
          {"pays_from_share", number(h.pays_from)}};
}

Json spare_json(const SpareRow& s) {
  return {{"spare", s.spare},
          {"worth_cost", number(s.worth)},
          {"elsewhere_cost", number(s.used_elsewhere)},
          {"use_share", number(s.used)}};
}

Json curve_json(const SpareCurve& c) {
  return {{"part", c.part},
          {"candidate", c.candidate},
          {"small_order_cost", number(c.small_order)},
          {"resale_cost", number(c.least)},
          {"spares", list(c.rows, spare_json)}};
}

Json ladder_row_json(const LadderRow& r) {
  return {{"pieces", r.quantity},
          {"supplier", r.supplier},
          {"supplier_currency", r.supplier_currency},
          {"each_price", number(r.each)},
          {"line_price", number(r.line)},
          {"order_cost", number(r.landed)},
          {"piece_cost", number(r.landed_each)},
          {"left_pieces", r.left_over},
          {"used_pieces", number(r.used)},
          {"left_worth_cost", number(r.worth)},
          {"net_cost", number(r.net)},
          {"chosen", r.chosen},
          {"remark", r.remark}};
}

Json ladder_json(const Ladder& l) {
  return {{"part", l.part},
          {"candidate", l.candidate},
          {"needed_pieces", l.needed},
          {"rows", list(l.rows, ladder_row_json)}};
}

Json range_json(const SupplierRange& r) {
  return {{"from_pieces", r.from}, {"supplier", r.supplier}, {"landed_cost", number(r.landed)}};
}

Json rate_json(const SupplierComparison::TurningRate& r) {
  return {{"supplier", r.supplier},
          {"against", r.other},
          {"exchange_rate", number(r.rate)},
          {"equal_at_exchange_rate", number(r.turning)}};
}

Json comparison_json(const SupplierComparison& c) {
  return {{"part", c.part},
          {"candidate", c.candidate},
          {"ranges", list(c.ranges, range_json)},
          {"exchange_rates", list(c.rates, rate_json)}};
}

Json charges_json(const OrderAnswer& order) {
  return {{"whole_cost", number(order.charged_whole)},
          {"pro_rata_cost", number(order.charged_pro_rata)},
          {"by_reuse_cost", number(order.charged_by_reuse)}};
}

}  // namespace

std::string buying_json(const Buying& b) {
  Json out = {
      {"schema", "mendworth.buying"},
      {"version", 1},
      {"program_version", version()},
      {"source_name", b.source_name},
      {"device", b.device},
      {"currency", b.currency},
      {"minor_digits", b.minor_digits},
      {"settings", {{"seed", b.settings.seed}, {"futures", b.settings.futures}}},
      {"plan", b.plan},
      {"repair_is_best", b.repair_is_best},
      {"best_course", b.best_course},
      {"baskets", list(b.baskets, basket_json)},
      {"proved", b.proved},
      {"bound_cost", number(b.bound)},
      {"one_supplier", maybe(b.one_supplier, basket_json)},
      {"faster", list(b.faster, faster_json)},
      {"charged", charges_json(b.order)},
      {"warnings", b.order.warnings},
      {"tries", list(b.tries, try_json)},
      {"hedges", list(b.hedges, hedge_json)},
      {"spares", list(b.spares, curve_json)},
      {"ladders", list(b.ladders, ladder_json)},
      {"suppliers", list(b.suppliers, comparison_json)},
      {"cautions", list(b.cautions, caution_json)},
      {"notes", b.notes},
  };
  return out.text();
}

}  // namespace mendworth
