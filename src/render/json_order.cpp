#include <string>
#include <vector>

#include "render/json_support.hpp"

namespace mendworth {

namespace {

/// A line with what is known of its fit.
struct FittedLine : OrderLine {
  FittedLine(const OrderLine& line_) : OrderLine(line_) {}
};

/// What every line says; its prices have the keys `each` and `total`.
template <class Line>
std::vector<MemberOf<Line>> line_members(const char* each, const char* total) {
  return {{"part", &Line::part, "kind of part, of the case"},
          {"candidate", &Line::candidate, "what is bought for it"},
          {"supplier", &Line::supplier, "from whom"},
          {"supplier_currency", &Line::supplier_currency, "ISO 4217"},
          {"needed_pieces", &Line::needed,
           "for the first visit; 0 for a second candidate, which is bought for the case of a misfit"},
          {"ordered_pieces", &Line::quantity, "to order", at_least(1)},
          {each, &Line::each, "of a piece, supplier's currency"},
          {total, &Line::line, "pieces times that and the line's fee, supplier's currency"},
          {"landed_cost", &Line::landed, "with its share of the order's costs"}};
}

}  // namespace

template <>
Shape<OrderLine>::Shape() : MemberTable("line") {
  for (const auto& member : line_members<R>("each_price", "line_price")) add(member);
}

template <>
Shape<FittedLine>::Shape() : MemberTable("order_line", "One line as it should be placed.") {
  for (const auto& member : line_members<R>("each_supplier_price", "line_supplier_price")) add(member);
  has({
      {"fit_share", &R::fit_chance, "chance that it fits, stated or derived from dimensions"},
      {"hedge_for", &R::hedge_for, "bought for the case that this candidate does not fit; empty: no hedge"},
  });
}

template <>
Shape<DimensionFit>::Shape() : MemberTable("dimension_fit", "The chance of fit in one measured dimension.") {
  has({
      {"name", &R::name, "name"},
      {"nominal_mm", &R::nominal, "catalogued; null: not catalogued, taken to fit"},
      {"measured_mm", &R::measured, "measured"},
      {"limit_mm", &R::limit, "greatest error of the measurement", at_least(0)},
      {"below_mm", &R::below, "a piece may be smaller than the true dimension by so much", at_least(0)},
      {"above_mm", &R::above, "or larger by so much", at_least(0)},
      {"fit_share", &R::chance, "chance that it fits in this dimension"},
  });
}

template <>
Shape<FitRow>::Shape() : MemberTable("fit", "Why a candidate fits or not, as far as dimensions tell.") {
  has({
      {"part", &R::part, "kind of part"},
      {"candidate", &R::candidate, "what serves as it"},
      {"fit_share", &R::chance, "chance that it fits: all else times every dimension"},
      {"all_else_share", &R::else_chance, "chance in what no dimension tells: stated, or the default"},
      {"dimensions", &R::dimensions, "as measured"},
  });
}

template <>
Shape<DrawerLine>::Shape() : MemberTable("drawer_line", "Pieces from the drawer that serve the visit now.") {
  has({
      {"part", &R::part, "kind of part"},
      {"candidate", &R::candidate, "what is in the drawer"},
      {"taken_pieces", &R::taken, "for the visit now"},
      {"on_hand_pieces", &R::on_hand, "before it"},
      {"worth_elsewhere_amount", &R::worth,
       "of the taken ones for other uses, had this device not come; present worth"},
  });
}

template <>
Shape<HedgeAnswer>::Shape() : MemberTable("hedge", "A second candidate ordered beside the first.") {
  has({
      {"misfit_share", &R::misfit_chance, "chance that it is needed, if fits are independent"},
      {"extra_cost", &R::cost, "more for the order, its wait included"},
      {"worth_amount", &R::worth,
       "expected present cost without its pieces, paid for alike, minus with them"},
  });
}

template <>
Shape<QuantityRow>::Shape()
    : MemberTable("quantity", "A quantity worth a look, the rest of the order as it is.") {
  has({
      {"part", &R::part, "kind of part"},
      {"candidate", &R::candidate, "what is bought for it"},
      {"supplier", &R::supplier, "name"},
      {"pieces", &R::quantity, "ordered"},
      {"each_supplier_price", &R::each, "supplier's currency"},
      {"landed_cost", &R::landed, "whole order"},
      {"landed_each_cost", &R::landed_each, "per piece"},
      {"chosen", &R::chosen, "the quantity of the order"},
      {"remark", &R::remark, "may be empty"},
  });
}

template <>
Shape<OrderAnswer>::Shape() : MemberTable("order", "What to order for the best repair.") {
  has({
      {"plan", &R::plan, "name of the option"},
      {"lines", [](const R& o) { return std::vector<FittedLine>(o.lines.begin(), o.lines.end()); },
       "by supplier"},
      {"fits", &R::fits, "all candidates of those ordered parts that have measured dimensions"},
      {"drawer", &R::drawer, "pieces taken for the visit now"},
      {"hedge", &R::hedge, "null: no second candidate is ordered"},
      {"quantities", &R::quantities, "rising"},
      {"goods_cost", &R::goods, "lines"},
      {"shipping_cost", &R::shipping, "all suppliers"},
      {"fees_cost", &R::fees, "low orders, customs handling"},
      {"duty_cost", &R::duty, "duty"},
      {"tax_cost", &R::tax, "tax"},
      {"exchange_fee_cost", &R::exchange_fee, "bank or card"},
      {"landed_cost", &R::landed, "sum"},
      {"wait_days", &R::wait_days, "slowest supplier"},
      {"leftover_pieces", &R::leftovers, "not used at the first visit"},
      {"leftover_amount", &R::leftover_value, "expected present cost without them minus with them"},
      {"charged_whole_cost", &R::charged_whole, "the order"},
      {"charged_pro_rata_cost", &R::charged_pro_rata, "by pieces used now"},
      {"charged_by_reuse_cost", &R::charged_by_reuse, "the order less the leftovers' worth"},
      {"warnings", &R::warnings, "sentences"},
  });
}

template <>
Shape<Weighing::Caution>::Shape() : MemberTable("caution", "A hazard of the case.") {
  has({
      {"hazard", &R::hazard, "name in the rates"},
      {"title", &R::title, "in words"},
      {"licensed_only", &R::licensed_only, "not for one's own hands"},
      {"sentences", &R::sentences, "the usual cautions"},
  });
}

}  // namespace mendworth
