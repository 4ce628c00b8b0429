#include <doctest/doctest.h>

#include <cmath>

#include "answers/bulk_fleet.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

/// Six buttons a device and none failed; their life is known to a factor of two.
Case six_buttons(int renewed) {
  Case c = minimal_case();
  c.positions[0].count = 6;
  c.positions[0].failed = 0;
  c.positions[0].renewed = renewed;
  c.positions[0].renewed_years_ago = exactly(0.001);
  c.parts[0].life.rated_life = exactly(100'000);
  c.parts[0].life.life_spread = 2;
  return c;
}

double mean_log_scale(const Case& c, int devices) {
  const Fleet fleet(c, {.devices = devices, .failed = 0}, 2048, 1);
  double sum = 0;
  for (const FleetFuture& future : fleet.futures()) sum += future.parts.front().log_scale;
  return sum / static_cast<double>(fleet.futures().size());
}

}  // namespace

// Derived: pieces renewed yesterday have lived through nothing, so the mean of ln(scale) stays that of the lognormal
// prior, ln of the scale at which 10 % fail at the rated life, relative to four years of use; pieces that have lived for
// four years in forty devices say that lives are longer.
TEST_CASE("what was renewed in each device of a fleet is no evidence for long lives") {
  const double prior = std::log(100'000.0 / std::sqrt(-std::log(0.9)) / (4 * 365.25 * 50));
  CHECK(near_abs(mean_log_scale(six_buttons(6), 40), prior, 0.02));
  CHECK(mean_log_scale(six_buttons(0), 40) > prior + 0.1);
}

// Derived: ten devices of six buttons; after ten thousand years every button has failed that works now, be it an original
// or a renewed one, and each place counts once.
TEST_CASE("every place of a fleet that works fails once in the end") {
  Case c = six_buttons(2);
  CHECK(near_abs(Fleet(c, {.devices = 10, .failed = 0}, 64, 1).failures(0, 1e4).mean(), 60, 1e-9));
  c.positions[0].failed = 1;
  const Fleet fleet(c, {.devices = 10, .failed = 3}, 64, 1);
  CHECK(fleet.failed_now(0) == 3);
  CHECK(near_abs(fleet.failures(0, 1e4).mean(), 57, 1e-9));
  for (const double pieces : fleet.mean_failures(1e4)) CHECK(near_abs(pieces, 57, 1e-9));
}
