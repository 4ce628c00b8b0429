// A printed turning value, put into the case, gives a saving of nought; a row of the sensitivity table is what a weighing
// of the changed case says.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <vector>

#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/weigh.hpp"
#include "numeric/random.hpp"
#include "support/case_builder.hpp"
#include "support/example_files.hpp"
#include "support/random_cases.hpp"

using namespace mendworth;

namespace {

constexpr int by_precision = 0, thousand = 1000;

Weighing weighed(const Case& c, int futures, bool what_ifs) {
  return weigh(c, built_in_rates(), {.seed = 3, .futures = futures, .threads = 2, .what_ifs = what_ifs});
}

Case example(const std::string& name, const std::vector<std::string>& overrides) {
  return read_case(test::example_text(name), name, built_in_rates(), overrides);
}

bool set(Case& c, const std::string& key, double value) {
  bool found = false;
  for_each_quantity(c, [&](const std::string& k, Quantity& q) {
    if (k != key) return;
    q = Quantity::exactly(value);
    found = true;
  });
  return found;
}

/// Of so many values, those whose saving jumps there and those that are off by some of its errors are few.
struct Count {
  int checked = 0, jumps = 0, beyond_one = 0, beyond_two = 0;
  void check(int at_least) const {
    CHECK(checked >= at_least);
    CHECK(jumps <= checked / 5);
    CHECK(beyond_one <= checked / 6);
    CHECK(beyond_two <= checked / 20);
  }
};

void check_turning_values(const Case& c, int futures, Count& count) {
  const Weighing w = weighed(c, futures, true);
  for (const BreakEven& b : w.break_evens) {
    for (const double value : b.values) {
      Case at = c;
      if (!set(at, b.key, value)) continue;
      CAPTURE(b.key);
      CAPTURE(value);
      const Verdict there = weighed(at, futures, false).verdict;
      REQUIRE(there.saving);
      CAPTURE(*there.saving);
      CAPTURE(there.saving_error);
      ++count.checked;
      if (std::abs(*there.saving) <= there.saving_error + 1e-6) continue;
      // Where a price break or another plan makes the saving jump across nought, the value is that of the jump.
      Case below = c, above = c;
      const double step = std::max(1e-4 * (b.high - b.low), 1e-3 * std::abs(value));
      set(below, b.key, std::max(b.low, value - step));
      set(above, b.key, std::min(b.high, value + step));
      const double before = *weighed(below, futures, false).verdict.saving,
                   after = *weighed(above, futures, false).verdict.saving;
      if (before * after <= 0) {
        ++count.jumps;
        continue;
      }
      // The luck is the same: what is left are plans that one of two searches did not find.
      CHECK(std::abs(*there.saving) <= 3 * there.saving_error);
      ++count.beyond_one;
      if (std::abs(*there.saving) > 2 * there.saving_error) ++count.beyond_two;
    }
  }
}

void check_rows(const std::string& name, const Case& c, const Weighing& w) {
  int seen = 0;
  for (const SensitivityRow& row : w.sensitivity) {
    Case at = c;
    if (!set(at, row.key, row.high)) continue;
    if (++seen > 6) break;
    at = example(name, {fmt::format("{}={}", row.key, row.high)});
    CAPTURE(row.key);
    const Verdict there = weighed(at, thousand, false).verdict;
    // 4 errors: half a dozen rows of several cases are looked at.
    CHECK(std::abs(*there.saving - row.saving_high) <=
          4 * std::hypot(row.high_error, there.saving_error) + 1e-6);
  }
}

}  // namespace

TEST_CASE("turning values and rows are what weighing the changed case says: examples") {
  Count count;
  const std::vector<const char*> names = {"label-printer.toml",  "kitchen-scale.toml",   "synth-buttons.toml",
                                          "lighting-desk.toml",  "stage-metronome.toml", "keypad-fleet.toml",
                                          "field-recorder.toml", "wall-dimmer.toml"};
  // The sanitizers get two of the eight.
  const auto tried = static_cast<std::size_t>(test::random_cases(static_cast<int>(names.size())));
  for (std::size_t at = 0; at < names.size(); at += names.size() / tried) {
    const char* name = names[at];
    CAPTURE(name);
    const Case c = example(name, {});
    check_turning_values(c, by_precision, count);
    check_rows(name, c, weighed(c, thousand, true));
  }
  count.check(static_cast<int>(3 * tried));
}

TEST_CASE("the widest rows have the order that is best at their ends") {
  // Other orders are best where pieces keep for two years, or ten, than where they keep for five.
  const std::string name = "stock-scanner.toml";
  const Case c = example(name, {});
  int seen = 0;
  for (const SensitivityRow& row : weighed(c, by_precision, true).sensitivity) {
    if (row.key != "part.1.shelf_life_years") continue;
    struct End {
      double value, saving, error;
    };
    for (const End& end :
         {End{row.low, row.saving_low, row.low_error}, End{row.high, row.saving_high, row.high_error}}) {
      CAPTURE(end.value);
      Case at = c;
      REQUIRE(set(at, row.key, end.value));
      const Verdict there = weighed(at, by_precision, false).verdict;
      CHECK(std::abs(*there.saving - end.saving) <= 3 * std::hypot(end.error, there.saving_error));
      ++seen;
    }
  }
  CHECK(seen == 2);
}

TEST_CASE("an order that is best now is not carried to a price at which nobody would place it") {
  Case c = example("stock-scanner.toml", {"replacement.1.price=82.5"});
  for (const BreakEven& b : weighed(c, by_precision, true).break_evens) {
    if (b.key != "common.part_price") continue;
    for (auto& offer : c.parts[0].candidates[0].offers) {
      for (auto& step : offer.prices) step.each = step.each.scaled(b.high / b.current);
    }
    const Verdict there = weighed(c, by_precision, false).verdict;
    CAPTURE(*there.saving);
    CHECK(std::abs(*there.saving - b.saving_high) <= 0.05 * b.high);
    return;
  }
  FAIL("no such number");
}

TEST_CASE("turning values of random cases") {
  const int cases = test::random_cases(50);
  const RandomBlocks random(20261127);
  Count count;
  for (std::uint64_t i = 0; i < static_cast<std::uint64_t>(cases); ++i) {
    CAPTURE(i);
    const auto u = random(Stream::inputs, i, 0);
    const auto v = random(Stream::inputs, i, 1);
    Case c = test::minimal_case();
    c.horizon.years.reset();
    c.positions[0].count = 1 + static_cast<int>(4 * u[0]);
    c.device.age_years = test::exactly(1.0 + 6.0 * u[1]);
    c.device.use_per_day = test::exactly(30.0 * std::pow(20.0, u[2]));
    c.risks.opening_write_off = test::exactly(0.06 * u[3]);
    c.risks.diagnosis_right = test::exactly(1.0 - 0.2 * v[0]);
    c.rest.remaining_years = test::exactly(1.0 + 6.0 * v[1]);
    c.replacements[0].price = test::exactly(20.0 + 100.0 * v[2]);
    c.labour.rate_per_hour = test::exactly(40.0 * v[3]);
    check_turning_values(c, thousand, count);
  }
  count.check(2 * cases);
}
