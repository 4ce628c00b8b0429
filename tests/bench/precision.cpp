// How far the saving is from the truth, on every example that has one.
//
// "error at equal time": plain sampling draws every number for itself and prices each future as drawn; its error is the
// spread of the saving over futures by the root of their number. Ours is how the saving differs between seeds, at the
// same plans. `times_smaller` is plain over ours if both have the same processor time; `at_equal_futures` the same for the
// same number of futures. "interval": over 200 seeds, the share of whole weighings, each with the plans it chose itself,
// whose saving is within 2.13 of its errors of their mean (Student's t for sixteen randomisations, 95 %), and how much
// the savings differ by the error that was stated, both as root mean squares.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <filesystem>
#include <string>
#include <vector>

#include "answers/contest.hpp"
#include "draw_count.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/weigh.hpp"

namespace {

using namespace mendworth;

constexpr int futures = 2048, sets = 100, seeds = 200;
constexpr double student_95 = 2.131;  ///< 15 degrees of freedom

double root_mean_square(const std::vector<double>& values) {
  double squares = 0;
  for (const double value : values) squares += value * value;
  return std::sqrt(squares / static_cast<double>(values.size()));
}

std::vector<double> off_mean(std::vector<double> values) {
  const auto n = static_cast<double>(values.size());
  double mean = 0;
  for (const double value : values) mean += value / n;
  // As if from the true mean.
  for (double& value : values) value = (value - mean) * std::sqrt(n / (n - 1));
  return values;
}

void error_at_equal_time(benchmark::State& state, const Case& c) {
  ModelCache cache;
  const WeighSettings settings{.futures = futures, .threads = 1};
  const Contest contest(c, built_in_rates(), {}, settings, effort_for(settings), cache);
  const auto means = contest.mean_costs();
  const auto repair = contest.best_repair(means), replacement = contest.best_replacement(means);
  if (!repair || !replacement) return state.SkipWithError("no saving");
  const std::vector<Option> options = {contest.options[*replacement], contest.options[*repair]};
  const auto run = [&](std::uint64_t seed) {
    return run_ensemble(contest.scene(), options,
                        {.seed = seed, .futures = futures, .threads = 1, .keep_costs = true});
  };
  std::vector<double> ours, plain;
  double our_time = 0, plain_time = 0;
  for ([[maybe_unused]] auto iteration : state) {
    for (std::uint64_t seed = 1; seed <= sets; ++seed) {
      std::clock_t start = std::clock();
      const Ensemble spread_evenly = run(seed);
      our_time += static_cast<double>(std::clock() - start);
      ours.push_back(spread_evenly.mean_cost(0) - spread_evenly.mean_cost(1));
      const bench::PlainSampling sampling;
      start = std::clock();
      const Ensemble drawn = run(seed);
      plain_time += static_cast<double>(std::clock() - start);
      for (std::size_t f = 0; f < futures; ++f) plain.push_back(drawn.spread(0)[f] - drawn.spread(1)[f]);
    }
  }
  const double our_error = root_mean_square(off_mean(std::move(ours)));
  const double plain_error = root_mean_square(off_mean(std::move(plain))) / std::sqrt(futures);
  state.counters["at_equal_futures"] = plain_error / our_error;
  state.counters["times_smaller"] = plain_error / our_error * std::sqrt(plain_time / our_time);
}

void interval(benchmark::State& state, const Case& c) {
  std::vector<double> savings, errors;
  for ([[maybe_unused]] auto iteration : state) {
    for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
      const Verdict verdict =
          weigh(c, built_in_rates(), {.seed = seed, .threads = 1, .what_ifs = false}).verdict;
      if (!verdict.saving) return state.SkipWithError("no saving");
      savings.push_back(*verdict.saving);
      errors.push_back(verdict.saving_error);
    }
  }
  const std::vector<double> off = off_mean(savings);
  double within = 0;
  for (std::size_t i = 0; i < off.size(); ++i) within += std::abs(off[i]) <= student_95 * errors[i] ? 1 : 0;
  state.counters["within"] = within / static_cast<double>(off.size());
  state.counters["off_by_stated"] = root_mean_square(off) / root_mean_square(errors);
}

/// All examples by name.
[[maybe_unused]] const bool registered = [] {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(MENDWORTH_SOURCE_DIR "/examples")) {
    if (entry.path().extension() == ".toml" && entry.path().stem() != "shop") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  for (const auto& file : files) {
    const std::string name = file.stem().string();
    const auto read = [file] {
      return read_case(read_text_file(file.string()), file.filename().string(), built_in_rates());
    };
    benchmark::RegisterBenchmark(("precision, error at equal time: " + name).c_str(),
                                 [read](benchmark::State& state) { error_at_equal_time(state, read()); })
        ->Iterations(1)
        ->Unit(benchmark::kSecond);
    benchmark::RegisterBenchmark(("precision, interval: " + name).c_str(),
                                 [read](benchmark::State& state) { interval(state, read()); })
        ->Iterations(1)
        ->Unit(benchmark::kSecond);
  }
  return true;
}();

}  // namespace
