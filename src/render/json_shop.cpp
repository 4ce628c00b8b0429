#include <string>

#include "mendworth/render.hpp"
#include "render/beside.hpp"
#include "render/json_quote.hpp"

// Keys that end in _cost and _margin are expectations in units of the currency at the top, those in _share 0..1, those in
// _chance probabilities. The schema beside this file says what each means.
namespace mendworth {
namespace {

Json cost_json(const JobCost& c) {
  return {{"labour_cost", number(c.labour)},
          {"order_cost", number(c.order)},
          {"consumables_cost", number(c.consumables)},
          {"stock_cost", number(c.stock)},
          {"rework_cost", number(c.rework)},
          {"warranty_cost", number(c.warranty)},
          {"come_back_cost", number(c.come_back)},
          {"liability_cost", number(c.liability)},
          {"total_cost", number(c.total())}};
}

Json reserve_json(const ReserveRow& r) {
  return {{"days", r.days},
          {"returns", number(r.returns)},
          {"reserve_cost", number(r.reserve)},
          {"mates_failing", number(r.mates_failing)},
          {"offered", r.offered}};
}

Json order_json(const OrderRow& r) {
  return {{"supplier", r.supplier}, {"item", r.item}, {"pieces", r.pieces}, {"goods_cost", number(r.cost)}};
}

Json move_json(const MarginRow& r) {
  return {{"key", r.key},
          {"label", r.label},
          {"low", number(r.low)},
          {"base", number(r.base)},
          {"high", number(r.high)},
          {"low_margin", number(r.margin_low)},
          {"high_margin", number(r.margin_high)},
          {"swing_margin", number(r.swing)},
          {"uncertain", r.uncertain}};
}

Json diagnosis_json(const DiagnosisAnswer& d) {
  return {{"fee", number(d.fee)},
          {"credited", d.credited},
          {"bench_cost", number(d.cost)},
          {"walk_away_low_share", number(d.walk_away_low)},
          {"walk_away_share", number(d.walk_away)},
          {"walk_away_high_share", number(d.walk_away_high)},
          {"walk_away_known", d.walk_away_known},
          {"intake_margin", number(d.income_per_intake)},
          {"intake_low_margin", number(d.income_low)},
          {"intake_high_margin", number(d.income_high)},
          {"break_even_fee", number(d.break_even_fee)},
          {"turning_share", number(d.turning_share)}};
}

class ShopJson {
 public:
  explicit ShopJson(const ShopPage& page) : page_(page) {}

  [[nodiscard]] Json json() const {
    Json choices = Json::array();
    for (const ShopChoice& choice : page_.choices) choices.push_back(choice_json(choice));
    Json cautions = Json::array();
    for (const PageCaution& caution : page_.cautions)
      cautions.push_back({{"title", caution.title}, {"sentences", caution.sentences}});
    return {{"schema", "mendworth.quote-at-cost"},
            {"version", 1},
            {"program_version", version()},
            {"source_name", page_.source_name},
            {"shop_source", page_.shop_source},
            {"number", page_.number ? Json(*page_.number) : Json(nullptr)},
            {"date", iso_date(page_.date)},
            {"currency", currency_json(page_.currency)},
            {"device", page_.device},
            {"seed", page_.seed},
            {"futures", page_.futures},
            {"charge_rate_per_hour", number(page_.charge_rate)},
            {"cost_rate_per_hour", number(page_.cost_rate)},
            {"target_margin_share", number(page_.target_margin)},
            {"warranty_days", page_.warranty_days},
            {"horizon_years", number(page_.horizon_years)},
            {"owner_verdict", page_.owner_verdict},
            {"choices", choices},
            {"proposed", page_.proposed},
            {"diagnosis", maybe(page_.diagnosis, diagnosis_json)},
            {"cautions", cautions},
            {"defaults", page_.defaults},
            {"notes", page_.notes}};
  }

 private:
  [[nodiscard]] Json sum(Money money) const { return sum_json(money, page_.currency, page_.style); }
  [[nodiscard]] Json maybe_sum(const std::optional<Money>& money) const {
    return money ? sum(*money) : Json(nullptr);
  }

  [[nodiscard]] Json choice_json(const ShopChoice& c) const {
    Json ceilings = Json::array();
    for (const CeilingRow& row : c.ceilings) {
      ceilings.push_back({{"confidence_share", number(row.confidence)},
                          {"charge", sum(row.charge)},
                          {"chosen", row.chosen}});
    }
    return {{"kind", kind_word(c.kind)},
            {"title", c.title},
            {"cure_chance", number(c.cure_chance)},
            {"lost_chance", number(c.lost_chance)},
            {"to_pay", sum(c.to_pay)},
            {"consent_limit", sum(c.consent_limit)},
            {"income", sum(c.income)},
            {"no_cure_income", number(c.no_cure_income)},
            {"expected_income", number(c.expected_income)},
            {"cost", cost_json(c.cost)},
            {"expected_margin", number(c.margin)},
            {"expected_margin_error", number(c.margin_error)},
            {"margin_share", number(c.margin_share)},
            {"loss_chance", number(c.loss_chance)},
            {"p10_margin", number(c.margin_p10)},
            {"p50_margin", number(c.margin_p50)},
            {"p90_margin", number(c.margin_p90)},
            {"planned_minutes", number(c.minutes_planned)},
            {"p10_minutes", number(c.minutes_p10)},
            {"p50_minutes", number(c.minutes_p50)},
            {"p90_minutes", number(c.minutes_p90)},
            {"lowest_price", maybe_sum(c.lowest_price)},
            {"lowest_price_total", maybe_sum(c.lowest_price_total)},
            {"target_price", maybe_sum(c.target_price)},
            {"target_price_total", maybe_sum(c.target_price_total)},
            {"no_fee_price", maybe_sum(c.no_fee_price)},
            {"no_fee_price_total", maybe_sum(c.no_fee_price_total)},
            {"reserves", list(c.reserves, reserve_json)},
            {"order", list(c.order, order_json)},
            {"leftover_pieces", c.leftover_pieces},
            {"leftover_value", number(c.leftover_value)},
            {"ceilings", ceilings},
            {"overrun_chance", number(c.overrun_chance)},
            {"over_limit_chance", number(c.over_limit_chance)},
            {"owner_saving", number(c.owner_saving)},
            {"owner_saving_with_subsidy", number(c.owner_saving_with_subsidy)},
            {"moves", list(c.moves, move_json)}};
  }

  const ShopPage& page_;
};

}  // namespace

std::string shop_json(const ShopPage& page) {
  Json out = ShopJson(page).json();
  if (page.what_ifs.empty()) return out.text();
  Json beside = Json::array();
  for (const ShopWhatIf& what_if : page.what_ifs) {
    beside.push_back({{"name", what_if.name},
                      {"changes", changes_json(what_if.changes)},
                      {"refused", what_if.refused.empty() ? Json(nullptr) : Json(what_if.refused)},
                      {"answer", what_if.page ? ShopJson(*what_if.page).json() : Json(nullptr)}});
  }
  out.add("beside", std::move(beside));
  return out.text();
}

}  // namespace mendworth
