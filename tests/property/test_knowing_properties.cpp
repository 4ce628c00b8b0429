// What must hold of shares of variance and of the worth of knowing, whatever the case.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "mendworth/weigh.hpp"
#include "support/example_files.hpp"
#include "support/near.hpp"
#include "support/random_cases.hpp"
#include "support/random_devices.hpp"

using namespace mendworth;
using namespace mendworth::test;

TEST_SUITE_BEGIN("properties: knowing");

namespace {

Weighing weighed(const Case& c, int threads = 1) {
  return weigh(c, RateBook{}, {.seed = 3, .futures = 1000, .threads = threads});
}

const KnowingRow& row_of(const Knowing& knowing, const std::string& key) {
  const auto found = std::find_if(knowing.inputs.begin(), knowing.inputs.end(),
                                  [&](const KnowingRow& row) { return row.key == key; });
  REQUIRE(found != knowing.inputs.end());
  return *found;
}

}  // namespace

TEST_CASE("worths are never negative, and who knows more gains no less") {
  RandomCases random(301);
  int worth_something = 0;
  for (int i = 0; i < random_cases(12); ++i) {
    CAPTURE(i);
    const Weighing w = weighed(random.next());
    REQUIRE(w.knowing);
    const Knowing& knowing = *w.knowing;
    for (const KnowingRow& row : knowing.inputs) {
      CAPTURE(row.key);
      CHECK(row.worth >= 0);
      CHECK(row.worth_error >= 0);
      CHECK(row.first >= 0);
      CHECK(row.first <= 1 + 4 * row.first_error);
      CHECK(row.total <= 1 + 4 * row.total_error);
      worth_something += row.is_worth_something() ? 1 : 0;
    }
    const KnowingRow& luck = knowing.inputs.back();
    CHECK(luck.key == "luck");
    CHECK(luck.worth == 0);
    CHECK(luck.first <= luck.total + 4 * (luck.first_error + luck.total_error));
    for (const KnowingGroup& group : knowing.groups) {
      CAPTURE(group.name);
      CHECK(group.worth >= 0);
      for (const std::string& key : group.keys) CHECK(group.worth >= row_of(knowing, key).worth);
      CHECK(group.worth <= knowing.groups.back().worth);
      CHECK(group.worth <= knowing.foresight + 4 * (group.worth_error + knowing.foresight_error));
    }
  }
  CHECK(worth_something > 0);
}

// Derived: nothing else is uncertain, so the price alone brings all of the variance. The saving is price - k with k the
// cost of the repair; for a price uniform in (m - h, m + h) and m > k > m - h, replacing is better in the part below k,
// and to know the price is worth E[(k - price)+] = (k - m + h)^2 / (4 h).
TEST_CASE("a price that decides alone") {
  Case c = minimal_case();
  c.risks = Risks{};
  c.risks.diagnosis_right = exactly(1);
  c.risks.mend_minutes = c.risks.mend_money = c.risks.dry_fit_minutes = exactly(0);
  c.device.age_years = exactly(1);
  c.device.use_per_day = exactly(0.01);
  c.rest.remaining_years = exactly(1e6);
  c.replacements[0].life_years = exactly(1e6);
  c.horizon.years = exactly(2);
  c.replacements[0].price = exactly(100);
  const double repair =
      100 -
      *weigh(c, RateBook{}, {.seed = 3, .futures = 200, .threads = 1, .what_ifs = false}).verdict.saving;
  REQUIRE(repair > 5);
  REQUIRE(repair < 95);
  const double m = repair + 2, h = 5;
  c.replacements[0].price = Quantity::between(m - h, m + h);
  const Weighing w = weigh(c, RateBook{}, {.seed = 3, .futures = 8192, .threads = 1});
  REQUIRE(w.knowing);
  const KnowingRow& price = row_of(*w.knowing, "replacement.1.price");
  CHECK(near_abs(price.first, 1, 0.002));
  CHECK(near_abs(price.total, 1, 0.15));
  CHECK(price.found_out == FoundOut::asking);
  const double exact = (repair - m + h) * (repair - m + h) / (4 * h);
  CAPTURE(price.worth);
  CAPTURE(price.worth_error);
  CHECK(near_abs(price.worth, exact, 4 * price.worth_error + 0.01));
  CHECK(near_abs(w.knowing->groups.back().worth, exact, 4 * price.worth_error + 0.01));
  CHECK(near_abs(w.knowing->foresight, exact, 4 * w.knowing->foresight_error + 0.01));
  const KnowingRow& luck = w.knowing->inputs.back();
  CHECK(near_abs(luck.first, 0, 4 * luck.first_error + 1e-9));
  CHECK(luck.total < 1e-6);
}

TEST_CASE("a number that changes nothing brings nothing and is worth nothing") {
  RandomCases random(302);
  for (int i = 0; i < random_cases(6); ++i) {
    Case c = random.next();
    // A supplier that offers nothing is no help.
    c.suppliers.push_back(supplier("Third Source", {{0, 1}}));
    c.suppliers.back().lead_days = Quantity::between(1, 40);
    const Weighing w = weighed(c);
    REQUIRE(w.knowing);
    const KnowingRow& row =
        row_of(*w.knowing, "supplier." + std::to_string(c.suppliers.size()) + ".lead_days");
    CHECK(row.total < 1e-12);
    CHECK_FALSE(row.is_worth_something());
  }
}

TEST_CASE("the order of a file's sections changes nothing") {
  const std::string text = example_text("stage-metronome.toml");
  const std::size_t labour = text.find("\n[labour]"), position = text.find("\n[[position]]");
  REQUIRE(labour != std::string::npos);
  REQUIRE(position < labour);
  const std::size_t end = text.find("\n[[replacement]]");
  REQUIRE(end > labour);
  const std::string moved = text.substr(0, position) + text.substr(labour, end - labour) +
                            text.substr(position, labour - position) + text.substr(end);
  const RateBook rates = built_in_rates();
  const auto answer = [&](const std::string& file) {
    return weighing_json(weigh(read_case(file, "case.toml", rates), rates, {.futures = 500, .threads = 1}));
  };
  CHECK(answer(moved) == answer(text));
}

TEST_CASE("the same bytes on 1, 2 and 8 threads, grid included") {
  RandomCases random(303);
  Case c = random.next();
  c.labour.rate_per_hour = Quantity::between(10, 40);
  WeighSettings settings{.seed = 3, .futures = 600, .threads = 1};
  settings.against = {"labour.rate_per_hour", "device.age_years"};
  const std::string one = weighing_json(weigh(c, RateBook{}, settings));
  for (const int threads : {2, 8}) {
    settings.threads = threads;
    CHECK(weighing_json(weigh(c, RateBook{}, settings)) == one);
  }
}

TEST_SUITE_END();
