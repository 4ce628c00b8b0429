// What must hold for every case (src/README.md), on random ones.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"
#include "support/random_cases.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

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

constexpr int futures = 400;  // all purchases are screened on all futures: nothing is left to chance

Weighing weighed(const Case& c, bool what_ifs = true) {
  return weigh(c, RateBook{}, {.seed = 3, .futures = futures, .threads = 1, .what_ifs = what_ifs});
}

double saving(const Case& c) { return *weighed(c, false).verdict.saving; }

void each_case(unsigned seed, int count, const std::function<void(RandomCases&, const Case&)>& check) {
  RandomCases random(seed);
  for (int i = 0; i < test::random_cases(count); ++i) {
    CAPTURE(seed);
    CAPTURE(i);
    const Case c = random.next();
    check(random, c);
  }
}

}  // namespace

TEST_SUITE_BEGIN("properties");

TEST_CASE("a dearer replacement never lowers the saving") {
  each_case(101, 20, [](RandomCases& random, const Case& c) {
    Case dearer = c;
    dearer.replacements[0].price = c.replacements[0].price->scaled(1 + random.real(0, 1));
    // A repair that loses the device at once buys as many as the replacement does, at the same times, never more.
    CHECK(saving(dearer) >= saving(c) - 1e-6);
  });
}

TEST_CASE("dearer parts, more minutes, dearer shipping, dearer time never raise the saving") {
  each_case(102, 15, [](RandomCases& random, const Case& c) {
    const double before = saving(c);
    const double factor = 1 + random.real(0.05, 1);
    Case parts = c;
    for (auto& offer : parts.parts[0].candidates[0].offers) {
      for (auto& step : offer.prices) step.each = step.each.scaled(factor);
    }
    Case minutes = c;
    minutes.labour.visit_minutes = c.labour.visit_minutes.scaled(factor);
    minutes.positions[0].minutes = c.positions[0].minutes.scaled(factor);
    Case shipping = c;
    for (auto& s : shipping.suppliers) s.shipping[0].price = s.shipping[0].price.scaled(factor);
    Case damage = c;
    damage.risks.mend_minutes = c.risks.mend_minutes.scaled(factor);
    if (c.parts[0].other_uses_per_year.high() == 0) {
      // With other uses a dearer part makes the spares worth more as well, so the rule is for none.
      CHECK(saving(parts) <= before + 1e-6);
      CHECK(saving(shipping) <= before + 1e-6);
    }
    CHECK(saving(minutes) <= before + 1e-6);
    CHECK(saving(damage) <= before + 1e-6);
  });
}

TEST_CASE("whatever the case, the answer is finite, adds up and is ranked") {
  each_case(103, 30, [](RandomCases&, const Case& c) {
    const auto w = weighed(c);
    CHECK(std::isfinite(*w.verdict.saving));
    CHECK(w.verdict.saving_p10 <= w.verdict.saving_p50);
    CHECK(w.verdict.saving_p50 <= w.verdict.saving_p90);
    CHECK(w.verdict.repair_cheaper_share >= 0);
    CHECK(w.verdict.repair_cheaper_share <= 1);
    CHECK(w.verdict.lead >= 0);
    for (std::size_t i = 0; i < w.options.size(); ++i) {
      const auto& o = w.options[i];
      CHECK(near_abs(o.parts.total(), o.present_cost, 1e-6 * (1 + std::abs(o.present_cost))));
      if (i > 0) CHECK(o.present_cost >= w.options[i - 1].present_cost);
      for (const double chance :
           {o.damage_chance, o.write_off_chance, o.cure_chance, o.second_device_chance}) {
        CHECK(chance >= 0);
        CHECK(chance <= 1);
      }
      CHECK(o.write_off_chance <= o.damage_chance);
    }
    for (const auto& s : w.survivors) {
      CHECK(s.chance_one_year >= 0);
      CHECK(s.chance <= 1);
      REQUIRE(s.renewal);
      CHECK(s.renewal->later_cost >= 0);
      CHECK(s.renewal->break_even_chance <= 1);
    }
    for (const auto& b : w.break_evens) {
      for (const double v : b.values) {
        CHECK(v >= b.low);
        CHECK(v <= b.high);
      }
    }
    if (w.order) {
      CHECK(w.order->charged_pro_rata <= w.order->charged_whole + 1e-9);
    }
  });
}

TEST_CASE("threads and repetition change nothing") {
  each_case(104, 4, [](RandomCases&, const Case& c) {
    const auto once = weigh(c, RateBook{}, {.seed = 5, .futures = 3000, .threads = 1});
    for (const int threads : {2, 8}) {
      const auto again = weigh(c, RateBook{}, {.seed = 5, .futures = 3000, .threads = threads});
      CHECK(*once.verdict.saving == *again.verdict.saving);
      CHECK(once.verdict.saving_p90 == again.verdict.saving_p90);
      REQUIRE(once.sensitivity.size() == again.sensitivity.size());
      for (std::size_t i = 0; i < once.sensitivity.size(); ++i) {
        CHECK(once.sensitivity[i].key == again.sensitivity[i].key);
        CHECK(once.sensitivity[i].saving_high == again.sensitivity[i].saving_high);
      }
      for (std::size_t i = 0; i < once.break_evens.size(); ++i) {
        CHECK(once.break_evens[i].values == again.break_evens[i].values);
      }
    }
  });
}

TEST_CASE("re-pricing at a priced break-even brings the saving to zero when all is weighed anew") {
  each_case(105, 8, [](RandomCases&, Case c) {
    // A drawn price meets other draws, and a few futures leave a chance correlation: so one price for all.
    c.replacements[0].price = exactly(c.replacements[0].price->base());
    const auto w = weighed(c);
    for (const auto& b : w.break_evens) {
      if (b.key != "replacement.1.price" || b.values.empty()) continue;
      for (const double price : b.values) {
        Case at = c;
        at.replacements[0].price = exactly(price);
        // The rule for later failures and the purchases are chosen anew at that price, on the means of other futures:
        // mostly for the better, and for the worse by no more than chance.
        const auto anew = weighed(at, false).verdict;
        CHECK(*anew.saving > -anew.saving_error);
        CHECK(*anew.saving < 0.05 * price + 0.5);
      }
    }
  });
}

TEST_CASE("a day's cost that is drawn is the same in a future's every wait") {
  // Derived: nothing fails again, so that the repair waits for its order and the replacement for its delivery: in each
  // future, and so on average, in the ratio of the days.
  Case c = one_position(1e9, 1, 5, 0);
  c.downtime.per_day = Quantity::between(1, 9);
  c.suppliers[0].lead_days = exactly(6);
  c.replacements[0].delivery_days = exactly(2);
  c.downtime.bench_days = exactly(0);
  const auto w = weigh(c, RateBook{}, {.seed = 3, .futures = 1000, .threads = 2, .what_ifs = false});
  const auto waited = [&](OptionKind kind) {
    const auto found = std::find_if(w.options.begin(), w.options.end(),
                                    [kind](const OptionResult& o) { return o.kind == kind; });
    REQUIRE(found != w.options.end());
    return found->parts.downtime;
  };
  // The draws are the same, so no more than a parts-per-million device that fails after all sets the two apart.
  CHECK(near_rel(waited(OptionKind::repair), 3 * waited(OptionKind::replacement), 1e-4));
}

TEST_CASE("the reported simulation error is that of other seeds") {
  RandomCases random(106);
  Case c = random.next();
  c.risks.diagnosis_right = exactly(0.9);
  // z = saving / its own error, over seeds: mean near nothing, spread near one.
  constexpr int seeds = 40;
  std::vector<double> savings;
  double claimed = 0;
  for (int seed = 1; seed <= seeds; ++seed) {
    const auto w =
        weigh(c, RateBook{},
              {.seed = static_cast<std::uint64_t>(seed), .futures = 1000, .threads = 2, .what_ifs = false});
    savings.push_back(*w.verdict.saving);
    claimed += w.verdict.saving_error / seeds;
  }
  double mean = 0, squares = 0;
  for (const double s : savings) mean += s / seeds;
  for (const double s : savings) squares += (s - mean) * (s - mean);
  const double seen = std::sqrt(squares / (seeds - 1));
  // The spread of a standard deviation from 40 values is about 1/sqrt(2 * 39) = 11 %; three of them.
  CHECK(seen / claimed > 0.66);
  CHECK(seen / claimed < 1.34);
}

TEST_SUITE_END();
