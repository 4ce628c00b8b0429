#include "model/device_model.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

namespace mendworth {
namespace {

constexpr double days_per_year = 365.25;

bool same_prior(const LifePrior& a, const LifePrior& b) {
  return a.unit == b.unit && a.rated_life == b.rated_life && a.failed_at_rated == b.failed_at_rated &&
         a.life_spread == b.life_spread && a.shape == b.shape && a.shape_spread == b.shape_spread;
}

bool same_evidence(const std::vector<WearEvidence>& a, const std::vector<WearEvidence>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const WearEvidence& x, const WearEvidence& y) {
    return x.ratio == y.ratio && x.failed == y.failed && x.count == y.count;
  });
}

Quantity use_quantity(const Device& device, LifeUnit unit) {
  switch (unit) {
    case LifeUnit::cycles: return device.use_per_day.value_or(Quantity::exactly(1.0));
    case LifeUnit::hours: return device.hours_per_day.value_or(Quantity::exactly(1.0));
    case LifeUnit::years: break;
  }
  return Quantity::exactly(1.0 / days_per_year);
}

/// Wear so far relative to the busiest original, at base. Only wear speaks about the mates: another cause says
/// nothing, but survivors have survived whatever the cause.
std::vector<WearEvidence> evidence_of(const Case& c, int part, double mate_wear) {
  std::vector<WearEvidence> evidence;
  const double age = c.device.age_years.base();
  for (const auto& group : c.positions) {
    if (group.part != part) continue;
    const double share = group.share.base();
    const int survivors = group.count - group.failed - group.renewed;
    if (group.failed > 0 && c.fault.cause == Cause::wear) {
      evidence.push_back({.ratio = share, .failed = true, .count = group.failed});
    }
    if (survivors > 0) evidence.push_back({.ratio = share * mate_wear, .failed = false, .count = survivors});
    if (group.renewed > 0) {
      evidence.push_back(
          {.ratio = share * group.renewed_years_ago.base() / age, .failed = false, .count = group.renewed});
    }
  }
  return evidence;
}

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

bool starts_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

}  // namespace

double use_per_year(const Device& device, LifeUnit unit) {
  return use_quantity(device, unit).base() * days_per_year;
}

bool is_purchase_key(const std::string& key) {
  return starts_with(key, "supplier.") || key.find(".offer.") != std::string::npos;
}

bool is_price_key(const std::string& key) {
  if (is_purchase_key(key)) return true;
  if (starts_with(key, "consumable.") || starts_with(key, "downtime.")) return true;
  for (const std::string_view exact :
       {"device.resale", "device.scrap", "device.keepsake", "fault.burden_per_year", "labour.rate_per_hour",
        "labour.case_minutes", "labour.visit_minutes", "risk.mend_minutes", "risk.mend_money",
        "risk.second_attempt.minutes", "risk.second_attempt.money", "risk.dry_fit_minutes",
        "licensed_repair.price", "licensed_repair.days", "device.guarantee_days",
        "device.guarantee_chance"}) {
    if (key == exact) return true;
  }
  if (starts_with(key, "position.")) return ends_with(key, ".minutes");
  if (starts_with(key, "part.")) return ends_with(key, ".spare_resale");
  if (starts_with(key, "replacement."))
    return !ends_with(key, ".life_years") && !ends_with(key, ".life_shape");
  return false;
}

std::shared_ptr<const LifePosterior> ModelCache::posterior(const LifePrior& prior,
                                                           const std::vector<WearEvidence>& evidence,
                                                           double z_low, double z_high) {
  for (const auto& entry : posteriors_) {
    if (entry.z_low == z_low && entry.z_high == z_high && same_prior(entry.prior, prior) &&
        same_evidence(entry.evidence, evidence)) {
      return entry.value;
    }
  }
  auto value = std::make_shared<const LifePosterior>(prior, evidence, z_low, z_high);
  posteriors_.push_back({prior, evidence, z_low, z_high, value});
  return value;
}

std::shared_ptr<const Sampler> ModelCache::sampler(const Quantity& quantity) {
  for (const auto& [known, sampler] : samplers_) {
    if (known == quantity) return sampler;
  }
  auto made = std::make_shared<const Sampler>(quantity);
  samplers_.emplace_back(quantity, made);
  return made;
}

DeviceModel DeviceModel::make(const Case& c, const Hypothesis& hypothesis, ModelCache& cache) {
  DeviceModel model;
  model.c = c;
  model.hypothesis = hypothesis;
  model.layout = ItemLayout(static_cast<int>(c.positions.size()), static_cast<int>(c.parts.size()),
                            static_cast<int>(c.replacements.size()));
  model.positions = positions_of(c);

  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    const auto& life = c.parts[static_cast<std::size_t>(p)].life;
    auto evidence = evidence_of(c, p, hypothesis.mate_wear);
    const auto use = use_quantity(c.device, life.unit).scaled(days_per_year);
    const auto& age = c.device.age_years;
    const double z_low = std::log(life.rated_life.low() / (age.high() * use.high()));
    const double z_high = std::log(life.rated_life.high() / (age.low() * use.low()));
    model.posteriors.push_back(cache.posterior(life, evidence, z_low, z_high));
    model.evidence.push_back(std::move(evidence));
  }

  int ordinal = 0;
  for_each_quantity(c, [&](const std::string& key, const Quantity& quantity) {
    if (!quantity.is_fixed()) {
      const bool is_price = is_price_key(key);
      model.uncertain.push_back(
          {.ordinal = ordinal, .sampler = cache.sampler(quantity), .is_price = is_price});
      model.price_uncertain = model.price_uncertain || is_price;
      model.purchase_uncertain = model.purchase_uncertain || is_purchase_key(key);
    }
    ++ordinal;
  });
  return model;
}

}  // namespace mendworth
