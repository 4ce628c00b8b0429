#include <doctest/doctest.h>

#include "answers/shared_jobs.hpp"
#include "mendworth/rates.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

OrderJob job_of(const Case& c) {
  ModelCache cache;
  return order_job(c, built_in_rates(), {.futures = 400}, cache);
}

double later_failure_of(const Case& c) {
  const OrderJob job = job_of(c);
  REQUIRE(job.places.size() == 1);
  return job.places.front().later_failure;
}

}  // namespace

// Derived: 20 minutes of opening and 8 of work at 30.00 an hour, and a piece at 1.00 with shipping at 4.00; or the chain
// of new devices, where that is less. Of two parts the one with the second order counts its own.
TEST_CASE("a later failure costs another repair or another device, whichever is less") {
  Case c = minimal_case();
  c.parts.push_back(part("lamp", {candidate("dim lamp", {offer(0, {{1, 3.00}})})}));
  CHECK(near_rel(later_failure_of(c), 14.00 + 5.00, 1e-9));
  c.positions[0].part = 1;
  CHECK(near_rel(later_failure_of(c), 14.00 + 7.00, 1e-9));
  c.replacements[0].price = exactly(6);
  CHECK(later_failure_of(c) < 14.00 + 7.00);
  c.replacements[0].price = exactly(600);
  CHECK(near_rel(later_failure_of(c), 14.00 + 7.00, 1e-9));
}

TEST_CASE("what is done instead of a repair may be to live with the fault") {
  Case c = minimal_case();
  c.fault.burden_per_year = exactly(0.10);
  CHECK(job_of(c).instead.find("new intercom") == std::string::npos);
  c.fault.burden_per_year = exactly(500);
  CHECK(job_of(c).instead.find("new intercom") != std::string::npos);
}
