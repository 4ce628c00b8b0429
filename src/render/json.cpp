#include <functional>
#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "render/again_words.hpp"
#include "render/answer_words.hpp"
#include "render/json_knowing.hpp"
#include "render/json_support.hpp"

// Keys name their units: _years, _days, _minutes, _share (0..1); money, in the
// currency named at the top unless said otherwise, ends in _cost, _price or
// _amount. The schema beside this file says what each means.
namespace mendworth {

namespace {

Json text(const std::optional<std::string>& value) { return value ? Json(*value) : Json(nullptr); }
Json date(const std::optional<Date>& value) { return value ? Json(date_text(*value)) : Json(nullptr); }

const char* word(OptionKind kind) {
  switch (kind) {
    case OptionKind::repair: return "repair";
    case OptionKind::replacement: return "replacement";
    case OptionKind::leave: return "leave";
    case OptionKind::licensed_repair: return "licensed_repair";
    case OptionKind::claim: return "claim";
  }
  return "";
}

Json settings_json(const WeighSettings& s) {
  return {{"seed", s.seed}, {"futures", s.futures}, {"today", date(s.today)}};
}

Json verdict_json(const Verdict& v) {
  return {{"kind", word(v.kind)},
          {"confidence", word(v.confidence)},
          {"best", v.best},
          {"best_repair", text(v.best_repair)},
          {"best_replacement", text(v.best_replacement)},
          {"saving_amount", number(v.saving)},
          {"saving_error_amount", number(v.saving_error)},
          {"repair_cheaper_share", number(v.repair_cheaper_share)},
          {"saving_p10_amount", number(v.saving_p10)},
          {"saving_p50_amount", number(v.saving_p50)},
          {"saving_p90_amount", number(v.saving_p90)},
          {"lead_amount", number(v.lead)},
          {"lead_error_amount", number(v.lead_error)},
          {"agreeing_share", number(v.agreeing_share)},
          {"lead_over", text(v.lead_over)}};
}

Json cost_parts_json(const CostParts& p) {
  return {{"parts_cost", number(p.parts)},
          {"shipping_cost", number(p.shipping)},
          {"labour_cost", number(p.labour)},
          {"risk_cost", number(p.risk)},
          {"later_visits_cost", number(p.later_visits)},
          {"next_device_cost", number(p.next_device)},
          {"purchase_cost", number(p.purchase)},
          {"downtime_cost", number(p.downtime)},
          {"burden_cost", number(p.burden)},
          {"keepsake_cost", number(p.keepsake)},
          {"leftovers_cost", number(p.leftovers)},
          {"resale_cost", number(p.resale)},
          {"benefit_cost", number(p.benefit)}};
}

Json again_json(const AgainRule& a) {
  return {{"part", a.part},
          {"spare_at_hand", a.spare_at_hand},
          {"repairs_before", a.repairs_before},
          {"from_years", number(a.from_years)},
          {"to_years", number(a.to_years)}};
}

Json option_json(const OptionResult& o) {
  return {{"kind", word(o.kind)},
          {"name", o.name},
          {"family", o.family},
          {"with", o.with},
          {"mates_later", o.mates_later},
          {"renewed_now", o.renewed_now},
          {"cash_now_cost", number(o.cash_now)},
          {"own_time_now_minutes", number(o.minutes_now)},
          {"now_cost", number(o.cost_now)},
          {"present_cost", number(o.present_cost)},
          {"present_error_cost", number(o.present_cost_error)},
          {"futures", o.futures},
          {"per_year_cost", number(o.cost_per_year)},
          {"paid_within_1_year_cost", number(o.cash_within[0])},
          {"paid_within_3_years_cost", number(o.cash_within[1])},
          {"paid_within_5_years_cost", number(o.cash_within[2])},
          {"made_of", cost_parts_json(o.parts)},
          {"damage_share", number(o.damage_chance)},
          {"write_off_share", number(o.write_off_chance)},
          {"cure_share", number(o.cure_chance)},
          {"later_visits_expected", number(o.later_visits_expected)},
          {"second_device_share", number(o.second_device_chance)},
          {"unknown_price_weight", number(o.price_weight)},
          {"again", list(o.again, again_json)},
          {"later_rule", o.again.empty() ? Json(nullptr) : Json(again_words(o.again))}};
}

Json order_line_json(const OrderLine& l) {
  Json out = bought_line_json(l, "each_supplier_price", "line_supplier_price");
  out.add("fit_share", number(l.fit_chance));
  out.add("hedge_for", l.hedge_for);
  return out;
}

Json dimension_fit_json(const DimensionFit& d) {
  return {{"name", d.name},
          {"nominal_mm", d.nominal ? number(*d.nominal) : Json()},
          {"measured_mm", number(d.measured)},
          {"limit_mm", number(d.limit)},
          {"below_mm", number(d.below)},
          {"above_mm", number(d.above)},
          {"fit_share", number(d.chance)}};
}

Json fit_json(const FitRow& f) {
  return {{"part", f.part},
          {"candidate", f.candidate},
          {"fit_share", number(f.chance)},
          {"all_else_share", number(f.else_chance)},
          {"dimensions", list(f.dimensions, dimension_fit_json)}};
}

Json drawer_line_json(const DrawerLine& l) {
  return {{"part", l.part},
          {"candidate", l.candidate},
          {"taken_pieces", l.taken},
          {"on_hand_pieces", l.on_hand},
          {"worth_elsewhere_amount", number(l.worth)}};
}

Json hedge_json(const HedgeAnswer& h) {
  return {{"misfit_share", number(h.misfit_chance)},
          {"extra_cost", number(h.cost)},
          {"worth_amount", number(h.worth)}};
}

Json quantity_row_json(const QuantityRow& q) {
  return {{"part", q.part},
          {"candidate", q.candidate},
          {"supplier", q.supplier},
          {"pieces", q.quantity},
          {"each_supplier_price", number(q.each)},
          {"landed_cost", number(q.landed)},
          {"landed_each_cost", number(q.landed_each)},
          {"chosen", q.chosen},
          {"remark", q.remark}};
}

Json order_json(const OrderAnswer& o) {
  return {{"plan", o.plan},
          {"lines", list(o.lines, order_line_json)},
          {"fits", list(o.fits, fit_json)},
          {"drawer", list(o.drawer, drawer_line_json)},
          {"hedge", maybe(o.hedge, hedge_json)},
          {"quantities", list(o.quantities, quantity_row_json)},
          {"goods_cost", number(o.goods)},
          {"shipping_cost", number(o.shipping)},
          {"fees_cost", number(o.fees)},
          {"duty_cost", number(o.duty)},
          {"tax_cost", number(o.tax)},
          {"exchange_fee_cost", number(o.exchange_fee)},
          {"landed_cost", number(o.landed)},
          {"wait_days", number(o.wait_days)},
          {"leftover_pieces", o.leftovers},
          {"leftover_amount", number(o.leftover_value)},
          {"charged_whole_cost", number(o.charged_whole)},
          {"charged_pro_rata_cost", number(o.charged_pro_rata)},
          {"charged_by_reuse_cost", number(o.charged_by_reuse)},
          {"warnings", o.warnings}};
}

Json evidence_json(const PartEvidence& e) {
  return {{"part", e.part},
          {"life_unit", name_of(e.unit)},
          {"failures", e.failures},
          {"survivors", e.survivors},
          {"prior_median_life", number(e.prior_median)},
          {"posterior_median_life", number(e.posterior_median)},
          {"posterior_low_life", number(e.posterior_low)},
          {"posterior_high_life", number(e.posterior_high)},
          {"prior_median_years", number(e.prior_median_years)},
          {"posterior_median_years", number(e.posterior_median_years)},
          {"failed_at_rated_share", number(e.failed_at_rated)},
          {"failed_after_years", number(e.failed_after_years)},
          {"expected_years", number(e.expected_years)},
          {"early_failure_share", number(e.early_chance)},
          {"wear_hardly_explains", e.wear_hardly_explains()},
          {"prior_failure_within_one_year_share", number(e.prior_chance_one_year)},
          {"failure_within_one_year_share", number(e.chance_one_year)}};
}

Json another_cause_json(const AnotherCause& other) {
  return {{"cause", name_of(other.cause)},
          {"futures", other.futures},
          {"verdict", verdict_json(other.verdict)},
          {"repair_pays_from_amount", number(other.repair_pays_from)}};
}

Json cause_json(const CauseAnswer& cause) {
  return {{"kind", name_of(cause.cause)},
          {"common_cause_share", number(cause.common_chance)},
          {"common_cause_years", number(cause.common_years)}};
}

Json survivor_json(const SurvivorRow& s) {
  const auto renewal = [&](double SurvivorRow::Renewal::*member) {
    return s.renewal ? number((*s.renewal).*member) : Json();
  };
  return {{"position", s.position},
          {"part", s.part},
          {"count", s.count},
          {"use_share", number(s.share)},
          {"prior_failure_share", number(s.prior_chance)},
          {"failure_share", number(s.chance)},
          {"failure_within_one_year_share", number(s.chance_one_year)},
          {"renew_now_cost", renewal(&SurvivorRow::Renewal::now_cost)},
          {"later_opening_cost", renewal(&SurvivorRow::Renewal::later_cost)},
          {"later_opening_uses_spare", s.renewal ? Json(s.renewal->later_uses_spare) : Json(nullptr)},
          {"break_even_share", renewal(&SurvivorRow::Renewal::break_even_chance)}};
}

Json interval_json(const Interval& i) {
  return {{"low_value", number(i.low)}, {"high_value", number(i.high)}};
}

Json break_even_json(const BreakEven& b) {
  Json values = Json::array();
  for (const double value : b.values) values.push_back(number(value));
  return {{"key", b.key},
          {"label", b.label},
          {"current_value", number(b.current)},
          {"low_value", number(b.low)},
          {"high_value", number(b.high)},
          {"turning_values", values},
          {"turning_intervals", list(b.intervals, interval_json)},
          {"saving_at_low_amount", number(b.saving_low)},
          {"saving_at_high_amount", number(b.saving_high)}};
}

Json sensitivity_json(const SensitivityRow& s) {
  return {{"key", s.key},
          {"label", s.label},
          {"low_value", number(s.low)},
          {"base_value", number(s.base)},
          {"high_value", number(s.high)},
          {"saving_at_low_amount", number(s.saving_low)},
          {"saving_at_low_error_amount", number(s.low_error)},
          {"saving_at_high_amount", number(s.saving_high)},
          {"saving_at_high_error_amount", number(s.high_error)},
          {"swing_amount", number(s.swing)},
          {"turns_verdict", s.turns},
          {"range_stated", s.uncertain},
          {"from_default", s.from_default}};
}

Json half_price_json(const HalfPriceRule& h) {
  return {{"repair_now_cost", number(h.repair_cost_now)},
          {"new_price", number(h.new_price)},
          {"ratio_share", number(h.ratio)},
          {"says_repair", h.says_repair},
          {"agrees", h.agrees},
          {"reason", h.reason}};
}

Json payback_json(const Payback& p) {
  return {{"needed_years", number(p.years_needed)}, {"ahead_from_years", number(p.ahead_from_years)}};
}

Json own_time_json(const OwnTime& o) {
  return {{"rate_per_hour_price", number(o.rate)},
          {"saving_cash_only_amount", number(o.saving_cash_only)},
          {"saving_with_time_amount", number(o.saving_with_time)},
          {"turning_rate_per_hour_price", number(o.turning_rate)}};
}

Json guarantee_json(const GuaranteeAnswer& g) {
  return {{"until", date(g.until)},
          {"live", g.live},
          {"claim_worth_amount", number(g.claim_worth)},
          {"claim_cost", number(g.claim_cost)}};
}

Json worth_spending_json(const WorthSpendingRow& r) {
  return {{"willing_to_pay_amount", number(r.willing_to_pay)},
          {"most_worth_spending_now_amount", number(r.most_worth_spending_now)}};
}

Json unpriced_json(const Unpriced& u) {
  return {{"repair_pays_from_amount", number(u.repair_pays_from)},
          {"rows", list(u.rows, worth_spending_json)}};
}

Json default_json(const Weighing::DefaultRow& d) {
  return {{"key", d.key}, {"value", d.value}, {"source", d.source}, {"decided", d.decided}};
}

Json input_json(const Weighing::InputRow& i) {
  return {{"key", i.key}, {"label", i.label}, {"value", i.value}, {"source", i.source}};
}

Json saving_bin_json(const SavingBin& b) {
  return {{"low_amount", number(b.low)}, {"high_amount", number(b.high)}, {"share", number(b.share)}};
}

Json cost_so_far_json(const CostInTime::Sum& s) {
  return {{"years", number(s.years)},
          {"expected_cost", number(s.expected)},
          {"p10_cost", number(s.p10)},
          {"p90_cost", number(s.p90)}};
}

Json cost_in_time_json(const CostInTime& c) {
  return {{"repair", list(c.repair, cost_so_far_json)},
          {"replacement", list(c.replacement, cost_so_far_json)}};
}

Json survival_point_json(const MateSurvival::Point& p) {
  return {{"years", number(p.years)}, {"before_share", number(p.before)}, {"after_share", number(p.after)}};
}

Json mate_survival_json(const MateSurvival& m) {
  return {{"part", m.part}, {"position", m.position}, {"points", list(m.points, survival_point_json)}};
}

const char* word(Spread spread) {
  switch (spread) {
    case Spread::fixed: return "fixed";
    case Spread::uniform: return "uniform";
    case Spread::beta: return "beta";
    case Spread::triangular: return "triangular";
  }
  return "";
}

Json quantity_json(const Quantity& q) {
  if (q.is_fixed()) return number(q.likely());
  Json out = {{"low", number(q.low())}};
  if (q.spread() != Spread::uniform) out.add("likely", number(q.likely()));
  out.add("high", number(q.high()));
  out.add("spread", word(q.spread()));
  return out;
}

template <class T>
Json table_json(const std::map<std::string, T>& entries, Json (*one)(const T&)) {
  Json out = Json::object();
  for (const auto& [name, entry] : entries) out.add(name, one(entry));
  return out;
}

Json life_json(const LifeClass& l) {
  return {{"unit", name_of(l.life.unit)},
          {"rated_life", quantity_json(l.life.rated_life)},
          {"failed_at_rated_share", number(l.life.failed_at_rated)},
          {"life_spread", number(l.life.life_spread)},
          {"shape", quantity_json(l.life.shape)},
          {"shape_spread", number(l.life.shape_spread)},
          {"source", l.source}};
}

Json sourced_json(const SourcedQuantity& s) {
  return {{"value", quantity_json(s.value)}, {"source", s.source}};
}

Json device_kind_json(const SourcedQuantity& s) {
  return {{"life_years", quantity_json(s.value)}, {"source", s.source}};
}

Json operation_json(const SourcedQuantity& s) {
  return {{"minutes", quantity_json(s.value)}, {"source", s.source}};
}

Json termination_json(const Termination& t) {
  return {{"remove_minutes", quantity_json(t.remove_minutes)},
          {"clean_minutes", quantity_json(t.clean_minutes)},
          {"fit_minutes", quantity_json(t.fit_minutes)},
          {"joints", t.joints},
          {"source", t.source}};
}

Json skill_json(const Skill& s) {
  return {{"minutes_factor", number(s.minutes_factor)},
          {"joint_mendable_share", quantity_json(s.joint_mendable)},
          {"joint_write_off_share", quantity_json(s.joint_write_off)},
          {"opening_mendable_share", quantity_json(s.opening_mendable)},
          {"opening_write_off_share", quantity_json(s.opening_write_off)},
          {"diagnosis_right_share", quantity_json(s.diagnosis_right)},
          {"source", s.source}};
}

Json hazard_json(const Hazard& h) {
  return {
      {"title", h.title}, {"licensed_only", h.licensed_only}, {"cautions", h.cautions}, {"source", h.source}};
}

Json currency_json(const CurrencyRate& c) { return {{"minor_digits", c.minor_digits}, {"source", c.source}}; }

}  // namespace

std::string weighing_json(const Weighing& w) {
  const Json out = {{"schema", "mendworth.weighing"},
                    {"version", 2},
                    {"program_version", version()},
                    {"source_name", w.source_name},
                    {"device", w.device},
                    {"currency", w.currency},
                    {"minor_digits", w.minor_digits},
                    {"need_years", number(w.need_years)},
                    {"years_ahead", number(w.years_ahead)},
                    {"costs_are_relative", w.costs_are_relative},
                    {"discount_per_year_share", number(w.discount_rate)},
                    {"labour_per_hour_price", number(w.labour_rate)},
                    {"settings", settings_json(w.settings)},
                    {"verdict", verdict_json(w.verdict)},
                    {"saving_bins", list(w.saving_bins, saving_bin_json)},
                    {"cost_in_time", maybe(w.cost_in_time, cost_in_time_json)},
                    {"options", list(w.options, option_json)},
                    {"order", maybe(w.order, order_json)},
                    {"cause", cause_json(w.cause)},
                    {"evidence", list(w.evidence, evidence_json)},
                    {"another_cause", maybe(w.another_cause, another_cause_json)},
                    {"survivors", list(w.survivors, survivor_json)},
                    {"mate_survival", list(w.mate_survival, mate_survival_json)},
                    {"break_evens", list(w.break_evens, break_even_json)},
                    {"sensitivity", list(w.sensitivity, sensitivity_json)},
                    {"sensitivity_futures", w.sensitivity_futures},
                    {"knowing", maybe(w.knowing, knowing_json)},
                    {"against", maybe(w.grid, saving_grid_json)},
                    {"half_price_rule", maybe(w.half_price, half_price_json)},
                    {"payback", maybe(w.payback, payback_json)},
                    {"own_time", maybe(w.own_time, own_time_json)},
                    {"guarantee", maybe(w.guarantee, guarantee_json)},
                    {"unpriced", maybe(w.unpriced, unpriced_json)},
                    {"already_spent_cost", number(w.already_spent)},
                    {"cautions", list(w.cautions, caution_json)},
                    {"defaults", list(w.defaults, default_json)},
                    {"inputs", list(w.inputs, input_json)},
                    {"notes", w.notes}};
  return out.text();
}

std::string rates_json(const RateBook& rates) {
  const Json out = {{"schema", "mendworth.rates"},
                    {"version", 2},
                    {"lives", table_json(rates.lives, life_json)},
                    {"operations", table_json(rates.operations, operation_json)},
                    {"terminations", table_json(rates.terminations, termination_json)},
                    {"skills", table_json(rates.skills, skill_json)},
                    {"device_kinds", table_json(rates.device_kinds, device_kind_json)},
                    {"hazards", table_json(rates.hazards, hazard_json)},
                    {"defaults", table_json(rates.defaults, sourced_json)},
                    {"currencies", table_json(rates.currencies, currency_json)}};
  return out.text();
}

}  // namespace mendworth
