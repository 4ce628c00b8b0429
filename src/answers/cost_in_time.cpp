#include "answers/cost_in_time.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>

#include "answers/settings.hpp"
#include "answers/verdict.hpp"
#include "futures/parallel.hpp"
#include "futures/worker.hpp"

namespace mendworth {
namespace {

constexpr int band_futures = 512, futures_a_block = 128;
constexpr std::size_t times = 48;
/// Of the random blocks of how long a device lasts: the one at hand comes before.
constexpr std::uint64_t first_later_device = 1'000'000;

/// Devices bought one after the other, each with a life of its own.
class LaterDevices {
 public:
  LaterDevices(const Contest& contest, const MoneyInTime& means, std::size_t bins, std::uint64_t seed)
      : contest_(contest),
        random_(seed),
        step_(means.step),
        bins_(bins),
        rate_(std::log1p(contest.model.c.horizon.discount_rate.base())),
        survival_(contest.items.devices.size()) {}

  /// Survival at the ends of the bins of the devices that may be drawn; before draws from several threads.
  void prepare(int replacement) {
    auto& survival = survival_[static_cast<std::size_t>(replacement)];
    for (std::size_t i = survival.size(); i <= bins_; ++i)
      survival.push_back(contest_.chains.life(replacement).survival(step_ * static_cast<double>(i)));
  }

  /// Adds to the cost by bin what this device, bought at t, and those after it cost.
  void add(std::vector<double>& cost, double t, int replacement, Phase phase, std::uint64_t future) const {
    for (std::uint64_t number = 0; t < step_ * static_cast<double>(bins_); ++number) {
      const auto& items = contest_.items.devices[static_cast<std::size_t>(replacement)];
      const auto from = std::min(static_cast<std::size_t>(t / step_), bins_ - 1);
      cost[from] += unit(items.device[phase]) * std::exp(-rate_ * t);
      const double end = t + life(replacement, random_(Stream::rest, future, first_later_device + number)[0]);
      if (const double benefit = unit(items.benefit); benefit != 0) {
        for (std::size_t i = from; i < bins_ && step_ * static_cast<double>(i) < end; ++i) {
          const double a = std::max(t, step_ * static_cast<double>(i));
          const double b = std::min(end, step_ * static_cast<double>(i + 1));
          cost[i] += benefit * (b - a) * std::exp(-rate_ * 0.5 * (a + b));
        }
      }
      t = end;
      replacement = contest_.chains.best();
      phase = Phase::later;
    }
  }

 private:
  [[nodiscard]] double unit(int item) const { return contest_.unit[static_cast<std::size_t>(item)].total(); }
  /// Straight between the ends of bins; beyond the last one it does not matter.
  [[nodiscard]] double life(int replacement, double u) const {
    const auto& survival = survival_[static_cast<std::size_t>(replacement)];
    const auto next = std::lower_bound(survival.begin(), survival.end(), u, std::greater<>());
    if (next == survival.end()) return step_ * static_cast<double>(bins_ + 1);
    if (next == survival.begin()) return 0.5 * step_;
    const double before = *(next - 1);
    const double share = before > *next ? (before - u) / (before - *next) : 0.5;
    return step_ * (static_cast<double>(next - survival.begin()) - 1 + share);
  }

  const Contest& contest_;
  RandomBlocks random_;
  double step_;
  std::size_t bins_;
  double rate_;
  std::vector<std::vector<double>> survival_;  // by replacement
};

}  // namespace

CostInTime cost_in_time(const Contest& contest, std::size_t repair, std::size_t replacement,
                        const MoneyInTime& means, const WeighSettings& settings) {
  const std::size_t bins = means.cost[repair].size();
  std::array<std::size_t, times + 1> ends{};  // of the bins up to which is told
  for (std::size_t k = 1; k <= times; ++k) ends[k] = k * bins / times - 1;
  const std::array<std::size_t, 2> numbers = {repair, replacement};
  const int futures = at_most(band_futures, settings);

  LaterDevices later(contest, means, bins, settings.seed);
  for (int r = 0; r < static_cast<int>(contest.items.devices.size()); ++r) later.prepare(r);
  std::array<std::vector<std::vector<double>>, 2> sums;  // of each course: [time][future]
  for (auto& of_course : sums)
    of_course.assign(ends.size(), std::vector<double>(static_cast<std::size_t>(futures)));
  const int blocks = (futures + futures_a_block - 1) / futures_a_block;
  const int threads = std::clamp(settings.threads, 1, blocks);
  std::vector<std::unique_ptr<Worker>> workers(static_cast<std::size_t>(threads));
  for_each_parallel(blocks, threads, [&](int w, int b) {
    auto& worker = workers[static_cast<std::size_t>(w)];
    if (!worker)
      worker = std::make_unique<Worker>(contest.scene(),
                                        WorkerSettings{.seed = settings.seed, .draw_prices = false});
    Tally tally;
    tally.reset(contest.items.size());
    for (int f = b * futures_a_block; f < std::min((b + 1) * futures_a_block, futures); ++f) {
      Future& future = worker->begin(static_cast<std::uint64_t>(f));
      for (std::size_t o = 0; o < numbers.size(); ++o) {
        const Option& option = contest.options[numbers[o]];
        Timeline timeline(means.step, static_cast<int>(bins));
        tally.clear();
        worker->runner().run(option, future, worker->prices(), tally, {.timeline = &timeline});
        const auto number = static_cast<std::uint64_t>(f);
        if (option.kind == OptionKind::replacement) {
          later.add(timeline.cost, 0.0, option.replacement, Phase::first, number);
        } else if (contest.chains.best() >= 0) {
          const auto given_up = std::find_if(timeline.given_up.begin(), timeline.given_up.end(),
                                             [](double amount) { return amount != 0; });
          if (given_up != timeline.given_up.end()) {
            const double t = means.step * (static_cast<double>(given_up - timeline.given_up.begin()) + 0.5);
            later.add(timeline.cost, t, contest.chains.best(), Phase::later, number);
          }
        }
        double so_far = 0;
        std::size_t k = 0;
        for (std::size_t i = 0; i < bins; ++i) {
          so_far += timeline.cost[i];
          for (; k < ends.size() && ends[k] == i; ++k) sums[o][k][static_cast<std::size_t>(f)] = so_far;
        }
      }
    }
  });

  CostInTime answer;
  for (std::size_t o = 0; o < numbers.size(); ++o) {
    auto& course = o == 0 ? answer.repair : answer.replacement;
    for (std::size_t k = 0; k < ends.size(); ++k) {
      course.push_back({means.step * static_cast<double>(ends[k] + 1), means.cost[numbers[o]][ends[k]],
                        sample_quantile(sums[o][k], 0.1), sample_quantile(sums[o][k], 0.9)});
    }
  }
  return answer;
}

}  // namespace mendworth
