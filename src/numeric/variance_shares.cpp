#include "numeric/variance_shares.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace mendworth {
namespace {

constexpr std::size_t most_batches = 16;  // behind an error; samples go to them by turns
constexpr std::size_t edges_from = 512;   // samples that tell where blocks end

std::size_t batches_of(std::size_t samples) { return std::clamp<std::size_t>(samples / 4, 2, most_batches); }

/// The statistic of all batches, and its error by leaving out each in turn (the jackknife of groups: B. Efron, "The
/// Jackknife, the Bootstrap and Other Resampling Plans", 1982, chapter 2). Sums is added to and taken from.
template <class Sums, class Statistic>
Estimate jackknifed(const std::vector<Sums>& batches, Statistic statistic) {
  Sums all = batches.front();
  for (std::size_t i = 1; i < batches.size(); ++i) all.add(batches[i], 1.0);
  std::vector<double> without;
  double mean = 0;
  for (const Sums& batch : batches) {
    Sums rest = all;
    rest.add(batch, -1.0);
    without.push_back(statistic(rest));
    mean += without.back() / static_cast<double>(batches.size());
  }
  double squares = 0;
  for (const double value : without) squares += (value - mean) * (value - mean);
  const auto count = static_cast<double>(batches.size());
  return {statistic(all), std::sqrt(squares * (count - 1.0) / count)};
}

/// Of pairs, about a point near their mean, so that no digits are lost.
struct PairSums {
  double count = 0, a = 0, aa = 0, b = 0, bb = 0, ab = 0;
  void add(const PairSums& other, double times) {
    count += times * other.count;
    a += times * other.a;
    aa += times * other.aa;
    b += times * other.b;
    bb += times * other.bb;
    ab += times * other.ab;
  }
};

std::vector<PairSums> sums_of(std::span<const double> a, std::span<const double> b) {
  if (a.size() != b.size() || a.size() < 2)
    throw std::invalid_argument("shares need two evaluations of at least two samples");
  const std::size_t batches = batches_of(a.size());
  std::vector<PairSums> sums(batches);
  const double about = a.front();
  for (std::size_t i = 0; i < a.size(); ++i) {
    const double x = a[i] - about, y = b[i] - about;
    sums[i % batches].add({1.0, x, x * x, y, y * y, x * y}, 1.0);
  }
  return sums;
}

struct BlockSums {
  double count = 0, y = 0, yy = 0;
  std::array<double, 64> n{}, sum{};
  void add(const BlockSums& other, double times) {
    count += times * other.count;
    y += times * other.y;
    yy += times * other.yy;
    for (std::size_t b = 0; b < n.size(); ++b) {
      n[b] += times * other.n[b];
      sum[b] += times * other.sum[b];
    }
  }
};

/// What chance puts into the sum of squares between blocks: as the means of a block differ from batch to batch. Samples
/// that are points of a net are spread more evenly than independent ones, so the variance within blocks does not tell.
double noise_between(const std::vector<BlockSums>& batches) {
  const auto count = static_cast<double>(batches.size());
  double noise = 0;
  for (std::size_t b = 0; b < batches.front().n.size(); ++b) {
    double n = 0, sum = 0;
    for (const BlockSums& batch : batches) {
      n += batch.n[b];
      sum += batch.sum[b];
    }
    if (n < 0.5) continue;
    double squares = 0;
    for (const BlockSums& batch : batches) {
      const double off = batch.sum[b] - batch.n[b] * sum / n;
      squares += off * off;
    }
    noise += squares / n;
  }
  return noise * count / (count - 1.0);
}

/// The sum of squares between blocks, less what chance puts there, over all squares.
double share_between(const BlockSums& sums, double noise) {
  const double mean = sums.y / sums.count;
  const double all = sums.yy - sums.count * mean * mean;
  double between = 0;
  for (std::size_t b = 0; b < sums.n.size(); ++b) {
    if (sums.n[b] > 0.5) between += sums.sum[b] * sums.sum[b] / sums.n[b];
  }
  between -= sums.count * mean * mean;
  return all > 0 ? (between - noise) / all : 0.0;
}

}  // namespace

Blocks Blocks::cut(std::span<const double> x, int most) {
  if (x.empty() || most < 2 || most > 64) throw std::invalid_argument("no samples, or not 2 to 64 blocks");
  std::vector<double> sorted;
  const std::size_t step = std::max<std::size_t>(1, x.size() / edges_from);
  for (std::size_t i = 0; i < x.size(); i += step) sorted.push_back(x[i]);
  std::sort(sorted.begin(), sorted.end());
  std::vector<double> edges = sorted;
  edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
  if (edges.size() > static_cast<std::size_t>(most)) {
    edges.clear();
    for (int b = 0; b < most; ++b) {
      const std::size_t end =
          sorted.size() * static_cast<std::size_t>(b + 1) / static_cast<std::size_t>(most);
      if (edges.empty() || edges.back() < sorted[end - 1]) edges.push_back(sorted[end - 1]);
    }
  }
  // A block goes up to its edge, the last one on; searched without branches, which could not be foretold.
  std::array<double, 64> ends{};
  ends.fill(std::numeric_limits<double>::infinity());
  std::copy(edges.begin(), edges.end() - 1, ends.begin());
  Blocks blocks;
  blocks.of.reserve(x.size());
  blocks.share.assign(edges.size(), 0.0);
  blocks.value.assign(edges.size(), 0.0);
  for (const double value : x) {
    std::size_t at = 0;
    for (const std::size_t half : {32U, 16U, 8U, 4U, 2U, 1U}) at += ends[at + half - 1] < value ? half : 0;
    blocks.of.push_back(static_cast<std::uint16_t>(at));
    blocks.share[at] += 1.0;
    blocks.value[at] += value;
  }
  for (std::size_t b = 0; b < edges.size(); ++b) {
    blocks.value[b] /= blocks.share[b];
    blocks.share[b] /= static_cast<double>(x.size());
  }
  return blocks;
}

Estimate first_order_share(const Blocks& input, std::span<const double> result) {
  if (input.of.size() != result.size() || result.size() < 2)
    throw std::invalid_argument("blocks and results are not of the same samples");
  const std::size_t batches = batches_of(result.size());
  std::vector<BlockSums> sums(batches);
  const double about = result.front();
  for (std::size_t i = 0; i < result.size(); ++i) {
    BlockSums& batch = sums[i % batches];
    const double y = result[i] - about;
    batch.count += 1.0;
    batch.y += y;
    batch.yy += y * y;
    batch.n[input.of[i]] += 1.0;
    batch.sum[input.of[i]] += y;
  }
  const double noise = noise_between(sums);
  return jackknifed(sums, [noise](const BlockSums& s) { return share_between(s, noise); });
}

Estimate shared_share(std::span<const double> result, std::span<const double> all_else_anew) {
  return jackknifed(sums_of(result, all_else_anew), [](const PairSums& s) {
    const double mean = (s.a + s.b) / (2.0 * s.count);
    const double variance = (s.aa + s.bb) / (2.0 * s.count) - mean * mean;
    return variance > 0 ? (s.ab / s.count - mean * mean) / variance : 0.0;
  });
}

Estimate total_share(std::span<const double> result, std::span<const double> drawn_anew) {
  return jackknifed(sums_of(result, drawn_anew), [](const PairSums& s) {
    // Both evaluations have the same law, so both tell the variance.
    const double mean = (s.a + s.b) / (2.0 * s.count);
    const double variance = (s.aa + s.bb) / (2.0 * s.count) - mean * mean;
    return variance > 0 ? std::max(0.0, s.aa + s.bb - 2.0 * s.ab) / (2.0 * s.count * variance) : 0.0;
  });
}

}  // namespace mendworth
