#pragma once

#include <array>
#include <map>
#include <vector>

#include "lifetime/observations.hpp"

namespace mendworth::lifetime {

/// Sums over many ages of weight exp(shape x) times 1, x and x^2, for shape after shape. With many ages a
/// shape is taken as anchor + d, |d| <= anchor/5, and the sums are power series in d about anchors tabulated
/// when first needed: what is left out is below 0.2^24, since exp(-v) (0.2 v)^n/n! is nowhere above 0.2^n.
/// The ages must not lie above their centre (x <= 0).
class HazardSums {
 public:
  struct Value {
    double sum = 0, first = 0, second = 0;
  };

  explicit HazardSums(std::vector<LogAge> ages) : ages_(std::move(ages)) {}

  [[nodiscard]] Value at(double shape) const;

 private:
  static constexpr std::size_t order = 26;
  struct Anchor {
    double shape = 0;
    std::array<double, order> moments{};  // sum of weight exp(shape x) (shape x)^k/k!
  };
  [[nodiscard]] Value directly(double shape) const;
  [[nodiscard]] const Anchor& anchor(int index) const;

  std::vector<LogAge> ages_;
  mutable std::map<int, Anchor> anchors_;  // a cache: what `at` returns does not depend on it
};

}  // namespace mendworth::lifetime
