#pragma once

#include <string>
#include <utility>
#include <vector>

#include "mendworth/case.hpp"

/// Cases built in code, for tests that start behind the reader.
namespace mendworth::test {

inline Quantity exactly(double value) { return Quantity::exactly(value); }

/// A ladder of price breaks: {{1, 0.62}, {10, 0.51}}.
inline std::vector<PriceBreak> ladder(const std::vector<std::pair<int, double>>& steps) {
  std::vector<PriceBreak> prices;
  for (const auto& step : steps) {
    PriceBreak next;
    next.from = step.first;
    next.each = exactly(step.second);
    prices.push_back(next);
  }
  return prices;
}

/// Shipping tiers: {{0, 4.90}, {25, 0}}.
inline std::vector<ShippingTier> tiers(const std::vector<std::pair<double, double>>& steps) {
  std::vector<ShippingTier> result;
  for (const auto& step : steps) {
    ShippingTier tier;
    tier.goods_from = step.first;
    tier.price = exactly(step.second);
    result.push_back(tier);
  }
  return result;
}

/// Sells any number of pieces.
inline Offer offer(int supplier, const std::vector<std::pair<int, double>>& prices) {
  Offer result;
  result.supplier = supplier;
  result.prices = ladder(prices);
  return result;
}

/// In the case's currency: no tax, duty, limit or fee; in two days.
inline Supplier supplier(const std::string& name, const std::vector<std::pair<double, double>>& shipping) {
  Supplier result;
  result.name = name;
  result.currency = "EUR";
  result.exchange_rate = exactly(1);
  result.shipping = tiers(shipping);
  result.lead_days = exactly(2);
  return result;
}

/// Half a million operations to 10 %, shape 2, both known exactly.
inline LifePrior switch_life() {
  LifePrior life;
  life.unit = LifeUnit::cycles;
  life.rated_life = exactly(500'000);
  life.failed_at_rated = 0.10;
  life.shape = exactly(2);
  return life;
}

/// Fits for certain, never dead on arrival.
inline Candidate candidate(const std::string& name, std::vector<Offer> offers) {
  Candidate result;
  result.name = name;
  result.fit = exactly(1);
  result.dead_on_arrival = exactly(0);
  result.life = switch_life();
  result.offers = std::move(offers);
  return result;
}

inline Part part(const std::string& name, std::vector<Candidate> candidates) {
  Part result;
  result.name = name;
  result.life = switch_life();
  result.candidates = std::move(candidates);
  result.other_uses_per_year = exactly(0);
  result.shelf_life_years = exactly(10);
  result.spare_resale = exactly(0);
  return result;
}

/// The smallest valid case: an invented door intercom with one failed button, one part, one candidate with
/// one offer (1.00 each), one supplier (shipping 4.00), one replacement (80.00, 5 years). No number is a
/// range; every repair succeeds for certain, nothing is damaged, and nothing but lives is left to chance.
inline Case minimal_case() {
  Case c;
  c.source_name = "minimal";
  c.device.name = "door intercom";
  c.device.currency = "EUR";
  c.device.minor_digits = 2;
  c.device.age_years = exactly(4);
  c.device.use_per_day = exactly(50);

  c.fault.common_cause_years = exactly(1);

  PositionGroup button;
  button.name = "answer button";
  button.failed = 1;
  button.renewed_years_ago = exactly(1);
  button.share = exactly(1);
  button.termination = "through-hole-4-leg";
  button.minutes = exactly(8);
  button.joints = 4;
  c.positions.push_back(button);

  c.suppliers.push_back(supplier("Cardinal Parts", {{0, 4.00}}));
  c.parts.push_back(part("button", {candidate("tall button", {offer(0, {{1, 1.00}})})}));

  c.labour.rate_per_hour = exactly(30);
  c.labour.case_minutes = exactly(15);
  c.labour.visit_minutes = exactly(20);
  c.labour.skill = "careful-amateur";
  c.labour.learning_rate = exactly(1);

  c.risks.diagnosis_right = exactly(1);

  Replacement fresh;
  fresh.name = "new intercom";
  fresh.price = exactly(80);
  fresh.life_years = exactly(5);
  fresh.life_shape = exactly(2);
  fresh.delivery_days = exactly(2);
  c.replacements.push_back(fresh);

  c.rest.remaining_years = exactly(5);
  c.rest.shape = exactly(2);
  c.horizon.years = exactly(5);
  c.horizon.discount_rate = exactly(0.03);
  return c;
}

/// The minimal case with another ladder of prices and other shipping.
inline Case one_offer(const std::vector<std::pair<int, double>>& prices,
                      const std::vector<std::pair<double, double>>& shipping) {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder(prices);
  c.suppliers[0].shipping = tiers(shipping);
  return c;
}

}  // namespace mendworth::test
