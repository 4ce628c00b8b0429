#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "render/json_support.hpp"

// Keys that end in _cost are in the currency at the top, in _price in the supplier's, in _share are 0..1.
namespace mendworth {

template <>
Shape<BasketAnswer>::Shape() : MemberTable("basket") {
  has({
      {"lines", &R::lines, "what to order"},
      {"landed_cost", &R::landed, "all orders at the doorstep"},
      {"wait_days", &R::wait_days, "of the slowest supplier"},
      {"wait_cost", &R::wait_cost, "of these days"},
      {"misfit_cost", &R::misfit_cost, "expected: tries that fail, ordering again, giving up"},
      {"leftover_worth_cost", &R::leftover_worth,
       "expected: what pieces beyond the need save against buying them singly when they are wanted"},
      {"net_cost", &R::net, "landed + wait + misfit - worth of leftovers"},
      {"more_cost", &R::more, "net cost beyond the best basket's"},
  });
}

template <>
Shape<FasterBasket>::Shape() : MemberTable("faster") {
  has({
      {"basket", &R::basket},
      {"saved_days", &R::days_saved, "against the best basket"},
      {"day_saved_cost", &R::cost_per_day, "what each of them costs, days themselves counted at nothing"},
  });
}

namespace {

/// A candidate to be tried.
struct Try {
  std::string candidate;
  double first_to_fit = 0;
};

/// Three ways to charge an order to the job.
struct Charges {
  double whole = 0, pro_rata = 0, by_reuse = 0;
};

}  // namespace

template <>
Shape<Try>::Shape() : MemberTable("candidate") {
  has({
      {"candidate", &R::candidate, "to try"},
      {"first_to_fit_share", &R::first_to_fit, "chance that it is the first that fits"},
  });
}

template <>
Shape<TryOrder>::Shape() : MemberTable("try") {
  has({
      {"part", &R::part, "of the case"},
      {"order",
       [](const R& t) {
         std::vector<Try> order;
         for (std::size_t k = 0; k < t.candidates.size(); ++k) order.push_back({t.candidates[k], t.fits[k]});
         return order;
       },
       "in the order to try them"},
  });
}

template <>
Shape<Charges>::Shape() : MemberTable("charges") {
  has({
      {"whole_cost", &R::whole, "the order"},
      {"pro_rata_cost", &R::pro_rata, "by pieces used now"},
      {"by_reuse_cost", &R::by_reuse, "the order less what leftovers are worth"},
  });
}

template <>
Shape<BuySettings>::Shape() : MemberTable("settings") {
  has({
      {"seed", &R::seed, "of the random numbers"},
      {"futures", &R::futures, "to choose the plan", at_least(100)},
  });
}

template <>
Shape<HedgeChoice>::Shape() : MemberTable("hedge") {
  has({
      {"part", &R::part, "of the case"},
      {"first", &R::first, "candidate tried first"},
      {"second", &R::second, "candidate tried if the first does not fit"},
      {"alone", &R::alone, "candidate bought without the hedge: one of the two, or a third"},
      {"misfit_share", &R::misfit_chance, "chance that the one bought alone does not fit"},
      {"extra_cost", &R::costs, "landed and waiting, less worth of leftovers, beyond the best order without"},
      {"saved_cost", &R::saves, "in expectation"},
      {"pays", &R::pays, "saves more than it costs, and so is in the best basket"},
      {"pays_from_share", &R::pays_from,
       "misfit chance of the one bought alone from which on it pays; null: at none up to 1, or that one is a "
       "third"},
  });
}

template <>
Shape<SpareRow>::Shape() : MemberTable("spare") {
  has({
      {"spare", &R::spare, "1: the first piece beyond the need", at_least(1)},
      {"worth_cost", &R::worth, "of this piece"},
      {"elsewhere_cost", &R::used_elsewhere, "what it would be worth to other devices and jobs alone"},
      {"used_count", &R::used,
       "more pieces expected to be used within their shelf life thanks to it; above 1 where one failure "
       "wants several"},
  });
}

template <>
Shape<SpareCurve>::Shape() : MemberTable("spare_curve") {
  has({
      {"part", &R::part, "of the case"},
      {"candidate", &R::candidate, "of the best basket"},
      {"small_order_cost", &R::small_order,
       "to buy one when it is needed, wait included; no spare is worth more"},
      {"resale_cost", &R::least,
       "what one sells for at the horizon, today's money; 0 if it does not keep so long"},
      {"spares", &R::rows, "one after the other"},
  });
}

template <>
Shape<LadderRow>::Shape() : MemberTable("ladder_row") {
  has({
      {"pieces", &R::quantity, "of this candidate", at_least(1)},
      {"supplier", &R::supplier, "cheapest for so many"},
      {"supplier_currency", &R::supplier_currency, "ISO 4217"},
      {"each_price", &R::each, "supplier's currency"},
      {"line_price", &R::line, "supplier's currency"},
      {"order_cost", &R::landed, "whole order, landed"},
      {"piece_cost", &R::landed_each, "per piece, with the line's share by value of the order's costs"},
      {"left_pieces", &R::left_over, "beyond the need"},
      {"used_pieces", &R::used, "of those left, expected to be used within shelf life"},
      {"left_worth_cost", &R::worth, "worth of those left"},
      {"net_cost", &R::net, "whole order with waiting and misfit, less worth of leftovers"},
      {"chosen", &R::chosen, "as in the best basket"},
      {"remark", &R::remark, "more pieces for less money; or empty"},
  });
}

template <>
Shape<Ladder>::Shape() : MemberTable("ladder") {
  has({
      {"part", &R::part, "of the case"},
      {"candidate", &R::candidate, "of the best basket"},
      {"needed_pieces", &R::needed, "now", at_least(1)},
      {"rows", &R::rows, "by rising quantity"},
  });
}

template <>
Shape<SupplierRange>::Shape() : MemberTable("ranges") {
  has({
      {"from_pieces", &R::from, "until the next range begins", at_least(1)},
      {"supplier", &R::supplier, "cheapest from there on, waiting included"},
      {"landed_cost", &R::landed, "for that many pieces"},
  });
}

template <>
Shape<SupplierComparison::TurningRate>::Shape() : MemberTable("exchange_rates") {
  has({
      {"supplier", &R::supplier, "abroad"},
      {"against", &R::other, "the best supplier in another currency"},
      {"exchange_rate", &R::rate, "as in the case"},
      {"equal_at_exchange_rate", &R::turning, "where both cost the same for the pieces of the best basket"},
  });
}

template <>
Shape<SupplierComparison>::Shape() : MemberTable("comparison") {
  has({
      {"part", &R::part, "of the case"},
      {"candidate", &R::candidate, "of the best basket"},
      {"ranges", &R::ranges, "by rising quantity"},
      {"exchange_rates", &R::rates, "suppliers in a foreign currency"},
  });
}

template <>
Shape<Buying>::Shape() {
  has({
      {"source_name", &R::source_name, "the case file"},
      {"device", &R::device, "name"},
      {"currency", &R::currency, "ISO 4217; of every key that ends in _cost"},
      {"minor_digits", &R::minor_digits, "digits after the point in this currency"},
      {"settings", &R::settings},
      {"plan", &R::plan, "the repair that the pieces are for; empty where there is none"},
      {"repair_is_best", &R::repair_is_best, "no other course costs less"},
      {"best_course", &R::best_course, "the course of least cost"},
      {"baskets", &R::baskets, "best first; empty: nothing can be ordered, notes say why"},
      {"proved", &R::proved, "no basket costs less than the first"},
      {"bound_cost", &R::bound, "no basket costs less net"},
      {"one_supplier", &R::one_supplier, "the cheapest from a single supplier; null: none has all"},
      {"faster", &R::faster, "baskets that arrive earlier than the best, by rising wait"},
      {"charged",
       [](const R& b) {
         return Charges{b.order.charged_whole, b.order.charged_pro_rata, b.order.charged_by_reuse};
       },
       "the best basket charged to this job, three ways"},
      {"warnings", [](const R& b) { return b.order.warnings; },
       "more pieces for less money; a top-up that saves its shipping"},
      {"tries", &R::tries, "parts with a doubt"},
      {"hedges", &R::hedges, "second candidates bought at once"},
      {"spares", &R::spares, "what leftovers are worth"},
      {"ladders", &R::ladders, "quantities, the rest of the basket as it is"},
      {"suppliers", &R::suppliers, "who is cheapest for how many"},
      {"cautions", &R::cautions, "of the device's hazards"},
      {"notes", &R::notes, "sentences"},
  });
}

constexpr AnswerOf<Buying> buying_form{
    {.schema = "mendworth.buying",
     .version = 1,
     .meaning = "Answers of 'mendworth buy --format json'. Numbers are not rounded and "
                "always finite; _share is 0..1.",
     .beside = shape<Beside<WholeAnswer>>,
     .closed = true}};

std::string buying_json(const Buying& b) { return buying_form.json(b).text(); }

std::string compared_json(const Compared<Buying>& all) { return compared(buying_form, all); }

const std::string& buying_schema() { return buying_form.json_schema(); }

}  // namespace mendworth
