#include "answers/verdict.hpp"

#include <algorithm>
#include <cmath>

#include "numeric/round_step.hpp"

namespace mendworth {
namespace {

constexpr double clear_share = 0.80;
constexpr double leaning_share = 0.60;

/// Repair, replacement and leaving it are three kinds of answer; two repair plans are one.
int kind_of_answer(OptionKind kind) {
  switch (kind) {
    case OptionKind::repair:
    case OptionKind::licensed_repair: return 0;
    case OptionKind::replacement: return 1;
    default: return 2;
  }
}

VerdictKind verdict_kind(const Contest& contest, std::size_t best) {
  if (contest.referred) return VerdictKind::refer;
  if (contest.model.c.device.must_keep) return VerdictKind::keep;
  if (contest.unpriced) return VerdictKind::price_unknown;
  switch (kind_of_answer(contest.options[best].kind)) {
    case 0: return VerdictKind::repair;
    case 1: return VerdictKind::replace;
    default: return VerdictKind::leave;
  }
}

void add_saving(Verdict& verdict, const Contest& contest, std::size_t repair, std::size_t replacement) {
  const auto& mended = contest.ensemble.costs[repair];
  const auto& bought = contest.ensemble.costs[replacement];
  const std::size_t n = mended.size();
  std::vector<double> savings(n);
  std::size_t cheaper = 0;
  double total = 0;
  for (std::size_t f = 0; f < n; ++f) {
    savings[f] = bought[f] - mended[f];
    total += savings[f];
    if (savings[f] > 0) ++cheaper;
  }
  const double count = static_cast<double>(n);
  const double mean = total / count;
  double squares = 0;
  for (const double s : savings) squares += (s - mean) * (s - mean);
  verdict.saving = mean;
  verdict.saving_error = n > 1 ? std::sqrt(squares / (count - 1.0) / count) : 0.0;
  verdict.repair_cheaper_share = static_cast<double>(cheaper) / count;
  verdict.saving_p10 = sample_quantile(savings, 0.10);
  verdict.saving_p50 = sample_quantile(savings, 0.50);
  verdict.saving_p90 = sample_quantile(savings, 0.90);
}

/// How the futures agree that the best option is cheaper than the next-best of another kind.
void add_agreement(Verdict& verdict, const Contest& contest, std::size_t best, std::size_t other) {
  const auto& a = contest.ensemble.costs[best];
  const auto& b = contest.ensemble.costs[other];
  const auto n = static_cast<double>(a.size());
  double mean = 0, squares = 0;
  std::size_t agree = 0;
  for (std::size_t f = 0; f < a.size(); ++f) {
    agree += a[f] < b[f] ? 1U : 0U;
    mean += (b[f] - a[f]) / n;
  }
  for (std::size_t f = 0; f < a.size(); ++f) squares += (b[f] - a[f] - mean) * (b[f] - a[f] - mean);
  verdict.lead_error = n > 1 ? std::sqrt(squares / (n - 1.0) / n) : 0.0;
  verdict.agreeing_share = static_cast<double>(agree) / n;
  verdict.confidence = confidence_of(verdict.agreeing_share);
}

}  // namespace

Confidence confidence_of(double share) noexcept {
  return share >= clear_share     ? Confidence::clear
         : share >= leaning_share ? Confidence::leaning
                                  : Confidence::toss_up;
}

double sample_quantile(std::vector<double>& values, double u) {
  const double place = u * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::ptrdiff_t>(std::floor(place));
  const auto nth = values.begin() + below;
  std::nth_element(values.begin(), nth, values.end());
  const double low = *nth;
  if (nth + 1 == values.end()) return low;
  const double high = *std::min_element(nth + 1, values.end());
  return low + (place - std::floor(place)) * (high - low);
}

std::vector<SavingBin> saving_bins(const std::vector<double>& cost, const std::vector<double>& other_cost) {
  constexpr double left_out = 0.005, wanted_bins = 24;
  std::vector<double> savings(cost.size());
  for (std::size_t f = 0; f < cost.size(); ++f) savings[f] = other_cost[f] - cost[f];
  const double low = sample_quantile(savings, left_out), high = sample_quantile(savings, 1 - left_out);
  // Futures that all save the same still have a range around them.
  const double least = std::max({std::abs(low), std::abs(high), 1.0}) * 1e-3;
  const double step = round_step(std::max(high - low, least) / wanted_bins);
  const double first = std::floor(low / step);
  std::vector<SavingBin> bins(static_cast<std::size_t>(std::floor(high / step) - first) + 1);
  for (std::size_t i = 0; i < bins.size(); ++i) {
    bins[i].low = step * (first + static_cast<double>(i));
    bins[i].high = step * (first + static_cast<double>(i) + 1);
  }
  for (const double saving : savings) {
    const double at = std::floor(saving / step) - first;
    if (at >= 0 && at < static_cast<double>(bins.size()))
      bins[static_cast<std::size_t>(at)].share += 1.0 / static_cast<double>(savings.size());
  }
  return bins;
}

Verdict verdict_of(const Contest& contest, const std::vector<OptionResult>& results,
                   const std::vector<double>& costs) {
  Verdict verdict;
  const auto repair = contest.best_repair(costs);
  const auto replacement = contest.best_replacement(costs);
  if (repair) verdict.best_repair = results[*repair].name;
  if (replacement) verdict.best_replacement = results[*replacement].name;
  const auto best = contest.least(costs, [](std::size_t) { return true; });
  if (!best) {
    verdict.kind = contest.referred ? VerdictKind::refer : VerdictKind::keep;
    return verdict;
  }
  verdict.kind = verdict_kind(contest, *best);
  verdict.best = results[*best].name;
  // A saving against a price that is only assumed would say nothing.
  if (repair && replacement && !contest.unpriced) add_saving(verdict, contest, *repair, *replacement);
  const int kind = kind_of_answer(contest.options[*best].kind);
  const auto other =
      contest.least(costs, [&](std::size_t i) { return kind_of_answer(contest.options[i].kind) != kind; });
  if (other && !contest.unpriced) {
    verdict.lead = costs[*other] - costs[*best];
    verdict.lead_over = results[*other].name;
    add_agreement(verdict, contest, *best, *other);
  }
  return verdict;
}

}  // namespace mendworth
