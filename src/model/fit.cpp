#include "model/fit.hpp"

#include <algorithm>
#include <cstddef>
#include <stdexcept>
#include <utility>

namespace mendworth {
namespace {

constexpr double rounding_mm = 1e-9;
constexpr double rounding_share = 1e-9;

constexpr FitWindow none_fits{0, 0};

/// True dimensions with the chance that nothing tried so far fits them.
struct Box {
  std::vector<FitWindow> sides;
  double nothing_fits = 1;

  [[nodiscard]] double volume() const {
    double product = 1;
    for (const FitWindow& side : sides) product *= side.chance();
    return product;
  }
};

FitWindow overlap(const FitWindow& a, const FitWindow& b) {
  const double low = std::max(a.low, b.low), high = std::min(a.high, b.high);
  return low < high ? FitWindow{low, high} : none_fits;
}

/// Cuts off, side by side, what lies outside of the windows; what is left of the box lies within them. The pieces cut
/// off go to `outside`. False, and nothing cut off, if nothing would be left.
bool cut_down(Box& box, const std::vector<FitWindow>& windows, std::vector<Box>& outside) {
  for (std::size_t d = 0; d < windows.size(); ++d) {
    if (overlap(box.sides[d], windows[d]).chance() <= 0) return false;
  }
  const auto cut_off = [&](std::size_t d, double low, double high) {
    if (low >= high) return;
    outside.push_back(box);
    outside.back().sides[d] = {low, high};
  };
  for (std::size_t d = 0; d < windows.size(); ++d) {
    const FitWindow whole = box.sides[d], kept = overlap(whole, windows[d]);
    cut_off(d, whole.low, kept.low);
    cut_off(d, kept.high, whole.high);
    box.sides[d] = kept;
  }
  return true;
}

void check_order(const Part& part, std::span<const int> order) {
  std::vector<bool> seen(part.candidates.size());
  for (const int i : order) {
    if (i < 0 || static_cast<std::size_t>(i) >= seen.size() || seen[static_cast<std::size_t>(i)]) {
      throw std::invalid_argument("first_fit: each candidate at most once, by its index");
    }
    seen[static_cast<std::size_t>(i)] = true;
  }
}

}  // namespace

std::optional<double> nominal_of(const Candidate& candidate, std::size_t dimension) {
  return dimension < candidate.nominal.size() ? candidate.nominal[dimension] : std::nullopt;
}

FitWindow fit_window(const Dimension& dimension, std::optional<double> nominal) {
  if (!nominal) return {};
  // The true dimension must lie in [x - above, x + below]; here relative to the measured one.
  const double least = *nominal - dimension.above - dimension.measured;
  const double greatest = *nominal + dimension.below - dimension.measured;
  if (dimension.limit <= rounding_mm) {
    return least <= rounding_mm && greatest >= -rounding_mm ? FitWindow{} : none_fits;
  }
  const double width = 2.0 * dimension.limit;
  double low = std::clamp((least + dimension.limit) / width, 0.0, 1.0);
  double high = std::clamp((greatest + dimension.limit) / width, 0.0, 1.0);
  if (low < rounding_share) low = 0;
  if (high > 1.0 - rounding_share) high = 1;
  return high - low > rounding_share ? FitWindow{low, high} : none_fits;
}

std::vector<FitWindow> fit_windows(const Part& part, const Candidate& candidate) {
  std::vector<FitWindow> windows;
  windows.reserve(part.dimensions.size());
  for (std::size_t d = 0; d < part.dimensions.size(); ++d) {
    windows.push_back(fit_window(part.dimensions[d], nominal_of(candidate, d)));
  }
  return windows;
}

double fit_chance(const Part& part, const Candidate& candidate) {
  double chance = candidate.fit.base();
  for (const FitWindow& window : fit_windows(part, candidate)) chance *= window.chance();
  return chance;
}

FirstFit first_fit(const Part& part, std::span<const int> order) {
  check_order(part, order);
  FirstFit result;
  std::vector<Box> boxes{{std::vector<FitWindow>(part.dimensions.size()), 1.0}};
  for (const int i : order) {
    const Candidate& candidate = part.candidates[static_cast<std::size_t>(i)];
    const std::vector<FitWindow> windows = fit_windows(part, candidate);
    const double fits_else = candidate.fit.base();
    double first = 0;
    std::vector<Box> left;
    for (Box& box : boxes) {
      if (cut_down(box, windows, left)) {
        first += box.volume() * box.nothing_fits * fits_else;
        box.nothing_fits *= 1.0 - fits_else;
      }
      if (box.nothing_fits > 0) left.push_back(std::move(box));
    }
    result.first.push_back(first);
    boxes = std::move(left);
  }
  result.none = 0;
  for (const Box& box : boxes) result.none += box.volume() * box.nothing_fits;
  return result;
}

}  // namespace mendworth
