// Where a purchase turns: asked anew with the value put in, the best is the one that is told, and just before that of today.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "answers/bulk_turns.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "support/case_builder.hpp"

using namespace mendworth;

namespace {

constexpr double just_before = 0.002;  ///< share of the value: four digits of it are told

BulkSettings quick_settings() {
  BulkSettings settings;
  settings.futures = 64;
  settings.policy_futures = 16;
  return settings;
}

BulkBest best_with(const Case& c, BulkSettings settings, const std::string& part) {
  settings.turns = false;
  const BulkScenario scenario = bulk_what_if(c, built_in_rates(), settings).scenarios.front();
  const auto choice = std::find_if(scenario.choices.begin(), scenario.choices.end(),
                                   [&](const BulkChoice& each) { return each.part == part; });
  return choice == scenario.choices.end() ? BulkBest{} : best_of(scenario, *choice);
}

/// As --set or the options put a value in.
BulkBest best_at(Case c, BulkSettings settings, const BulkTurn& turn, double value) {
  if (turn.key == "devices") {
    settings.devices = {static_cast<int>(std::lround(value))};
  } else if (turn.key == "jobs_per_month") {
    settings.jobs = {value};
  } else if (turn.key.ends_with(".shipping")) {
    const auto supplier = static_cast<std::size_t>(std::stoi(turn.key.substr(9)) - 1);
    for (ShippingTier& tier : c.suppliers[supplier].shipping)
      tier.price = test::exactly(tier.price.base() * value / turn.now);
  } else {
    for_each_quantity(c, [&](const std::string& key, Quantity& quantity) {
      if (key == turn.key) quantity = test::exactly(value);
    });
  }
  return best_with(c, settings, turn.part);
}

/// How many turns there are.
int check_turns(const Case& c, const BulkSettings& settings) {
  const BulkScenario scenario = bulk_what_if(c, built_in_rates(), settings).scenarios.front();
  for (const BulkTurn& turn : scenario.turns) {
    const BulkBest today = best_with(c, settings, turn.part);
    CHECK(turn.best != today);
    const bool whole = turn.key == "devices";
    const double away = turn.at > turn.now ? 1 : -1;
    const double before = whole ? turn.at - away : turn.at * (1 - away * just_before);
    CAPTURE(turn.key);
    CAPTURE(turn.at);
    CHECK(best_at(c, settings, turn, turn.at) == turn.best);
    if ((before - turn.now) * away > 0) CHECK(best_at(c, settings, turn, before) == today);
  }
  return static_cast<int>(scenario.turns.size());
}

/// A shop that buys a button from two suppliers, one of them abroad.
Case random_shop(std::mt19937_64& random) {
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const double each = between(0.5, 3);
  Case c = test::one_offer({{1, each}, {10, each * between(0.6, 0.95)}, {50, each * between(0.3, 0.6)}},
                           {{0, between(2, 8)}, {between(20, 60), 0}});
  c.suppliers.push_back(test::supplier("Far Parts", {{0, between(5, 20)}}));
  c.suppliers[1].currency = "USD";
  c.suppliers[1].exchange_rate = test::exactly(between(0.8, 1.1));
  c.parts[0].candidates[0].offers.push_back(
      test::offer(1, {{1, each * between(0.5, 1)}, {25, each * between(0.3, 0.5)}}));
  c.parts[0].shelf_life_years = test::exactly(between(0.5, 3));
  c.bulk = Bulk{};
  c.bulk->jobs_per_month = test::exactly(between(0.3, 4));
  c.bulk->order_cost = between(0, 8);
  c.bulk->shortage_cost = between(3, 20);
  return c;
}

}  // namespace

TEST_SUITE_BEGIN("property: bulk turns");

TEST_CASE("turns of shops hold when the value is put in") {
  std::mt19937_64 random(11);
  int turns = 0;
  for (int i = 0; i < 12; ++i) turns += check_turns(random_shop(random), quick_settings());
  CHECK(turns > 24);
}

TEST_CASE("turns of a fleet hold when the value is put in") {
  const std::string path = std::string(MENDWORTH_SOURCE_DIR) + "/examples/keypad-fleet.toml";
  Case c = read_case(read_text_file(path), path, built_in_rates());
  c.bulk->devices = 8;
  c.bulk->failed = 2;
  CHECK(check_turns(c, quick_settings()) > 0);
}

TEST_SUITE_END();
