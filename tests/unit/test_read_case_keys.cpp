#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/case.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

namespace {

using namespace mendworth;

std::vector<std::string> keys_of(const Case& c) {
  std::vector<std::string> keys;
  for_each_quantity(c, [&](const std::string& key, const Quantity&) { keys.push_back(key); });
  return keys;
}

}  // namespace

TEST_CASE("for_each_quantity: the keys of the full starter case, in their order") {
  // Derived: every Quantity of case.hpp in the order of the case file, written down by hand.
  const std::vector<std::string> expected = {"device.age_years",
                                             "device.bought_used_years_ago",
                                             "device.use_per_day",
                                             "device.hours_per_day",
                                             "device.guarantee_chance",
                                             "device.guarantee_days",
                                             "device.resale",
                                             "device.scrap",
                                             "device.keepsake",
                                             "fault.burden_per_year",
                                             "fault.common_cause_chance",
                                             "fault.common_cause_years",
                                             "position.1.renewed_years_ago",
                                             "position.1.share",
                                             "position.1.minutes",
                                             "part.1.rated_life",
                                             "part.1.shape",
                                             "part.1.candidate.1.fit",
                                             "part.1.candidate.1.dead_on_arrival",
                                             "part.1.candidate.1.rated_life",
                                             "part.1.candidate.1.shape",
                                             "part.1.candidate.1.offer.1.prices.1.each",
                                             "part.1.candidate.1.offer.1.prices.2.each",
                                             "part.1.candidate.1.offer.1.line_fee",
                                             "part.1.candidate.2.fit",
                                             "part.1.candidate.2.dead_on_arrival",
                                             "part.1.candidate.2.rated_life",
                                             "part.1.candidate.2.shape",
                                             "part.1.candidate.2.offer.1.price",
                                             "part.1.candidate.2.offer.1.line_fee",
                                             "part.1.other_uses_per_year",
                                             "part.1.shelf_life_years",
                                             "part.1.spare_resale",
                                             "supplier.1.exchange_rate",
                                             "supplier.1.exchange_fee",
                                             "supplier.1.shipping.1.price",
                                             "supplier.1.shipping.2.price",
                                             "supplier.1.low_order_below",
                                             "supplier.1.low_order_fee",
                                             "supplier.1.tax",
                                             "supplier.1.duty",
                                             "supplier.1.duty_free_up_to",
                                             "supplier.1.customs_fee",
                                             "supplier.1.lead_days",
                                             "supplier.2.exchange_rate",
                                             "supplier.2.exchange_fee",
                                             "supplier.2.shipping",
                                             "supplier.2.low_order_below",
                                             "supplier.2.low_order_fee",
                                             "supplier.2.tax",
                                             "supplier.2.duty",
                                             "supplier.2.duty_free_up_to",
                                             "supplier.2.customs_fee",
                                             "supplier.2.lead_days",
                                             "labour.rate_per_hour",
                                             "labour.case_minutes",
                                             "labour.visit_minutes",
                                             "labour.learning_rate",
                                             "risk.opening_mendable",
                                             "risk.opening_write_off",
                                             "risk.joint_mendable",
                                             "risk.joint_write_off",
                                             "risk.mend_minutes",
                                             "risk.mend_money",
                                             "risk.diagnosis_right",
                                             "risk.second_attempt.minutes",
                                             "risk.second_attempt.money",
                                             "risk.second_attempt.chance",
                                             "risk.dead_found_after_closing",
                                             "risk.misfit_found_after_closing",
                                             "risk.dry_fit_minutes",
                                             "consumable.1.price",
                                             "consumable.1.chance",
                                             "replacement.1.price",
                                             "replacement.1.tax",
                                             "replacement.1.shipping",
                                             "replacement.1.life_years",
                                             "replacement.1.life_shape",
                                             "replacement.1.setup_minutes",
                                             "replacement.1.benefit_per_year",
                                             "replacement.1.resale",
                                             "replacement.1.delivery_days",
                                             "replacement.1.exchange_rate",
                                             "rest.remaining_years",
                                             "rest.shape",
                                             "downtime.per_day",
                                             "downtime.bench_days",
                                             "horizon.years",
                                             "horizon.discount_rate",
                                             "licensed_repair.price",
                                             "licensed_repair.chance",
                                             "licensed_repair.days",
                                             "licensed_repair.minutes"};
  CHECK(keys_of(read_case(starter_case(true), "case.toml", built_in_rates())) == expected);
}

TEST_CASE("for_each_quantity: keys are unique, and what is absent has none") {
  const Case c = read_case(starter_case(false), "case.toml", built_in_rates());
  const std::vector<std::string> keys = keys_of(c);
  CHECK(std::set<std::string>(keys.begin(), keys.end()).size() == keys.size());
  const std::set<std::string> all(keys.begin(), keys.end());
  CHECK(all.count("device.hours_per_day") == 0);
  CHECK(all.count("fault.burden_per_year") == 0);
  CHECK(all.count("licensed_repair.price") == 0);
  CHECK(all.count("risk.second_attempt.chance") == 0);
  CHECK(all.count("part.1.candidate.1.offer.1.price") == 1);
  CHECK(all.count("supplier.1.shipping") == 1);
}

TEST_CASE("for_each_quantity: the changing walk visits the same quantities and changes them") {
  Case c = read_case(starter_case(true), "case.toml", built_in_rates());
  std::vector<std::string> keys;
  double value = 0;
  for_each_quantity(c, [&](const std::string& key, Quantity& q) {
    keys.push_back(key);
    q = Quantity::exactly(++value);
  });
  CHECK(keys == keys_of(c));
  double expected = 0;
  for_each_quantity(static_cast<const Case&>(c), [&](const std::string& key, const Quantity& q) {
    CAPTURE(key);
    CHECK(q == Quantity::exactly(++expected));
  });
  CHECK(c.device.age_years == Quantity::exactly(1));
  CHECK(c.licensed_repair->minutes == Quantity::exactly(value));
}

TEST_CASE("names of causes and units are those of the case file") {
  CHECK(std::string(name_of(Cause::wear)) == "wear");
  CHECK(std::string(name_of(Cause::blow)) == "blow");
  CHECK(std::string(name_of(Cause::spill)) == "spill");
  CHECK(std::string(name_of(Cause::bad_joint)) == "bad-joint");
  CHECK(std::string(name_of(LifeUnit::cycles)) == "cycles");
  CHECK(std::string(name_of(LifeUnit::hours)) == "hours");
  CHECK(std::string(name_of(LifeUnit::years)) == "years");
}
