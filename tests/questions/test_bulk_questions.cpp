// What somebody with a fleet or a shop asks.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <vector>

#include "answers/bulk_fleet.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "numeric/demand.hpp"
#include "support/case_builder.hpp"
#include "support/json_schema.hpp"
#include "support/near.hpp"
#include "support/page_text.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;

namespace {

/// Six jobs a month, one button each, for two years; ten cost less than nine.
Case shop() {
  Case c = test::one_offer({{1, 1.00}, {10, 0.80}, {100, 0.50}, {500, 0.30}}, {{0, 4.00}});
  c.parts[0].shelf_life_years = test::exactly(2);
  c.bulk = Bulk{};
  c.bulk->jobs_per_month = test::exactly(6);
  c.bulk->order_cost = 5;
  c.bulk->shortage_cost = 6;
  return c;
}

Case fleet(int devices, int failed) {
  Case c = test::one_offer({{1, 1.00}, {10, 0.80}, {100, 0.50}}, {{0, 4.00}});
  c.positions[0].count = 2;
  c.bulk = Bulk{};
  c.bulk->devices = devices;
  c.bulk->failed = failed;
  c.bulk->repair_days = 5;
  return c;
}

BulkSettings quick() {
  BulkSettings settings;
  settings.futures = 256;
  settings.policy_futures = 64;
  return settings;
}

BulkAnswer ask(const Case& c, const BulkSettings& settings) {
  return bulk_what_if(c, built_in_rates(), settings);
}

const BulkRow& row_of(const BulkLadder& ladder, int quantity) {
  const auto found = std::find_if(ladder.rows.begin(), ladder.rows.end(),
                                  [&](const BulkRow& row) { return row.quantity == quantity; });
  REQUIRE_MESSAGE(found != ladder.rows.end(), quantity);
  return *found;
}

std::string example(const std::string& name) {
  return std::string(MENDWORTH_SOURCE_DIR) + "/examples/" + name;
}

}  // namespace

TEST_SUITE_BEGIN("questions: bulk");

// What if I buy 500?
TEST_CASE("five hundred: the total, years of stock, what is written off") {
  BulkSettings settings = quick();
  settings.quantities = {500};
  settings.until = 1.0;
  const BulkAnswer answer = ask(shop(), settings);
  const BulkLadder& ladder = answer.scenarios.front().ladders.front();
  const BulkRow& row = row_of(ladder, 500);
  // Derived: 500 x 0.30 + 4.00; 72 a year; 144 in the two years of the shelf life, so 356 are left.
  CHECK(near_abs(row.landed, 154.00, 1e-9));
  CHECK(near_rel(row.years_of_stock, 500.0 / 72, 1e-12));
  CHECK(near_rel(row.left_pieces, 356, 1e-9));
  CHECK(near_rel(row.write_off, 356 * 154.0 / 500, 1e-9));
  CHECK(row.runs_out_by < 1e-12);
  CHECK(row.left_chance > 0.999999);
  // A year takes 72: a hundred run out within it with the chance that Poisson gives.
  CHECK(near_rel(row_of(ladder, 100).runs_out_by, Demand::poisson(72).above(100), 1e-9));
}

// Derived: the best single purchase is the least of all quantities, each worked out here. Of n jobs in two years the k-th
// comes after 2 k / (n + 1) years, and its piece is kept until then at 20 % of its cost a year.
TEST_CASE("the best single purchase is best of all") {
  const BulkAnswer answer = ask(shop(), quick());
  const BulkLadder& ladder = answer.scenarios.front().ladders.front();
  const Demand demand = Demand::poisson(144);
  double least = 6 * demand.mean();
  int best = 0;
  for (int q = 1; q <= 800; ++q) {
    const double each = q >= 500 ? 0.30 : q >= 100 ? 0.50 : q >= 10 ? 0.80 : 1.00;
    double kept = 0;
    for (int n = 1; n <= demand.largest(); ++n) {
      const int used = std::min(q, n);
      kept += demand.chance(n) * used * (used + 1) / (n + 1.0);
    }
    const double landed = q * each + 4.00;
    const double cost = landed + 5 + 0.2 * landed / q * kept + 6 * demand.expected_shortage(q);
    if (cost < least) {
      least = cost;
      best = q;
    }
  }
  CHECK(ladder.best.quantity == best);
  CHECK(near_rel(ladder.best.cost, least, 1e-9));
}

// Derived: the least of 72/q x (5 + landed) + 0.2 landed/2 over the quantities that the shelf life allows, 1 to 144.
TEST_CASE("repeated orders") {
  const BulkAnswer answer = ask(shop(), quick());
  const auto& repeated = answer.scenarios.front().ladders.front().repeated;
  REQUIRE(repeated);
  double least = 1e9;
  int best = 0;
  for (int q = 1; q <= 144; ++q) {
    const double landed = q * (q >= 100 ? 0.50 : q >= 10 ? 0.80 : 1.00) + 4.00;
    const double cost = 72.0 / q * (5 + landed) + 0.2 * landed / 2;
    if (cost < least) {
      least = cost;
      best = q;
    }
  }
  CHECK(repeated->quantity == best);
  CHECK(near_rel(repeated->total, least, 1e-9));
  // Two days of lead time at 72 a year.
  CHECK(repeated->reorder_point == Demand::poisson(72 * 2 / 365.25).quantile(0.95));
}

// How many swap-out units should I keep?
TEST_CASE("swap-out units for a cover of 95 %") {
  Case c = shop();
  c.bulk->jobs_per_month = test::exactly(365.25 / 12 / 7 * 3);  // three a week
  c.bulk->repair_days = 14;
  const SwapOut swap = ask(c, quick()).scenarios.front().swap_out;
  CHECK(near_rel(swap.per_week, 3, 1e-12));
  CHECK(near_rel(swap.mean_away, 6, 1e-9));
  // From a Poisson table (scipy 1.10.1, mean 6): P(N <= 9) = 0.9161, P(N <= 10) = 0.9574.
  CHECK(swap.units == 10);
  CHECK(swap.units_at_first == 10);
  const auto chosen =
      std::find_if(swap.rows.begin(), swap.rows.end(), [](const SwapOutRow& r) { return r.units == 10; });
  REQUIRE(chosen != swap.rows.end());
  CHECK(near_abs(chosen->cover, 0.9574, 5e-5));
  CHECK(near_abs(chosen->at_hand, 0.9161, 5e-5));
}

// Forty keypads, nine failed: campaign or as they fail?
TEST_CASE("the policies of a fleet, and where the shape turns them") {
  const std::string text = read_text_file(example("keypad-fleet.toml"));
  const BulkAnswer answer = ask(read_case(text, "keypad-fleet.toml", built_in_rates()), quick());
  const BulkScenario& scenario = answer.scenarios.front();
  REQUIRE(scenario.policies);
  const FleetPolicies& p = *scenario.policies;
  REQUIRE(p.policies.size() == 3);
  const PolicyCost &as_they_fail = p.policies[0], &mates = p.policies[1], &campaign = p.policies[2];
  // Nine are open now in any case; a campaign opens all forty and renews both keys of each.
  CHECK(as_they_fail.openings > 9);
  CHECK(mates.openings >= 9);
  CHECK(mates.openings <= as_they_fail.openings);
  CHECK(campaign.openings >= 40);
  CHECK(campaign.pieces >= 80);
  CHECK(campaign.unplanned < mates.unplanned);
  CHECK(p.failures_next_year > p.failures_low);
  CHECK(p.failures_next_year < p.failures_high);
  // With hardly any wear-out, replacing what works buys nothing.
  CHECK(p.at_low == Policy::run_to_failure);
  for (std::size_t i = 1; i < p.turns.size(); ++i) CHECK(p.turns[i].shape > p.turns[i - 1].shape);
  CHECK(testing::widest_line(bulk_page(answer, {.show = {"all"}})) <= 80);
}

// The table's star and the words about shapes come from the same futures: at the case's own shape they agree.
TEST_CASE("the policy that is cheapest at the case's shape has the star") {
  const std::string text = read_text_file(example("keypad-fleet.toml"));
  for (const double minutes : {1.0, 18.0, 60.0}) {
    Case c = read_case(text, "keypad-fleet.toml", built_in_rates());
    c.labour.visit_minutes = test::exactly(minutes);
    const FleetPolicies p = *ask(c, quick()).scenarios.front().policies;
    Policy at_shape = p.at_low;
    for (const PolicyTurn& turn : p.turns) {
      if (turn.shape <= p.shape_now) at_shape = turn.above;
      CHECK(turn.error > 0);
    }
    for (const PolicyCost& cost : p.policies) {
      CHECK(cost.cheapest == (cost.policy == at_shape));
      CHECK(cost.more >= 0);
      if (!cost.cheapest) CHECK(cost.equal == (cost.more <= 2 * cost.more_error));
    }
  }
}

// Derived: where a device has one position, an opening renews the same under both rules.
TEST_CASE("policies that do the same are equal within the error") {
  Case c = fleet(6, 1);
  c.positions[0].count = 1;
  const auto policies = ask(c, quick()).scenarios.front().policies->policies;
  CHECK(policies[0].total == policies[1].total);
  CHECK(policies[0].more == policies[1].more);
  CHECK(policies[0].cheapest != policies[1].cheapest);
  CHECK((policies[0].equal || policies[1].equal));
}

// Derived: four devices with one button each, three failed; within half an hour nothing else fails. Learning at 80 %:
// the third time takes 3^(log2 0.8) of the first. A lost device costs 80, an hour of set-up at 30 and two days at 5.
TEST_CASE("what an opening costs: learning, a lost device, the wait for pieces") {
  Case c = fleet(4, 3);
  c.positions[0].count = 1;
  c.bulk->years = 0.001;
  c.labour.learning_rate = test::exactly(0.8);
  c.risks.opening_write_off = test::exactly(0.1);
  c.replacements[0].setup_minutes = test::exactly(60);
  c.downtime.per_day = test::exactly(5);
  const PolicyCost cost = ask(c, quick()).scenarios.front().policies->policies.front();
  CHECK(near_abs(cost.openings, 3, 1e-12));
  const double third = std::pow(3, std::log2(0.8));
  CHECK(near_rel(cost.labour, 0.5 * (15 + (20 + 8) * (1 + 0.8 + third)), 1e-9));
  CHECK(near_rel(cost.risk, 3 * 0.1 * (80 + 30 + 2 * 5), 1e-9));
  CHECK(near_rel(cost.downtime, 3 * 2 * 5, 1e-9));  // two days of lead time
  CHECK(near_rel(cost.parts, 3 * 1.00 + 4.00, 1e-9));
}

// Derived: a campaign on four devices wants four pieces at once, and three are to be had.
TEST_CASE("a policy that wants more pieces than there are has no star") {
  Case c = fleet(4, 3);
  c.positions[0].count = 1;
  c.bulk->years = 0.001;
  c.parts[0].candidates[0].offers[0].stock = 3;
  const BulkAnswer answer = ask(c, quick());
  const FleetPolicies& p = *answer.scenarios.front().policies;
  CHECK(p.policies[0].can_be_done);
  CHECK(p.policies[0].cheapest);
  CHECK_FALSE(p.policies[2].can_be_done);
  CHECK_FALSE(p.policies[2].equal);
  CHECK(testing::contains(bulk_page(answer, {.show = {"all"}}), "cannot be done now"));
}

// Derived: 30 at 1.00 with 4.00 of shipping and 40 at 1.20 with 2.00; fifty come from both, seventy are all there are.
TEST_CASE("no more than the offers have, divided where no single one has as many") {
  Case c = shop();
  c.parts[0].candidates[0].offers[0] = test::offer(0, {{1, 1.00}});
  c.parts[0].candidates[0].offers[0].stock = 30;
  c.suppliers.push_back(test::supplier("Second Parts", {{0, 2.00}}));
  c.parts[0].candidates[0].offers.push_back(test::offer(1, {{1, 1.20}}));
  c.parts[0].candidates[0].offers[1].stock = 40;
  BulkSettings settings = quick();
  settings.quantities = {50, 500};
  const BulkAnswer answer = ask(c, settings);
  const BulkLadder& ladder = answer.scenarios.front().ladders.front();
  CHECK(ladder.most == 70);
  const BulkRow& fifty = row_of(ladder, 50);
  CHECK(near_rel(fifty.landed, 30 * 1.00 + 4.00 + 20 * 1.20 + 2.00, 1e-12));
  REQUIRE(fifty.lines.size() == 2);
  CHECK(fifty.lines[0].quantity == 30);
  CHECK(fifty.lines[1].quantity == 20);
  REQUIRE(ladder.asked.size() == 2);
  CHECK(ladder.asked[1].instead == 70);
  for (const BulkRow& row : ladder.rows) CHECK(row.quantity <= 70);
  // 144 are wanted, and a missing one costs 6.
  CHECK(ladder.best.quantity == 70);
  REQUIRE(ladder.repeated);
  CHECK(ladder.repeated->quantity <= 70);
  CHECK(testing::contains(bulk_page(answer, {.show = {"all"}}), "The offers have 70 pieces between them."));
}

// Derived: nine at 1.00 cost 13.00 with shipping, ten at 0.80 cost 12.00.
TEST_CASE("more pieces that cost less stand for those asked about") {
  BulkSettings settings = quick();
  settings.quantities = {9};
  const BulkLadder ladder = ask(shop(), settings).scenarios.front().ladders.front();
  CHECK(ladder.asked.front().instead == 10);
  CHECK(near_rel(row_of(ladder, 10).landed, 12.00, 1e-12));
}

// Independent: the law known exactly, so that every device fails by itself; an own simulation with the standard library.
TEST_CASE("a fleet's failures are what a plain simulation gives") {
  Case c = fleet(12, 2);
  c.horizon.years = test::exactly(5);
  const Demand demand = Fleet(c, {12, 2}, 16, 1).failures(0, 5.0);
  // Rated life 500,000 presses to 10 %, shape 2; 50 a day for four years and five more.
  const double scale = 500'000 / std::sqrt(-std::log(0.9));
  const double now = 50 * 365.25 * 4, then = 50 * 365.25 * 9;
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> uniform;
  constexpr int runs = 100'000;
  std::vector<double> counts(23, 0.0);
  for (int i = 0; i < runs; ++i) {
    int failed = 0;
    for (int piece = 0; piece < 12 * 2 - 2; ++piece) {
      // A life given survival so far: its hazard is that so far plus a unit exponential.
      const double life = scale * std::sqrt(now / scale * (now / scale) - std::log(1 - uniform(random)));
      failed += life < then ? 1 : 0;
    }
    counts[static_cast<std::size_t>(failed)] += 1.0 / runs;
  }
  for (int k = 0; k <= 22; ++k) {
    const double expected = demand.chance(k);
    // Five standard errors of a share.
    const double tolerance = 5 * std::sqrt(expected * (1 - expected) / runs) + 1e-5;
    CHECK(near_abs(counts[static_cast<std::size_t>(k)], expected, tolerance));
  }
}

// Where the scale is not known, failures of equal devices go together: the spread is wider than that of independent ones.
TEST_CASE("what is not known of a fleet's life widens its demand") {
  Case c = fleet(40, 1);
  c.parts[0].life.life_spread = 2;
  const Demand demand = Fleet(c, {40, 1}, 512, 1).failures(0, 5.0);
  const double share = demand.mean() / 79;
  CHECK(demand.variance() > 1.5 * 79 * share * (1 - share));
}

TEST_CASE("quotations stand beside the case's offers") {
  const std::string csv = "candidate;from;each\ntall button;10;0,60\ntall button;100;0,20\n";
  BulkSettings settings = quick();
  settings.quotations = read_quotation(csv, "offer.csv", {.decimal_comma = true});
  REQUIRE(settings.quotations.size() == 1);
  const BulkAnswer answer = ask(shop(), settings);
  REQUIRE(answer.scenarios.front().ladders.size() == 2);
  const BulkLadder& quoted = answer.scenarios.front().ladders[1];
  CHECK(quoted.quotation == "offer.csv");
  CHECK(near_abs(row_of(quoted, 100).landed, 24.00, 1e-9));
}

TEST_CASE("a quotation that does not fit: all problems, each with its line") {
  const auto message = [](const std::string& csv) {
    try {
      static_cast<void>(read_quotation(csv, "q.csv", {}));
    } catch (const InputError& error) {
      std::string text;
      for (const Diagnostic& d : error.problems()) text += d.text() + "\n";
      return text;
    }
    return std::string("accepted");
  };
  CHECK(testing::contains(message(""), "the file is empty"));
  CHECK(testing::contains(message("candidate,from,each\n"), "no row below the header"));
  CHECK(testing::contains(message("candidate,from,eech\nx,1,2\n"), "is 'eech' meant to be it?"));
  const std::string two = message("candidate,from,each\nx,0,1\nx,ten,-1\n");
  CHECK(testing::contains(two, "q.csv:2"));
  CHECK(testing::contains(two, "'ten' is no number"));
  CHECK(testing::contains(two, "-1 is out of range"));
  CHECK(testing::contains(message("candidate,from,each\nx,10,1\nx,5,2\n"), "out of order"));
  CHECK(testing::contains(message("candidate,from,each,leest\nx,1,1,5\n"), "nearly 'least'"));

  BulkSettings settings = quick();
  settings.quotations = read_quotation("candidate,from,each\nno such,1,1\n", "q.csv", {});
  CHECK_THROWS_AS(static_cast<void>(ask(shop(), settings)), InputError);
}

TEST_CASE("the section is checked") {
  const auto message = [](const std::string& section) {
    const std::string text = read_text_file(example("label-printer.toml")) + "\n[bulk]\n" + section;
    try {
      static_cast<void>(read_case(text, "c.toml", built_in_rates()));
    } catch (const InputError& error) {
      return error.problems().front().text();
    }
    return std::string("accepted");
  };
  CHECK(message("devices = 40\nfailed = 9\n") == "accepted");
  CHECK(message("jobs_per_month = { low = 2, high = 6 }\n") == "accepted");
  CHECK(testing::contains(message("years = 2\n"), "whether it is a fleet or a shop"));
  CHECK(testing::contains(message("devices = 4\njobs_per_month = 2\n"), "a fleet or a shop"));
  CHECK(testing::contains(message("devices = 4\nfailed = 5\n"), "5 of 4 devices"));
  CHECK(testing::contains(message("devises = 4\n"), "devices"));
  CHECK_THROWS_AS(static_cast<void>(ask(test::minimal_case(), quick())), InputError);
}

TEST_CASE("the JSON satisfies its schema, and the text keeps to 80 columns") {
  BulkSettings settings = quick();
  settings.jobs = {2, 6};
  settings.until = 0.5;
  for (const BulkAnswer& answer : {ask(shop(), settings), ask(fleet(6, 1), quick())}) {
    const auto schema = nlohmann::json::parse(bulk_schema());
    testing::SchemaValidator validator(schema);
    const auto problems = validator.problems(nlohmann::json::parse(bulk_json(answer)));
    CHECK_MESSAGE(problems.empty(), (problems.empty() ? std::string() : problems.front()));
    CHECK(testing::widest_line(bulk_page(answer, {.show = {"all"}})) <= 80);
  }
}

TEST_SUITE_END();
