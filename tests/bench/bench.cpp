// How fast the main job is, on the largest example.
//   cmake --preset bench && cmake --build --preset bench && build-bench/tests/bench/mendworth_bench
// Options are those of Google Benchmark, for instance --benchmark_filter=futures,
// --benchmark_repetitions=5. A busy machine spoils times; ratios suffer less, since both sides are measured
// in turn, in processor time. Debian built the benchmark library without optimisation, hence its warning;
// nothing that is timed is in it.
//
// What to look at in "futures, all options": ns_per_future; blocks_per_future, the blocks of four random
// numbers drawn for a future, and distinct_blocks, how many of them were not drawn before for another
// option; ns_drawing, the time to draw the very same blocks alone; ns_transforms, the time to turn as many
// uniforms into unit exponentials, which is the least that a simulation of lives does with them; and the
// ratios to these.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ctime>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "answers/contest.hpp"
#include "answers/plan_search.hpp"
#include "answers/what_if.hpp"
#include "draw_count.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "mendworth/weigh.hpp"
#include "model/life_posterior.hpp"
#include "model/order_book.hpp"
#include "model/purchase.hpp"
#include "numeric/random.hpp"
#include "random_baskets.hpp"

namespace {

using namespace mendworth;

const std::string& largest_text() {
  static const std::string text = read_text_file(MENDWORTH_SOURCE_DIR "/examples/synth-buttons.toml");
  return text;
}

const Case& largest_case() {
  static const Case c = read_case(largest_text(), "synth-buttons.toml", built_in_rates());
  return c;
}

WeighSettings settings_for(int futures, int threads) {
  WeighSettings settings;
  settings.futures = futures;
  settings.threads = threads;
  return settings;
}

/// The options of the largest example with their purchases chosen, ready to be run.
const Contest& largest_contest() {
  static ModelCache cache;
  static const WeighSettings settings = settings_for(1000, 1);
  static const Contest contest(largest_case(), built_in_rates(), {}, settings, effort_for(settings), cache);
  return contest;
}

Ensemble run(int futures) {
  const auto& contest = largest_contest();
  return run_ensemble(contest.scene(), contest.options,
                      {.seed = 1, .futures = futures, .threads = 1, .keep_costs = true});
}

/// Processor time that `work` takes, in seconds: time on the wall would count what others do meanwhile.
template <class Work>
double seconds(Work work) {
  const std::clock_t start = std::clock();
  work();
  return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

std::size_t distinct(const std::vector<bench::Draw>& draws) {
  std::set<std::tuple<Stream, std::uint64_t, std::uint64_t, std::uint64_t>> seen;
  for (const auto& d : draws) seen.insert({d.stream, d.future, d.index, d.sub});
  return seen.size();
}

// Simulating, drawing alone and transforming alone take turns, so that a busy machine slows all three.
void futures_of_all_options(benchmark::State& state) {
  constexpr int futures = 4096;
  std::vector<bench::Draw> draws;
  {
    const bench::DrawRecorder recorder;
    benchmark::DoNotOptimize(run(futures));
    draws = recorder.draws();
  }
  const RandomBlocks random(1);
  const std::size_t blocks = draws.size();
  double simulating = 0, drawing = 0, transforming = 0;
  double sum = 0;
  for ([[maybe_unused]] auto iteration : state) {
    const double simulated = seconds([] { benchmark::DoNotOptimize(run(futures)); });
    simulating += simulated;
    state.SetIterationTime(simulated);
    drawing += seconds([&] {
      for (const auto& d : draws) sum += random(d.stream, d.future, d.index, d.sub)[0];
    });
    transforming += seconds([&] {
      double u = 0.5;
      for (std::size_t i = 0; i < 4 * blocks; ++i) {
        u = u < 0.999 ? u + 0x1p-12 : 0x1p-12;
        sum -= std::log(u);
      }
    });
    benchmark::DoNotOptimize(sum);
  }
  const double each = 1e9 / (static_cast<double>(state.iterations()) * futures);
  state.counters["options"] = static_cast<double>(largest_contest().options.size());
  state.counters["blocks_per_future"] = static_cast<double>(blocks) / futures;
  state.counters["distinct_blocks"] = static_cast<double>(distinct(draws)) / futures;
  state.counters["ns_per_future"] = simulating * each;
  state.counters["ns_drawing"] = drawing * each;
  state.counters["ns_transforms"] = transforming * each;
  state.counters["ratio_to_drawing"] = simulating / drawing;
  state.counters["ratio_with_transforms"] = simulating / (drawing + transforming);
}

void whole_weighing(benchmark::State& state) {
  const auto settings = settings_for(100'000, static_cast<int>(state.range(0)));
  for ([[maybe_unused]] auto iteration : state) {
    benchmark::DoNotOptimize(weigh(largest_case(), built_in_rates(), settings));
  }
}

void whole_quote(benchmark::State& state) {
  QuoteSettings settings;
  settings.threads = static_cast<int>(state.range(0));
  settings.date = {.year = 2026, .month = 3, .day = 2};
  settings.despite_owner_loss = true;
  for ([[maybe_unused]] auto iteration : state) {
    benchmark::DoNotOptimize(quote(largest_case(), Shop{}, built_in_rates(), settings));
  }
}

void rendering(benchmark::State& state) {
  const Weighing w = weigh(largest_case(), built_in_rates(), settings_for(1000, 1));
  for ([[maybe_unused]] auto iteration : state) benchmark::DoNotOptimize(weighing_page(w, {}));
}

void reading_a_case(benchmark::State& state) {
  for ([[maybe_unused]] auto iteration : state) {
    benchmark::DoNotOptimize(read_case(largest_text(), "synth-buttons.toml", built_in_rates()));
  }
}

/// What to renew, with each plan's purchase and rule.
void search_of_plans(benchmark::State& state) {
  const auto& contest = largest_contest();
  for ([[maybe_unused]] auto iteration : state) {
    OrderBook book(contest.model.c, most_pieces_of(contest.model));
    const PlanSearchSettings settings;
    FutureStore store(contest.model, settings.seed, settings.choice_futures);
    benchmark::DoNotOptimize(search_plans(contest.model, contest.chains, book, store, settings));
  }
}

void cheapest_order_of_two_lines(benchmark::State& state) {
  const std::vector<Need> needs = {{0, 0, 10}, {1, 0, 1}};
  for ([[maybe_unused]] auto iteration : state) {
    benchmark::DoNotOptimize(cheapest_order(largest_case(), needs, 1.0, Parcel::alone));
  }
}

/// Twenty random problems in turn; `slowest_ms` is the longest of them in milliseconds.
void best_baskets_of_six_parts(benchmark::State& state) {
  constexpr std::uint64_t kProblems = 20;
  std::vector<bench::BasketProblem> problems;
  for (std::uint64_t n = 1; n <= kProblems; ++n) problems.push_back(bench::random_basket_problem(n));
  double slowest = 0;
  for ([[maybe_unused]] auto iteration : state) {
    for (const bench::BasketProblem& problem : problems) {
      const double taken = seconds([&] {
        benchmark::DoNotOptimize(
            best_baskets(problem.c, problem.wishes, problem.day_cost, {}, static_cast<int>(state.range(0))));
      });
      slowest = std::max(slowest, 1000 * taken);
    }
  }
  state.counters["per_problem"] =
      benchmark::Counter(static_cast<double>(state.iterations()) * static_cast<double>(kProblems),
                         benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
  state.counters["slowest_ms"] = slowest;
}

/// What this device tells about its buttons.
const std::vector<WearEvidence>& button_evidence() { return largest_contest().model.evidence.front(); }

void posterior_in_a_range(benchmark::State& state) {
  const auto& life = largest_case().parts.front().life;
  for ([[maybe_unused]] auto iteration : state) {
    benchmark::DoNotOptimize(LifePosterior(life, button_evidence(), -2.0, 1.0));
  }
}

void posterior_at_one_z(benchmark::State& state) {
  const auto& life = largest_case().parts.front().life;
  for ([[maybe_unused]] auto iteration : state) {
    benchmark::DoNotOptimize(LifePosterior(life, button_evidence(), 0.0, 0.0));
  }
}

void posterior_draw(benchmark::State& state) {
  const LifePosterior posterior(largest_case().parts.front().life, button_evidence(), -2.0, 1.0);
  double u = 0.5;
  for ([[maybe_unused]] auto iteration : state) {
    u = u < 0.99 ? u + 0x1p-9 : 0x1p-9;
    benchmark::DoNotOptimize(posterior.draw(3 * u - 2, u, 1 - u));
  }
}

void random_block(benchmark::State& state) {
  const RandomBlocks random(1);
  std::uint64_t future = 0;
  for ([[maybe_unused]] auto iteration : state) {
    benchmark::DoNotOptimize(random(Stream::lives, ++future, 0));
  }
}

BENCHMARK(futures_of_all_options)
    ->Name("futures, all options")
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK(whole_weighing)
    ->Name("weigh, 100,000 futures, threads")
    ->Arg(1)
    ->Arg(2)
    ->UseRealTime()
    ->MeasureProcessCPUTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK(whole_quote)
    ->Name("quote, 20,000 futures, threads")
    ->Arg(1)
    ->Arg(2)
    ->UseRealTime()
    ->MeasureProcessCPUTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK(rendering)->Name("render as text")->Unit(benchmark::kMicrosecond);
BENCHMARK(reading_a_case)->Name("read_case")->Unit(benchmark::kMicrosecond);
BENCHMARK(search_of_plans)->Name("search_plans")->Unit(benchmark::kMillisecond);
BENCHMARK(cheapest_order_of_two_lines)->Name("cheapest_order, two lines")->Unit(benchmark::kMicrosecond);
BENCHMARK(best_baskets_of_six_parts)
    ->Name("best_baskets, 20 problems of 6 x 4 x 5 x 8, wanted")
    ->Arg(1)
    ->Arg(5)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(posterior_in_a_range)->Name("LifePosterior, z in a range")->Unit(benchmark::kMicrosecond);
BENCHMARK(posterior_at_one_z)->Name("LifePosterior, one z")->Unit(benchmark::kMicrosecond);
BENCHMARK(posterior_draw)->Name("LifePosterior::draw")->Unit(benchmark::kNanosecond);
BENCHMARK(random_block)->Name("one block of random numbers")->Unit(benchmark::kNanosecond);

}  // namespace

BENCHMARK_MAIN();
