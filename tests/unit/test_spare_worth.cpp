#include <doctest/doctest.h>

#include <random>
#include <vector>

#include "answers/spare_worth.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

TEST_CASE("levelled: steps never rise, the total stays, and steps keep within their limits") {
  // Steps 1, 3, 2: the first two are pooled to 2, 2, and the third stays.
  const WorthCurve curve = levelled({0, 1, 4, 6}, 0, 10);
  REQUIRE(curve.size() == 4);
  CHECK(near_abs(curve[1], 2, 1e-12));
  CHECK(near_abs(curve[2], 4, 1e-12));
  CHECK(near_abs(curve[3], 6, 1e-12));
  // Limits: no step above 1.5, none below 0.25.
  const WorthCurve limited = levelled({0, 3, 3.1, 3.1}, 0.25, 1.5);
  CHECK(near_abs(limited[1], 1.5, 1e-12));
  CHECK(near_abs(limited[3] - limited[2], 0.25, 1e-12));
  CHECK(levelled({0}, 0, 1) == WorthCurve{0});

  std::mt19937_64 engine(3);
  std::normal_distribution<double> noise(0.2, 1.0);
  for (int trial = 0; trial < 200; ++trial) {
    WorthCurve rough{0};
    for (int k = 0; k < 12; ++k) rough.push_back(rough.back() + noise(engine));
    const WorthCurve smooth = levelled(rough, 0, 5);
    double last = 5;
    for (std::size_t k = 1; k < smooth.size(); ++k) {
      const double step = smooth[k] - smooth[k - 1];
      CHECK(step <= last + 1e-12);
      CHECK(step >= -1e-12);
      last = step;
    }
  }
}
