#pragma once

#include <algorithm>
#include <random>

#include "support/case_builder.hpp"

namespace mendworth::test {

/// Random cases from a fixed seed, so that a failure repeats.
class RandomCases {
 public:
  explicit RandomCases(unsigned seed) : engine_(seed) {}

  double real(double low, double high) {
    // Not a standard distribution: those differ between libraries.
    return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
  }
  int whole(int low, int high) {
    return low + static_cast<int>(engine_() % static_cast<unsigned>(high - low + 1));
  }
  bool chance(double p) { return real(0, 1) < p; }
  Quantity number(double low, double high) {
    const double a = real(low, high), b = real(low, high), c = real(low, high);
    const double first = std::min({a, b, c}), last = std::max({a, b, c});
    if (chance(0.6)) return Quantity::exactly(a);
    if (chance(0.3)) return Quantity::between(first, last);
    return Quantity::three_point(first, a + b + c - first - last, last,
                                 chance(0.5) ? Spread::beta : Spread::triangular);
  }

  Case next() {
    Case c = minimal_case();
    c.device.age_years = number(1, 8);
    c.device.use_per_day = number(20, 400);
    c.device.resale = number(0, 10);
    c.device.scrap = number(-3, 10);
    c.device.keepsake = chance(0.2) ? number(0, 50) : exactly(0);
    if (chance(0.5)) c.fault.burden_per_year = number(1, 60);
    c.fault.cause = static_cast<Cause>(whole(0, 3));
    c.fault.common_cause_chance = number(0, 1);
    c.positions[0].count = whole(1, 6);
    c.positions[0].failed = whole(1, c.positions[0].count);
    c.positions[0].joints = whole(0, 6);
    c.positions[0].minutes = number(2, 20);
    if (chance(0.5)) {
      auto other = c.positions[0];
      other.name = "second group";
      other.count = whole(1, 4);
      other.failed = 0;
      other.share = number(0.1, 1);
      c.positions.push_back(other);
    }
    for (LifePrior* life : {&c.parts[0].life, &c.parts[0].candidates[0].life}) {
      life->rated_life = number(20'000, 900'000);
      life->life_spread = real(1, 3);
      life->shape = number(0.8, 4);
      life->shape_spread = chance(0.5) ? 1.0 : real(1, 1.5);
    }
    auto& sold = c.parts[0].candidates[0];
    sold.fit = number(0.6, 1);
    sold.dead_on_arrival = number(1e-5, 0.05);
    sold.offers[0].prices = ladder({{1, real(0.5, 3)}, {10, real(0.2, 0.5)}});
    if (chance(0.4)) sold.offers[0].multiple = whole(2, 10);
    if (chance(0.4)) {
      c.suppliers.push_back(supplier("Second Source", {{0, real(0, 8)}}));
      sold.offers.push_back(offer(1, {{1, real(0.2, 3)}}));
    }
    c.parts[0].other_uses_per_year = chance(0.4) ? number(0, 2) : exactly(0);
    c.suppliers[0].tax = number(0, 0.25);
    c.labour.rate_per_hour = number(0, 60);
    c.labour.visit_minutes = number(5, 60);
    c.risks.opening_mendable = number(1e-5, 0.1);
    c.risks.opening_write_off = number(1e-5, 0.05);
    c.risks.joint_mendable = number(1e-5, 0.02);
    c.risks.joint_write_off = number(1e-5, 0.01);
    c.risks.mend_minutes = number(5, 60);
    c.risks.diagnosis_right = number(0.5, 1);
    if (chance(0.3)) {
      c.risks.second_attempt =
          SecondAttempt{.minutes = number(5, 60), .money = number(0, 5), .chance = number(0, 1)};
    }
    c.replacements[0].price = number(10, 200);
    c.replacements[0].life_years = number(1, 8);
    c.replacements[0].setup_minutes = number(0, 60);
    c.rest.remaining_years = number(1, 10);
    c.downtime.per_day = chance(0.4) ? number(0, 10) : exactly(0);
    c.horizon.years = number(1, 8);
    c.horizon.discount_rate = number(1e-5, 0.1);
    return c;
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace mendworth::test
