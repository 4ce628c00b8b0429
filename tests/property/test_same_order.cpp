// One need, one order: weigh, buy and bulk asked the same buy the same.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "mendworth/bulk.hpp"
#include "mendworth/buy.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"

using namespace mendworth;

namespace {

/// "3 K0 from S1", the lines in an order of their own.
template <class Lines>
std::string words(const Lines& lines) {
  std::vector<std::string> all;
  for (const auto& line : lines)
    all.push_back(std::to_string(line.quantity) + " " + line.candidate + " from " + line.supplier);
  std::sort(all.begin(), all.end());
  return fmt::format("{}", fmt::join(all, ", "));
}

/// One device, some failed positions of one part, nothing that fails later: the need ends before.
Case random_need(std::mt19937_64& random) {
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const auto whole = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  Case c = test::minimal_case();
  c.horizon.years = test::exactly(0.01);
  c.device.must_keep = true;
  c.positions[0].count = c.positions[0].failed = whole(1, 9);
  c.downtime.per_day = test::exactly(whole(0, 1) * between(0, 3));
  c.suppliers.clear();
  for (int s = 0; s < 3; ++s) {
    c.suppliers.push_back(test::supplier("S" + std::to_string(s), {{0, between(0, 9)}, {between(5, 20), 0}}));
    c.suppliers.back().lead_days = test::exactly(whole(1, 14));
  }
  c.parts[0].candidates.clear();
  for (int k = 0; k < whole(1, 3); ++k) {
    std::vector<Offer> offers;
    for (int s = 0; s < 3; ++s) {
      if (s != k % 3 && whole(0, 1) == 0) continue;
      const double each = between(0.2, 4);
      Offer offer =
          test::offer(s, {{1, each}, {whole(2, 9), each * between(0.6, 1)}, {10, each * between(0.3, 0.6)}});
      offer.multiple = whole(1, 4) == 1 ? 5 : 1;
      offer.least = offer.multiple;
      offers.push_back(std::move(offer));
    }
    c.parts[0].candidates.push_back(test::candidate("K" + std::to_string(k), offers));
  }
  c.bulk = Bulk{};
  c.bulk->devices = 1;
  c.bulk->failed = 1;
  return c;
}

}  // namespace

TEST_SUITE_BEGIN("property: same order");

TEST_CASE("weigh, buy and bulk order the same for the same need") {
  std::mt19937_64 random(5);
  WeighSettings weighing{.futures = 256};
  weighing.what_ifs = false;
  BulkSettings bulk;
  bulk.futures = 16;
  bulk.policy_futures = 16;
  bulk.turns = false;
  for (int i = 0; i < 60; ++i) {
    const Case c = random_need(random);
    CAPTURE(i);
    const Weighing w = weigh(c, built_in_rates(), weighing);
    REQUIRE(w.order);
    const Buying b = buy(c, built_in_rates(), {.futures = 256});
    REQUIRE_FALSE(b.order.lines.empty());
    const BulkScenario scenario = bulk_what_if(c, built_in_rates(), bulk).scenarios.front();
    REQUIRE(scenario.choices.size() == 1);
    const BulkLadder& ladder = scenario.ladders[scenario.choices.front().ladder];
    struct Line {
      std::string candidate, supplier;
      int quantity;
    };
    std::vector<Line> lines;
    for (const BulkLine& line : ladder.best.lines)
      lines.push_back({ladder.candidate, line.supplier, line.quantity});
    CHECK_FALSE(scenario.choices.front().again);
    CHECK(words(w.order->lines) == words(b.order.lines));
    CHECK(words(lines) == words(b.order.lines));
  }
}

TEST_SUITE_END();
