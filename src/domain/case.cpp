#include "mendworth/case.hpp"

#include "numeric/weibull.hpp"

namespace mendworth {

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
