// A measurement with a known greatest error, as the guide to the expression of uncertainty has it.
#include <doctest/doctest.h>

#include <cmath>

#include "model/fit.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;

namespace {

/// The chance that the true dimension is at most t: a piece of size t that may be larger than it by any amount, but not
/// smaller, fits just those.
double distribution(const Dimension& measured, double t) {
  Dimension window = measured;
  window.below = 0;
  window.above = 1e3;
  return fit_window(window, t).chance();
}

/// Standard deviation from the distribution alone: the variance is the integral of 2 (t - low)(1 - F) over t, less the
/// square of the integral of 1 - F; midpoint rule.
double standard_deviation(const Dimension& measured) {
  constexpr int steps = 20'000;
  const double low = measured.measured - 2 * measured.limit, width = 4 * measured.limit / steps;
  double mean = 0, square = 0;
  for (int k = 0; k < steps; ++k) {
    const double from_low = (k + 0.5) * width;
    const double beyond = 1 - distribution(measured, low + from_low);
    mean += beyond * width;
    square += 2 * from_low * beyond * width;
  }
  return std::sqrt(square - mean * mean);
}

}  // namespace

TEST_SUITE_BEGIN("published: measurement uncertainty");

// JCGM 100:2008 (GUM), 4.3.7: bounds a either way and nothing else known is a rectangular distribution with the
// standard uncertainty a / sqrt(3) = 0.577350269190 a (clause number from memory).
TEST_CASE("the true dimension has the standard uncertainty of a rectangular distribution") {
  for (const double limit : {0.02, 0.05, 0.2}) {
    CAPTURE(limit);
    const Dimension dimension{"width", 12.0, limit, 0, 0};
    CHECK(near_abs(standard_deviation(dimension), 0.577350269190 * limit, 1e-6 * limit));
    CHECK(near_abs(distribution(dimension, 12.0), 0.5, 1e-9));
  }
}

// DIN 862, limits of error for outside measurement up to 100 mm: 20 micrometres for a digital caliper of 0.01 mm step,
// 50 for a vernier of 0.05 or 0.1 mm (from a one-page summary of the standard; the standard of 2015 was not seen). Derived from
// these: a 12.00 mm piece measured at 12.00 mm in a place that takes 0.03 mm either way.
TEST_CASE("what a caliper can promise") {
  // The doubt, 0.02 either way, is within the play of 0.03: it fits for certain.
  CHECK(fit_window({"width", 12.0, 0.02, 0.03, 0.03}, 12.0).chance() == 1);
  // The play is 0.06 of the 0.10 in doubt.
  CHECK(near_abs(fit_window({"width", 12.0, 0.05, 0.03, 0.03}, 12.0).chance(), 0.6, 1e-9));
  // Uncertainty of the digital one: 20 um / sqrt(3) = 11.547 um.
  CHECK(near_abs(1e3 * standard_deviation({"width", 12.0, 0.02, 0, 0}), 11.54700538, 1e-4));
}

TEST_SUITE_END();
