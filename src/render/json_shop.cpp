#include <string>

#include "mendworth/render.hpp"
#include "render/json_quote.hpp"

// Keys that end in _cost and _margin are expectations in units of the currency at the top, those in _share 0..1, those in
// _chance probabilities.
namespace mendworth {

namespace {

Json whole(const ShopPage& page);

}  // namespace

template <>
Shape<JobCost>::Shape() : MemberTable("cost") {
  has({
      {"labour_cost", &R::labour, "as planned"},
      {"order_cost", &R::order, "landed"},
      {"consumables_cost", &R::consumables, "solder, cleaner and the like"},
      {"stock_cost", &R::stock, "worth of parts on hand before, less after: negative where leftovers gain"},
      {"rework_cost", &R::rework, "bad luck on the bench"},
      {"warranty_cost", &R::warranty, "returns of new pieces within the warranty"},
      {"come_back_cost", &R::come_back, "returns of the work within the warranty"},
      {"liability_cost", &R::liability, "devices lost on the bench"},
      {"total_cost", [](const R& c) { return c.total(); }, "of the above"},
  });
}

template <>
Shape<ReserveRow>::Shape() : MemberTable("reserve") {
  has({
      {"days", &R::days, "length of the warranty"},
      {"returns", &R::returns, "expected, of new pieces", at_least(0)},
      {"reserve_cost", &R::reserve, "expected cost of these and of complaints of the work, per job taken on"},
      {"mates_failing", &R::mates_failing, "expected failures of old mates in that time, not covered",
       at_least(0)},
      {"offered", &R::offered, "the shop's own warranty"},
  });
}

template <>
Shape<OrderRow>::Shape() : MemberTable("order_row") {
  has({
      {"supplier", &R::supplier, "empty: the shop's own drawer"},
      {"item", &R::item, "name of the candidate"},
      {"pieces", &R::pieces},
      {"goods_cost", &R::cost, "with the tax on the goods, without shipping; 0 from the drawer"},
  });
}

template <>
Shape<MarginRow>::Shape() : MemberTable("move") {
  has({
      {"key", &R::key, "of the input"},
      {"label", &R::label, "its words"},
      {"low", &R::low, "value of the input"},
      {"base", &R::base, "value of the input"},
      {"high", &R::high, "value of the input"},
      {"low_margin", &R::margin_low, "margin at low"},
      {"high_margin", &R::margin_high, "margin at high"},
      {"swing_margin", &R::swing, "between the two"},
      {"uncertain", &R::uncertain, "a range; else the ends are -20 % and +20 %"},
  });
}

template <>
Shape<DiagnosisAnswer>::Shape() : MemberTable("diagnosis") {
  has({
      {"fee", &R::fee, "without tax, in units of the currency at the top", at_least(0)},
      {"credited", &R::credited, "not charged if the job goes ahead"},
      {"bench_cost", &R::cost, "of the time on the bench"},
      {"walk_away_low_share", &R::walk_away_low, "of customers who do not go ahead"},
      {"walk_away_share", &R::walk_away, "of customers who do not go ahead"},
      {"walk_away_high_share", &R::walk_away_high, "of customers who do not go ahead"},
      {"walk_away_known", &R::walk_away_known, "else a range is looked at"},
      {"intake_margin", &R::income_per_intake, "of one device brought in"},
      {"intake_low_margin", &R::income_low, "at one end of the share"},
      {"intake_high_margin", &R::income_high, "at the other end"},
      {"break_even_fee", &R::break_even_fee,
       "of no expected loss per intake, without tax; null: none is enough"},
      {"turning_share", &R::turning_share,
       "share of walk-aways at which an intake earns nothing; null: none"},
  });
}

template <>
Shape<CeilingRow>::Shape() : MemberTable("ceiling") {
  has({
      {"confidence_share", &R::confidence, "of repaired jobs whose charge by time stays within"},
      {"charge", &R::charge},
      {"chosen", &R::chosen, "it is the consent limit"},
  });
}

template <>
Shape<PageCaution>::Shape() : MemberTable("caution") {
  has({
      {"title", &R::title},
      {"sentences", &R::sentences},
  });
}

template <>
Shape<ShopChoice>::Shape()
    : MemberTable("choice",
                  "to_pay, consent_limit: as on the customer's page. income: if it is repaired, without tax. "
                  "lowest_price: no expected loss; target_price: for the target margin; no_fee_price: the "
                  "same if nothing is charged without a cure; each without tax, and with _total as the "
                  "customer would read it; null: there is none") {
  has({
      {"kind", &R::kind, "failed parts only; with the mates of the same part; every original part"},
      {"title", &R::title},
      {"cure_chance", &R::cure_chance, "that it is repaired"},
      {"lost_chance", &R::lost_chance, "that the device is lost on the bench"},
      {"to_pay", &R::to_pay},
      {"consent_limit", &R::consent_limit},
      {"income", &R::income},
      {"no_cure_income", &R::no_cure_income, "if it is not repaired, without tax"},
      {"expected_income", &R::expected_income, "without tax"},
      {"cost", &R::cost},
      {"expected_margin", &R::margin, "expected income less cost"},
      {"expected_margin_error", &R::margin_error, "one standard error of the simulation"},
      {"margin_share", &R::margin_share, "of the expected income; null where that is 0", any_number},
      {"loss_chance", &R::loss_chance, "of a margin below 0"},
      {"p10_margin", &R::margin_p10, "one job in ten is below"},
      {"p50_margin", &R::margin_p50, "the middle"},
      {"p90_margin", &R::margin_p90, "one job in ten is above"},
      {"planned_minutes", &R::minutes_planned, "on the bench"},
      {"p10_minutes", &R::minutes_p10, "on the bench"},
      {"p50_minutes", &R::minutes_p50, "on the bench"},
      {"p90_minutes", &R::minutes_p90, "on the bench"},
      {"lowest_price", &R::lowest_price},
      {"lowest_price_total", &R::lowest_price_total},
      {"target_price", &R::target_price},
      {"target_price_total", &R::target_price_total},
      {"no_fee_price", &R::no_fee_price},
      {"no_fee_price_total", &R::no_fee_price_total},
      {"reserves", &R::reserves, "by length of warranty"},
      {"order", &R::order, "what the job takes from the drawer and what it orders"},
      {"leftover_pieces", &R::leftover_pieces, "that the order leaves if all goes well"},
      {"leftover_value", &R::leftover_value, "in units of the currency at the top"},
      {"ceilings", &R::ceilings, "what is to pay if labour is charged by time"},
      {"overrun_chance", &R::overrun_chance, "that the charge by time is above the quoted sum to pay"},
      {"over_limit_chance", &R::over_limit_chance, "that it is above the consent limit"},
      {"owner_saving", &R::owner_saving, "of the owner against the best alternative; null: not known"},
      {"owner_saving_with_subsidy", &R::owner_saving_with_subsidy, "null: no subsidy"},
      {"moves", &R::moves, "widest first; of the proposed choice only"},
  });
}

template <>
Shape<ShopWhatIf>::Shape() : MemberTable("what_if") {
  has({
      {"name", &R::name, "of the what-if"},
      {"changes", &R::changes, "of the case"},
      {"refused", [](const R& what_if) { return if_said(what_if.refused); }, "why it must not be quoted"},
      {"answer",
       [](const R& what_if) {
         return what_if.page ? std::optional(WholeAnswer{whole(*what_if.page)}) : std::nullopt;
       },
       "a whole document of this schema, as the changed case has it alone"},
  });
}

template <>
Shape<ShopPage>::Shape() {
  has({
      {"source_name", &R::source_name, "the case's file"},
      {"shop_source", &R::shop_source, "the shop's file; empty: none"},
      {"number", &R::number, "of the record; null: a draft"},
      {"date", &R::date, "YYYY-MM-DD"},
      {"currency", &R::currency},
      {"device", &R::device},
      {"seed", &R::seed, "of the random numbers"},
      {"futures", &R::futures, "simulated"},
      {"charge_rate_per_hour", &R::charge_rate, "in units of the currency at the top", at_least(0)},
      {"cost_rate_per_hour", &R::cost_rate,
       "what an hour costs the shop, in units of the currency at the top", at_least(0)},
      {"target_margin_share", &R::target_margin, "of the income"},
      {"warranty_days", &R::warranty_days, "0: none"},
      {"horizon_years", &R::horizon_years, "that the owner looks ahead"},
      {"owner_verdict", &R::owner_verdict, "sentence: what the repair is worth to the owner at this price"},
      {"choices", &R::choices, "in the order of the customer's page"},
      {"proposed", &R::proposed, "index of the recommended choice, from 0"},
      {"diagnosis", &R::diagnosis},
      {"cautions", &R::cautions, "the usual ones for the hazards of the device"},
      {"defaults", &R::defaults, "what the shop file left out"},
      {"notes", &R::notes},
      {"beside", &R::what_ifs, "only where the case has what-ifs: the job under each", left_out_if_none},
  });
}

namespace {

constexpr AnswerOf<ShopPage> shop_form{
    {.schema = "mendworth.quote-at-cost",
     .version = 1,
     .meaning =
         "What 'mendworth quote CASE --shop-page FILE.json' writes: the same job as the shop sees it, "
         "without "
         "the taxes that pass through. Keys that end in _cost and _margin are expectations in units of the "
         "currency at the top, unrounded; those in _share and _chance are 0..1; sums that would stand on a "
         "bill are whole minor units with a text."}};

Json whole(const ShopPage& page) { return shop_form.json(page, {page.currency, page.style}); }

}  // namespace

std::string shop_json(const ShopPage& page) { return whole(page).text(); }

const std::string& shop_schema() { return shop_form.json_schema(); }

}  // namespace mendworth
