// The margin of a job against a second simulation that shares no code with this one: independent/quote_job.toml with
// its shop file, and quote_job.expected, whose header says how its figures were computed. Derived.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <sstream>
#include <string>

#include "mendworth/quote.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "support/near.hpp"

namespace {

namespace fs = std::filesystem;
using namespace mendworth;
using mendworth::test::near_abs;

constexpr int futures = 100'000;
constexpr double errors_allowed = 4.0;

const fs::path folder = fs::path(MENDWORTH_SOURCE_DIR) / "tests" / "golden" / "independent";

std::string content(const std::string& name) {
  std::ifstream file(folder / name, std::ios::binary);
  REQUIRE_MESSAGE(file.good(), name);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

struct Figure {
  double value = 0, error = 0;
};

std::map<std::string, Figure> expected_figures() {
  std::map<std::string, Figure> figures;
  std::istringstream lines(content("quote_job.expected"));
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::istringstream cells(line);
    std::string name;
    Figure figure;
    REQUIRE_MESSAGE(static_cast<bool>(cells >> name >> figure.value >> figure.error), line);
    figures[name] = figure;
  }
  return figures;
}

}  // namespace

TEST_CASE("margin, loss and reserve of a job agree with an independent simulation") {
  const RateBook& rates = built_in_rates();
  const Shop shop = read_shop(content("quote_job.shop.toml"), "quote_job.shop.toml", rates);
  const Case c = read_case(content("quote_job.toml"), "quote_job.toml", rates);
  const QuoteResult result = quote(c, shop, rates,
                                   {.seed = 11,
                                    .futures = futures,
                                    .date = {.year = 2026, .month = 3, .day = 2},
                                    .despite_owner_loss = true});
  REQUIRE(result.quote.has_value());
  const auto figures = expected_figures();
  REQUIRE(figures.size() >= 34);

  const auto close = [&](const std::string& name, double value, double own_error) {
    CAPTURE(name);
    CAPTURE(value);
    const Figure& expected = figures.at(name);
    CHECK(near_abs(value, expected.value, errors_allowed * std::hypot(own_error, expected.error) + 1e-9));
  };
  // The second simulation ran 400 times as many futures, so an error of ours is 20 times its own.
  const double ratio = std::sqrt(40'000'000.0 / futures);
  for (const ShopChoice& choice : result.quote->shop->choices) {
    const std::string which = choice.kind == CustomerChoice::Kind::failed_only ? "A." : "B.";
    const auto compare = [&](const std::string& name, double value) {
      close(which + name, value, ratio * figures.at(which + name).error);
    };
    compare("margin", choice.margin);
    compare("loss_chance", choice.loss_chance);
    compare("margin_p10", choice.margin_p10);
    compare("margin_p50", choice.margin_p50);
    compare("margin_p90", choice.margin_p90);
    compare("planned_labour", choice.cost.labour);
    compare("rework", choice.cost.rework);
    compare("warranty", choice.cost.warranty);
    compare("complaint", choice.cost.come_back);
    compare("liability", choice.cost.liability);
    compare("stock_cost", choice.cost.stock);
    compare("p_works", choice.cure_chance);
    compare("p_lost", choice.lost_chance);
    compare("minutes_p10", choice.minutes_p10);
    compare("minutes_p50", choice.minutes_p50);
    compare("minutes_p90", choice.minutes_p90);
    CHECK(near_abs(choice.cost.order, 8.0, 1e-9));
    for (const ReserveRow& row : choice.reserves) {
      if (row.days == 180) compare("returns", row.returns);
    }
  }
}
