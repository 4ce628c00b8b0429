#include <doctest/doctest.h>

#include <vector>

#include "answers/shared_jobs.hpp"
#include "answers/shared_shop.hpp"
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

/// Of the button and of the lamp, which have both failed.
std::vector<double> later_failures(const Case& c) {
  std::vector<double> costs;
  for (const OrderJob::Places& places : job_of(c).places) costs.push_back(places.later_failure);
  return costs;
}

}  // namespace

// Derived: 20 minutes of opening and 8 of work at 30.00 an hour, and a piece at 1.00 or 3.00 with shipping at 4.00; or the
// chain of new devices, where that is less.
TEST_CASE("a later failure costs another repair or another device, whichever is less") {
  Case c = minimal_case();
  c.parts.push_back(part("lamp", {candidate("dim lamp", {offer(0, {{1, 3.00}})})}));
  c.positions.push_back(c.positions[0]);
  c.positions[1].name = "door lamp";
  c.positions[1].part = 1;
  for (const double price : {80.0, 600.0}) {
    c.replacements[0].price = exactly(price);
    const auto costs = later_failures(c);
    REQUIRE(costs.size() == 2);
    CHECK(near_rel(costs[0], 14.00 + 5.00, 1e-9));
    CHECK(near_rel(costs[1], 14.00 + 7.00, 1e-9));
  }
  c.replacements[0].price = exactly(6);
  for (const double cost : later_failures(c)) CHECK(cost < 14.00 + 5.00);
}

TEST_CASE("what is done instead of a repair may be to live with the fault") {
  Case c = minimal_case();
  c.fault.burden_per_year = exactly(0.10);
  CHECK(job_of(c).instead.find("new intercom") == std::string::npos);
  c.fault.burden_per_year = exactly(500);
  CHECK(job_of(c).instead.find("new intercom") != std::string::npos);
}

// Derived: the button of the job costs 1.00. Shipping is 4.00; where it is free from 2.50 on, 1.50 of goods that nobody needs
// saves it.
TEST_CASE("what a supplier asks at the least beside the goods that are needed") {
  Case c = minimal_case();
  const auto least_parcel = [&] {
    const std::vector<OrderJob> jobs = {job_of(c)};
    return SharedShop(jobs).least_parcel(0, {1});
  };
  c.suppliers[0].shipping = tiers({{0, 4.00}});
  CHECK(near_abs(least_parcel(), 4.00, 1e-6));
  c.suppliers[0].shipping = tiers({{0, 4.00}, {2.50, 0}});
  CHECK(near_abs(least_parcel(), 1.50, 1e-6));
  c.suppliers[0].shipping = tiers({{0, 0}});
  CHECK(near_abs(least_parcel(), 0.0, 1e-6));
}
