#include <string>

#include "mendworth/render.hpp"
#include "render/json_support.hpp"

// Keys that end in _pieces count pieces, in _years are years, in _days days, in _chance or _share are 0..1; what has no
// such end and is no name or count is money.
namespace mendworth {

namespace {

constexpr Allowed once_or_again = one_of({"once", "again"});

/// A row of units, and whether it is what is wanted.
struct SwapRow {
  SwapOutRow row;
  bool chosen = false;
  bool chosen_at_first = false;
};

}  // namespace

template <>
Shape<PartDemand>::Shape() : MemberTable("demand") {
  has({
      {"part", &R::part, "its name"},
      {"within_years", &R::years, "the period, cut at the shelf life"},
      {"shelf_life_years", &R::shelf_years, "how long a piece keeps"},
      {"now_pieces", &R::now, "wanted at once, by the devices that have failed"},
      {"mean_pieces", &R::mean, "expected within the period, with those"},
      {"deviation_pieces", &R::deviation, "standard deviation"},
      {"low_pieces", &R::low, "5 % of the outcomes are at most this"},
      {"median_pieces", &R::median, "50 %"},
      {"high_pieces", &R::high, "95 %"},
      {"per_year_pieces", &R::per_year, "a year, without those wanted at once"},
      {"drawer_pieces", &R::drawer, "at hand, used first: purchases are for what is wanted beyond"},
  });
}

template <>
Shape<UseFit>::Shape() : MemberTable("past_use", "what a record of past use told of a part") {
  has({
      {"source", &R::source, "the file"},
      {"part", &R::part, "its name"},
      {"from", &R::from, "the first day"},
      {"to", &R::to, "the last day"},
      {"months", &R::months, "of the calendar, those without use and those covered in part included"},
      {"pieces", &R::pieces, "used in all", at_least(0)},
      {"per_month_pieces", &R::rate, "the rate"},
      {"per_month_standard_error", &R::rate_error, "of the rate"},
      {"month_deviation_pieces", &R::deviation, "standard deviation of the pieces of one month"},
      {"law", [](const R& f) { return f.size ? "negative_binomial" : "poisson"; }, "of the pieces of a month",
       one_of({"poisson", "negative_binomial"})},
      {"size", &R::size, "k of the negative binomial law"},
      {"dispersion", &R::dispersion, "index of dispersion: sum of (count - expected)^2 / expected",
       at_least(0)},
      {"degrees_of_freedom", &R::degrees, "of chi-squared", at_least(0)},
      {"dispersion_p", &R::p, "chance of as much or more if the law is Poisson", between(0, 1)},
      {"dispersion_level", &R::level, "below it the law is negative binomial", between(0, 1)},
  });
}

template <>
Shape<BulkAsked>::Shape() : MemberTable("asked") {
  has({
      {"pieces", &R::pieces, "asked about"},
      {"instead_pieces", &R::instead,
       "of the row that stands for it: more that cost less, or fewer where the offers have no more; 0: none "
       "can be had"},
  });
}

template <>
Shape<BulkLine>::Shape() : MemberTable("line") {
  has({
      {"supplier", &R::supplier, "of whom"},
      {"quantity", &R::quantity, "pieces", at_least(1)},
      {"each", &R::each, "price of a piece, supplier's currency", at_least(0)},
      {"each_currency", &R::currency, "ISO 4217 code of 'each'"},
  });
}

template <>
Shape<BulkRow>::Shape() : MemberTable("row") {
  has({
      {"quantity", &R::quantity, "bought once; 0: nothing"},
      {"supplier",
       [](const R& r) { return r.lines.empty() ? std::nullopt : std::optional(r.lines.front().supplier); },
       "of the first line; null where nothing is bought"},
      {"each", [](const R& r) { return r.lines.empty() ? 0.0 : r.lines.front().each; },
       "price of a piece of the first line, supplier's currency", at_least(0)},
      {"each_currency", [](const R& r) { return r.lines.empty() ? r.currency : r.lines.front().currency; },
       "ISO 4217 code of 'each'"},
      {"lines", &R::lines, "the order, by supplier: more than one where no single offer has as many"},
      {"landed", &R::landed, "at the doorstep, all in", at_least(0)},
      {"landed_each", &R::landed_each, "per piece bought", at_least(0)},
      {"suffices_chance", &R::suffices, "that the pieces last for the period"},
      {"runs_out_chance", &R::runs_out_by, "that they run out before until_years; 0 where that is null"},
      {"short_pieces", &R::short_pieces, "expected to be missing within the period"},
      {"left_pieces", &R::left_pieces, "expected to be left at its end"},
      {"left_chance", &R::left_chance, "that any are left"},
      {"stock_years", &R::years_of_stock, "that the pieces last at the usual demand"},
      {"write_off", &R::write_off, "landed cost of the pieces expected to be left, less what they sell for"},
      {"landed_per_used_piece", &R::per_used,
       "landed cost, less what is left sells for, a piece that is used; 0: none is"},
      {"waiting", &R::waiting, "of the failed devices for this order", at_least(0)},
      {"ordering", &R::ordering, "placing the order", at_least(0)},
      {"keeping", &R::keeping, "of the pieces until they are used, at the carrying rate", at_least(0)},
      {"expected_cost", &R::cost, "purchase and shortage, less what is left sells for"},
      {"best", &R::best, "the quantity with the least expected cost of all that can be bought"},
  });
}

template <>
Shape<RepeatedOrders>::Shape() : MemberTable("repeated") {
  has({
      {"quantity", &R::quantity, "of each order", at_least(1)},
      {"supplier", [](const R& r) { return r.lines.front().supplier; }, "of the first line"},
      {"lines", &R::lines, "the order, by supplier: more than one where no single offer has as many"},
      {"landed", &R::landed, "of one order", at_least(0)},
      {"orders_per_year", &R::orders_per_year, "how often", at_least(0)},
      {"purchase_per_year", &R::purchase, "landed pieces", at_least(0)},
      {"ordering_per_year", &R::ordering, "placing and booking orders", at_least(0)},
      {"carrying_per_year", &R::carrying, "keeping stock", at_least(0)},
      {"total_per_year", &R::total, "all three", at_least(0)},
      {"lead_days", &R::lead_days, "from order to doorstep"},
      {"reorder_point_pieces", &R::reorder_point, "order when so many are left"},
      {"reorder_suffices_chance", &R::reorder_cover, "that they last the lead time"},
      {"expected_cost", &R::cost, "over the period of the single purchase, from the first order on"},
  });
}

template <>
Shape<BulkLadder>::Shape() : MemberTable("ladder") {
  has({
      {"part", &R::part, "its name"},
      {"candidate", &R::candidate, "what is bought for it"},
      {"quotation", [](const R& l) { return if_said(l.quotation); }, "the file; null: the case's own offers"},
      {"shortage_cost", &R::shortage_cost, "of a piece that is missing", at_least(0)},
      {"most_pieces", &R::most, "that the offers have between them; null: no limit is known"},
      {"asked", &R::asked, "the quantities that were asked about"},
      {"rows", &R::rows, "rising quantities, each the cheapest way to at least so many pieces"},
      {"best", &R::best},
      {"repeated", &R::repeated},
  });
}

template <>
Shape<BulkChoice>::Shape()
    : MemberTable("choice", "what to do about a part: the way that costs less over the same period") {
  has({
      {"part", &R::part, "its name"},
      {"ladder", &R::ladder, "index into ladders"},
      {"way", [](const R& c) { return c.again ? "again" : "once"; }, "bought once, or again and again",
       once_or_again},
      {"within_years", &R::years, "the period"},
      {"expected_cost", &R::cost, "over the period"},
      {"other_way_expected_cost", &R::other, "the least of the other way"},
  });
}

template <>
Shape<BulkPoint>::Shape() : MemberTable("offer_point", "one quantity of an offer") {
  has({
      {"wanted_pieces", &R::wanted, "the same for all offers"},
      {"quantity", &R::quantity, "that it then brings; 0: it cannot"},
      {"landed", &R::landed, "at the doorstep", at_least(0)},
      {"landed_per_used_piece", &R::per_used, "less what is left sells for, a piece that is used"},
      {"expected_cost", &R::cost, "over the period"},
  });
}

template <>
Shape<BulkOffer>::Shape()
    : MemberTable("offer",
                  "one supplier's or quotation's prices of a candidate, as if there were no others") {
  has({
      {"part", &R::part, "its name"},
      {"candidate", &R::candidate, "its name"},
      {"supplier", [](const R& o) { return if_said(o.supplier); }, "null: a quotation"},
      {"quotation", [](const R& o) { return if_said(o.quotation); }, "null: the case's own"},
      {"best", &R::best},
      {"again_expected_cost", &R::again, "of the best repeated orders over the period"},
      {"points", &R::points},
  });
}

template <>
Shape<BulkBest::Line>::Shape() : MemberTable("best_line") {
  has({
      {"supplier", &R::supplier, "its name"},
      {"quantity", &R::quantity, "pieces"},
  });
}

template <>
Shape<BulkBest>::Shape() {
  has({
      {"candidate", &R::candidate, "of the purchase that becomes best; empty: nothing is bought"},
      {"quotation", [](const R& b) { return if_said(b.quotation); }, "null: the case's own offers"},
      {"way", [](const R& b) { return b.again ? "again" : "once"; }, "bought once, or again and again",
       once_or_again},
      {"quantity", &R::quantity, "of one order"},
      {"lines", &R::lines},
  });
}

template <>
Shape<BulkTurn>::Shape()
    : MemberTable("turn",
                  "a value at which another purchase becomes best, the nearest to today's on its side") {
  has({
      {"part", &R::part, "its name"},
      {"key", &R::key,
       "of the case, as --set has it; devices, jobs_per_month: the options; past_use: a factor"},
      {"label", &R::label, "in words"},
      {"now", &R::now, "today's value; of a supplier's shipping the first price above 0"},
      {"turns_at", &R::at, "there it is best; just before, today's is"},
      {&R::best},
  });
}

template <>
Shape<SwapOutRow>::Shape() {
  has({
      {"units", &R::units, "kept to be swapped in"},
      {"cover_chance", &R::cover, "that no place is without a unit"},
      {"at_hand_chance", &R::at_hand, "that the next one to fail finds a unit on the shelf"},
      {"short_units", &R::short_units, "places without a unit, on average"},
      {"cover_at_first_chance", &R::cover_at_first,
       "that none is without until those that are broken now are back"},
  });
}

template <>
Shape<SwapRow>::Shape() : MemberTable("swap_out_row") {
  has({
      {&R::row},
      {"chosen", &R::chosen, "the fewest with the wanted cover later on"},
      {"chosen_at_first", &R::chosen_at_first, "the fewest with it until those that are broken now are back"},
  });
}

template <>
Shape<SwapOut>::Shape() : MemberTable("swap_out") {
  has({
      {"units_per_week", &R::per_week, "that come in", at_least(0)},
      {"repair_days", &R::repair_days, "turnaround of one"},
      {"away_units", &R::mean_away, "in repair at a time"},
      {"broken_now_units", &R::broken_now, "away from the start, for repair_days"},
      {"units", &R::units, "the fewest with the wanted chance, once those broken now are back"},
      {"units_at_first", &R::units_at_first, "the fewest until then"},
      {"rows",
       [](const R& s) {
         std::vector<SwapRow> rows;
         for (const SwapOutRow& row : s.rows)
           rows.push_back({row, row.units == s.units, row.units == s.units_at_first});
         return rows;
       },
       "around the wanted cover"},
  });
}

template <>
Shape<PolicyCost>::Shape() : MemberTable("policy") {
  has({
      {"policy", &R::policy},
      {"openings", &R::openings, "of all devices", at_least(0)},
      {"unplanned", &R::unplanned, "after a failure in use", at_least(0)},
      {"pieces", &R::pieces, "used", at_least(0)},
      {"labour", &R::labour, "present cost; openings and positions follow the learning curve", at_least(0)},
      {"parts", &R::parts, "landed, bought in one order now", at_least(0)},
      {"damage", &R::risk, "mending, consumables, lost devices with set-up and delivery of others"},
      {"downtime", &R::downtime, "of unplanned openings, and the wait of the failed devices for the order",
       at_least(0)},
      {"total", &R::total, "present cost"},
      {"standard_error", &R::error, "of total"},
      {"can_be_done", &R::can_be_done, "the offers have the pieces that are wanted at once"},
      {"cheapest", &R::cheapest, "of those that can be done"},
      {"more_than_cheapest", &R::more, "cost above the cheapest"},
      {"more_standard_error", &R::more_error, "of that, over the same futures"},
      {"equal_within_error", &R::equal, "can be done, and costs more by no more than two of these errors"},
  });
}

template <>
Shape<PolicyTurn>::Shape() : MemberTable("policy_turn") {
  has({
      {"shape", &R::shape, "where the cheapest policy changes", at_least(0)},
      {"standard_error", &R::error, "of that shape"},
      {"below", &R::below},
      {"above", &R::above},
  });
}

template <>
Shape<FleetPolicies>::Shape() : MemberTable("policies") {
  has({
      {"years", &R::years, "the period", at_least(0)},
      {"failures_next_year", &R::failures_next_year, "expected, of all parts", at_least(0)},
      {"failures_next_year_low", &R::failures_low, "5 % of the outcomes are at most this", at_least(0)},
      {"failures_next_year_high", &R::failures_high, "95 %", at_least(0)},
      {"policies", &R::policies, "the three policies", at_least(3)},
      {"shape_part", &R::shape_part, "the part whose shape is told; the others' change in proportion"},
      {"shape", &R::shape_now, "Weibull shape of that part, at base: there the costs are those of 'policies'",
       at_least(0)},
      {"shape_from", &R::shape_low, "scanned from", at_least(0)},
      {"shape_to", &R::shape_high, "scanned to", at_least(0)},
      {"cheapest_at_shape_from", &R::at_low},
      {"cheapest_at_shape_to", &R::at_high},
      {"turns", &R::turns, "rising shapes"},
  });
}

template <>
Shape<BulkScenario>::Shape() : MemberTable("scenario") {
  has({
      {"name", &R::name, "what is wanted by whom"},
      {"kind", [](const R& s) { return s.fleet ? "fleet" : "shop"; }, "", one_of({"fleet", "shop"})},
      {"demand", &R::demand, "by part"},
      {"past_use", &R::past_use, "where the demand is from a record"},
      {"ladders", &R::ladders, "by candidate and offer"},
      {"choices", &R::choices},
      {"offers", &R::offers, "of parts that have more than one"},
      {"turns", &R::turns, "exchange rates, shipping, shelf life and demand"},
      {"swap_out", &R::swap_out},
      {"policies", &R::policies},
  });
}

template <>
Shape<BulkDefault>::Shape() : MemberTable("default") {
  has({
      {"key", &R::key, "of the case"},
      {"value", &R::value, "as shown"},
      {"source", &R::source, "where the figure comes from"},
  });
}

template <>
Shape<BulkAnswer>::Shape() {
  has({
      {"source_name", &R::source_name, "the case file"},
      {"device", &R::device, "what it is"},
      {"currency", &R::currency, "ISO 4217 code of all money without another"},
      {"minor_digits", &R::minor_digits, "digits after the point"},
      {"wanted_chance", &R::cover, "that stock and swap-out units suffice"},
      {"until_years", [](const R& a) { return a.until > 0 ? std::optional(a.until) : std::nullopt; },
       "running out before then is asked about"},
      {"order_cost", &R::order_cost, "to place and book one order", at_least(0)},
      {"carrying_share_per_year", &R::carrying_rate, "cost of keeping stock, of its value", at_least(0)},
      {"scenarios", &R::scenarios, "one for each demand", at_least(1)},
      {"notes", &R::notes, "sentences"},
      {"defaults", &R::defaults, "that filled gaps and bear on the answers"},
  });
}

constexpr AnswerOf<BulkAnswer> bulk_form{
    {.schema = "mendworth.bulk",
     .version = 1,
     .meaning = "Answers of 'mendworth bulk --format json'. Money is in the case's currency "
                "unless a key says otherwise, not rounded; numbers are always finite; _chance "
                "and _share are 0..1; null is what does not exist.",
     .beside = shape<Beside<WholeAnswer>>}};

std::string bulk_json(const BulkAnswer& answer) { return bulk_form.json(answer).text(); }

std::string compared_json(const Compared<BulkAnswer>& all) { return compared(bulk_form, all); }

const std::string& bulk_schema() { return bulk_form.json_schema(); }

}  // namespace mendworth
