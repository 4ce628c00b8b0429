// How the time of a whole weighing grows with the size of a case and with the number of futures: the order that fits best,
// and how well (RMS), stand below the times.
#include <benchmark/benchmark.h>

#include <string>

#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/weigh.hpp"

namespace {

using namespace mendworth;

/// An instrument with one button, one supplier and one new one to be had.
Case plain_case() {
  return read_case(R"(
[device]
name = "tuning box"
currency = "EUR"
age_years = 6.0
use_per_day = { low = 100.0, high = 300.0 }
life_years = 12.0
[labour]
rate_per_hour = 20.0
visit_minutes = 20.0
[[part]]
name = "button"
rated_life = 400000.0
life_unit = "cycles"
failed_at_rated = 0.1
[[part.candidate]]
name = "button, 5 mm"
fit = 0.95
[[part.candidate.offer]]
supplier = "near"
prices = [{ from = 1, each = 0.80 }, { from = 10, each = 0.50 }]
[[supplier]]
name = "near"
lead_days = 2.0
shipping = 4.0
[[position]]
name = "keys"
part = "button"
count = 4
failed = 1
minutes = 6.0
[[replacement]]
name = "a new one"
price = 120.0
life_years = 9.0
)",
                   "tuning-box.toml", built_in_rates());
}

constexpr int few_futures = 512;

void weigh_it(benchmark::State& state, const Case& c, int futures) {
  for ([[maybe_unused]] auto iteration : state)
    benchmark::DoNotOptimize(weigh(c, built_in_rates(), {.futures = futures, .threads = 1}));
  state.SetComplexityN(state.range(0));
}

void positions(benchmark::State& state) {
  Case c = plain_case();
  c.positions[0].count = static_cast<int>(state.range(0));
  weigh_it(state, c, few_futures);
}

void parts(benchmark::State& state) {
  Case c = plain_case();
  for (int p = 1; p < state.range(0); ++p) {
    c.parts.push_back(c.parts[0]);
    c.parts.back().name += std::to_string(p);
    c.positions.push_back(c.positions[0]);
    c.positions.back().name += std::to_string(p);
    c.positions.back().part = p;
    c.positions.back().failed = 0;
    c.positions.back().count = 1;
  }
  weigh_it(state, c, few_futures);
}

void candidates(benchmark::State& state) {
  Case c = plain_case();
  auto& list = c.parts[0].candidates;
  for (int k = 1; k < state.range(0); ++k) {
    list.push_back(list[0]);
    list.back().name += std::to_string(k);
  }
  weigh_it(state, c, few_futures);
}

void replacements(benchmark::State& state) {
  Case c = plain_case();
  for (int r = 1; r < state.range(0); ++r) {
    c.replacements.push_back(c.replacements[0]);
    c.replacements.back().name += std::to_string(r);
    c.replacements.back().price = Quantity::exactly(120.0 + r);
  }
  weigh_it(state, c, few_futures);
}

void futures(benchmark::State& state) { weigh_it(state, plain_case(), static_cast<int>(state.range(0))); }

void grow(const char* name, void (*what)(benchmark::State&), int from, int to) {
  benchmark::RegisterBenchmark(name, what)
      ->RangeMultiplier(2)
      ->Range(from, to)
      ->Complexity()
      ->Unit(benchmark::kMillisecond);
}

[[maybe_unused]] const bool registered = [] {
  grow("growth, positions", positions, 1, 256);
  grow("growth, parts", parts, 1, 32);
  grow("growth, candidates", candidates, 1, 32);
  grow("growth, replacements", replacements, 1, 32);
  grow("growth, futures", futures, 1024, 65536);
  return true;
}();

}  // namespace
