#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "support/near.hpp"
#include "support/random_cases.hpp"
#include "support/scenario.hpp"

// Present costs against a second simulation that shares no code with this one: tests/golden/independent/NAME.toml beside
// NAME.expected. Derived: the header of each .expected says how its figures were computed.

namespace {

using namespace mendworth;
namespace fs = std::filesystem;
using mendworth::test::near_abs;

const fs::path folder = fs::path(MENDWORTH_SOURCE_DIR) / "tests" / "golden" / "independent";

/// One option with one quantity of pieces; the cash to pay now tells the quantities apart.
struct Expected {
  std::string option;
  double present_cost = 0;
  double standard_error = 0;
  double cash_now = 0;
};

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE_MESSAGE(file.good(), path.string());
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::vector<Expected> expected_figures(const std::string& name) {
  std::vector<Expected> rows;
  std::istringstream lines(content(folder / (name + ".expected")));
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::istringstream cells(line);
    Expected row;
    const bool named = static_cast<bool>(std::getline(cells, row.option, '\t'));
    const bool read = static_cast<bool>(cells >> row.present_cost >> row.standard_error >> row.cash_now);
    REQUIRE_MESSAGE((named && read), line);
    rows.push_back(row);
  }
  return rows;
}

/// A case with what its options need to be run one by one.
struct Runs {
  mutable ModelCache cache;
  DeviceModel model;
  OrderBook book;

  explicit Runs(const Case& c)
      : model(DeviceModel::make(c, Hypothesis{}, cache)),
        book(model.c, std::vector<int>(c.parts.size(), static_cast<int>(model.positions.size()))) {}

  [[nodiscard]] int best() const {
    const Items items(model.c, book.size());
    return Chains(model.c, items, unit_costs(model.c, items, book), cache).best();
  }
  [[nodiscard]] Ensemble run(const Option& option) const {
    const Items items(model.c, book.size());
    const Chains chains(model.c, items, unit_costs(model.c, items, book), cache);
    return run_ensemble(
        {model, items, book, chains}, {option},
        {.seed = 3, .futures = test::random_cases(100'000), .threads = 2, .draw_prices = false});
  }
};

/// "failed and mates; 2 later repairs": what is renewed, and up to how many later repairs.
Option option_of(const std::string& words, const DeviceModel& model) {
  const Case& c = model.c;
  Option option;
  if (words == "leave it as it is") {
    option.kind = OptionKind::leave;
    return option;
  }
  for (std::size_t r = 0; r < c.replacements.size(); ++r) {
    if (words != "replace: " + c.replacements[r].name) continue;
    option.kind = OptionKind::replacement;
    option.replacement = static_cast<int>(r);
    return option;
  }
  const bool mates = words.rfind("failed and mates", 0) == 0, every = words.rfind("every original", 0) == 0;
  option.plan.renew_now = renewed_with(model.positions, every   ? groups_with_originals(c)
                                                        : mates ? mates_of_failed(c)
                                                                : std::vector<int>{});
  option.plan.mates_later = mates || every;
  const std::string later = words.substr(words.find("; ") + 2);
  option.plan.rule.limit = later.rfind("any", 0) == 0  ? no_limit
                           : later.rfind("no", 0) == 0 ? 0
                                                       : later[0] - '0';
  return option;
}

/// The plan with an order that costs so much in cash: from the need up to a dozen pieces more, of either candidate.
std::vector<Option> supplied(const Option& option, double cash, Runs& runs) {
  const Case& c = runs.model.c;
  double consumables = 0;
  for (const Consumable& item : c.consumables) consumables += item.price.base() * item.chance.base();
  const int need = static_cast<int>(option.plan.renew_now.size());
  std::vector<Option> found;
  const auto& candidates = c.parts[0].candidates;
  for (int k = 0; k < static_cast<int>(candidates.size()); ++k) {
    for (std::size_t offer = 0; offer < candidates[static_cast<std::size_t>(k)].offers.size(); ++offer) {
      for (int pieces = need; pieces <= need + 12; ++pieces) {
        Order order;
        order.items = {{0, k, static_cast<int>(offer), pieces}};
        if (!is_allowed(candidates[static_cast<std::size_t>(k)].offers[offer], pieces)) continue;
        const auto cost = landed_cost(c, order.items, Parcel::with_other_goods);
        if (!cost || !near_abs(cost->total + consumables, cash, 0.001)) continue;
        order.cost = *cost;
        Option with = option;
        with.plan.supplies.resize(1);
        Supply& supply = with.plan.supplies[0];
        supply.candidate = k;
        supply.first_pieces = pieces;
        supply.trial = {k};
        for (int other = 0; other < static_cast<int>(candidates.size()); ++other) {
          if (other != k) supply.trial.push_back(other);
        }
        with.plan.first_order = runs.book.enter(std::move(order));
        found.push_back(std::move(with));
      }
    }
  }
  return found;
}

void compare(const std::string& name) {
  CAPTURE(name);
  const Case c = read_case(content(folder / (name + ".toml")), name + ".toml", built_in_rates());
  Runs runs(c);
  int compared = 0, without_order = 0;
  for (const Expected& row : expected_figures(name)) {
    CAPTURE(row.option);
    CAPTURE(row.cash_now);
    const Option option = option_of(row.option, runs.model);
    const bool repair = option.kind == OptionKind::repair;
    // The figures let later orders share the parcel with other goods, which are in it only once.
    if (repair && option.plan.rule.limit > 0 && c.suppliers[0].other_goods > 0) continue;
    double nearest = 1e9;
    // Two quantities of a price ladder, or two candidates, may cost the same: either will do.
    for (const Option& with : repair ? supplied(option, row.cash_now, runs) : std::vector<Option>{option}) {
      const Ensemble ensemble = runs.run(with);
      const double error = std::hypot(ensemble.errors[0], row.standard_error) + 1e-6;
      // The figures buy the same device again and again; here the best one follows, so that another one costs no more.
      if (option.kind == OptionKind::replacement && option.replacement != runs.best()) {
        CHECK(ensemble.mean_cost(0) <= row.present_cost + 4 * error);
        nearest = 0;
        continue;
      }
      nearest = std::min(nearest, std::abs(ensemble.mean_cost(0) - row.present_cost) / error);
    }
    if (nearest == 1e9) {
      ++without_order;
      continue;
    }
    ++compared;
    CHECK(nearest <= 4.0);
  }
  CHECK(compared >= 9);
  CHECK(without_order <= compared / 4);
}

}  // namespace

TEST_CASE("independent simulation: nothing uncertain") { compare("certain"); }
TEST_CASE("independent simulation: two replacements and a device that ends") { compare("replacements"); }
TEST_CASE("independent simulation: one part wears, the rest ends") { compare("wear_and_rest"); }
TEST_CASE("independent simulation: mates judged by this device's own failure") { compare("mates_wear"); }
TEST_CASE("independent simulation: damage, wrong diagnosis, dead pieces") { compare("luck"); }
TEST_CASE("independent simulation: a first candidate that may not fit") { compare("misfit"); }
TEST_CASE("independent simulation: spares that other devices use") { compare("spares_used_elsewhere"); }
TEST_CASE("independent simulation: price breaks, shipping tiers, duty, exchange") {
  compare("tiers_and_duty");
}
