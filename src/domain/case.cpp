#include "mendworth/case.hpp"

#include "numeric/weibull.hpp"

namespace mendworth {

namespace {

/// Walks a Case or a const Case; `Visit` is called with (key, quantity).
template <class AnyCase, class Visit>
class QuantityWalk {
 public:
  explicit QuantityWalk(const Visit& visit) : visit_(visit) {}

  void walk(AnyCase& c) const {
    device(c.device);
    if (!c.rest.remaining_years) visit_("device.life_years", c.device.life_years);
    fault(c.fault);
    each("position", c.positions, [this](const std::string& k, auto& x) { this->position(k, x); });
    each("part", c.parts, [this](const std::string& k, auto& x) { this->part(k, x); });
    each("supplier", c.suppliers, [this](const std::string& k, auto& x) { this->supplier(k, x); });
    labour(c.labour);
    risk(c.risks);
    each("consumable", c.consumables, [this](const std::string& k, auto& x) {
      visit_(k + ".price", x.price);
      visit_(k + ".chance", x.chance);
    });
    each("replacement", c.replacements, [this](const std::string& k, auto& x) { this->replacement(k, x); });
    if_any("rest.remaining_years", c.rest.remaining_years);
    visit_("rest.shape", c.rest.shape);
    visit_("downtime.per_day", c.downtime.per_day);
    visit_("downtime.bench_days", c.downtime.bench_days);
    if_any("horizon.years", c.horizon.years);
    visit_("horizon.discount_rate", c.horizon.discount_rate);
    if (c.licensed_repair) {
      visit_("licensed_repair.price", c.licensed_repair->price);
      visit_("licensed_repair.chance", c.licensed_repair->chance);
      visit_("licensed_repair.days", c.licensed_repair->days);
    }
  }

 private:
  template <class Vector, class Function>
  static void each(const std::string& key, Vector& list, const Function& function) {
    std::size_t number = 0;
    for (auto& item : list) function(key + '.' + std::to_string(++number), item);
  }

  template <class Optional>
  void if_any(const std::string& key, Optional& quantity) const {
    if (quantity) visit_(key, *quantity);
  }

  template <class D>
  void device(D& x) const {
    visit_("device.age_years", x.age_years);
    if_any("device.bought_used_years_ago", x.bought_used_years_ago);
    if_any("device.use_per_day", x.use_per_day);
    if_any("device.hours_per_day", x.hours_per_day);
    visit_("device.guarantee_chance", x.guarantee_chance);
    visit_("device.guarantee_days", x.guarantee_days);
    visit_("device.resale", x.resale);
    visit_("device.scrap", x.scrap);
    visit_("device.keepsake", x.keepsake);
  }

  template <class F>
  void fault(F& x) const {
    if_any("fault.burden_per_year", x.burden_per_year);
    visit_("fault.common_cause_chance", x.common_cause_chance);
    visit_("fault.common_cause_years", x.common_cause_years);
  }

  template <class P>
  void position(const std::string& key, P& x) const {
    visit_(key + ".renewed_years_ago", x.renewed_years_ago);
    visit_(key + ".share", x.share);
    visit_(key + ".minutes", x.minutes);
  }

  template <class L>
  void life(const std::string& key, L& x) const {
    visit_(key + ".rated_life", x.rated_life);
    visit_(key + ".shape", x.shape);
  }

  template <class P>
  void part(const std::string& key, P& x) const {
    life(key, x.life);
    each(key + ".candidate", x.candidates, [this](const std::string& k, auto& c) {
      visit_(k + ".fit", c.fit);
      visit_(k + ".dead_on_arrival", c.dead_on_arrival);
      life(k, c.life);
      each(k + ".offer", c.offers, [this](const std::string& o, auto& offer_) { this->offer(o, offer_); });
    });
    visit_(key + ".other_uses_per_year", x.other_uses_per_year);
    visit_(key + ".shelf_life_years", x.shelf_life_years);
    visit_(key + ".spare_resale", x.spare_resale);
  }

  template <class O>
  void offer(const std::string& key, O& x) const {
    if (x.prices.size() == 1) {
      visit_(key + ".price", x.prices.front().each);
    } else {
      each(key + ".prices", x.prices, [this](const std::string& k, auto& p) { visit_(k + ".each", p.each); });
    }
    visit_(key + ".line_fee", x.line_fee);
  }

  template <class S>
  void supplier(const std::string& key, S& x) const {
    visit_(key + ".exchange_rate", x.exchange_rate);
    visit_(key + ".exchange_fee", x.exchange_fee);
    if (x.shipping.size() == 1) {
      visit_(key + ".shipping", x.shipping.front().price);
    } else {
      each(key + ".shipping", x.shipping,
           [this](const std::string& k, auto& tier) { visit_(k + ".price", tier.price); });
    }
    visit_(key + ".low_order_below", x.low_order_below);
    visit_(key + ".low_order_fee", x.low_order_fee);
    visit_(key + ".tax", x.tax);
    visit_(key + ".duty", x.duty);
    visit_(key + ".duty_free_up_to", x.duty_free_up_to);
    visit_(key + ".customs_fee", x.customs_fee);
    visit_(key + ".lead_days", x.lead_days);
  }

  template <class L>
  void labour(L& x) const {
    visit_("labour.rate_per_hour", x.rate_per_hour);
    visit_("labour.case_minutes", x.case_minutes);
    visit_("labour.visit_minutes", x.visit_minutes);
    visit_("labour.learning_rate", x.learning_rate);
  }

  template <class R>
  void risk(R& x) const {
    visit_("risk.opening_mendable", x.opening_mendable);
    visit_("risk.opening_write_off", x.opening_write_off);
    visit_("risk.joint_mendable", x.joint_mendable);
    visit_("risk.joint_write_off", x.joint_write_off);
    visit_("risk.mend_minutes", x.mend_minutes);
    visit_("risk.mend_money", x.mend_money);
    visit_("risk.diagnosis_right", x.diagnosis_right);
    if (x.second_attempt) {
      visit_("risk.second_attempt.minutes", x.second_attempt->minutes);
      visit_("risk.second_attempt.money", x.second_attempt->money);
      visit_("risk.second_attempt.chance", x.second_attempt->chance);
    }
    visit_("risk.dead_found_after_closing", x.dead_found_after_closing);
    visit_("risk.misfit_found_after_closing", x.misfit_found_after_closing);
    visit_("risk.dry_fit_minutes", x.dry_fit_minutes);
  }

  template <class R>
  void replacement(const std::string& key, R& x) const {
    if_any(key + ".price", x.price);
    visit_(key + ".tax", x.tax);
    visit_(key + ".shipping", x.shipping);
    visit_(key + ".life_years", x.life_years);
    visit_(key + ".life_shape", x.life_shape);
    visit_(key + ".setup_minutes", x.setup_minutes);
    visit_(key + ".benefit_per_year", x.benefit_per_year);
    visit_(key + ".resale", x.resale);
    visit_(key + ".delivery_days", x.delivery_days);
  }

  const Visit& visit_;
};

}  // namespace

void for_each_quantity(Case& c, const std::function<void(const std::string&, Quantity&)>& visit) {
  QuantityWalk<Case, std::function<void(const std::string&, Quantity&)>>(visit).walk(c);
}

void for_each_quantity(const Case& c, const std::function<void(const std::string&, const Quantity&)>& visit) {
  QuantityWalk<const Case, std::function<void(const std::string&, const Quantity&)>>(visit).walk(c);
}

double mean_rest_years(const Case& c) {
  if (c.rest.remaining_years) return c.rest.remaining_years->base();
  const double shape = c.rest.shape.base();
  return mean_remaining({.scale = scale_from_mean(c.device.life_years.base(), shape), .shape = shape},
                        c.device.age_years.base());
}

double years_ahead(const Case& c) { return c.horizon.years ? c.horizon.years->base() : mean_rest_years(c); }

const char* name_of(Cause cause) noexcept {
  switch (cause) {
    case Cause::wear: return "wear";
    case Cause::blow: return "blow";
    case Cause::spill: return "spill";
    case Cause::bad_joint: return "bad-joint";
  }
  return "";
}

const char* name_of(LifeUnit unit) noexcept {
  switch (unit) {
    case LifeUnit::cycles: return "cycles";
    case LifeUnit::hours: return "hours";
    case LifeUnit::years: return "years";
  }
  return "";
}

}  // namespace mendworth
