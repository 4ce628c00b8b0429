// Pieces in the drawer: they need no order, and cost what they would have been worth for other uses.
#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <string>

#include "mendworth/render.hpp"
#include "numeric/poisson_stock.hpp"
#include "support/near.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

constexpr double small_order = 1.00 + 4.00;             // one button with its postage, in the minimal case
constexpr double labour = (15 + 20 + 8) / 60.0 * 30.0;  // of one repair in the minimal case

/// Nothing fails again and the rest outlasts the horizon of five years at 3 %.
Case quiet_case(int on_hand, double other_uses, double shelf_life, double resale) {
  Case c = one_position(1e8, 2.0, 5.0, 0.03);
  c.parts[0].candidates[0].on_hand = on_hand;
  c.parts[0].other_uses_per_year = exactly(other_uses);
  c.parts[0].shelf_life_years = exactly(shelf_life);
  c.parts[0].spare_resale = exactly(resale);
  return c;
}

/// The same with a second candidate, which has the pieces on hand; the first one fits.
Case drawer_of_another(int on_hand, double other_uses, double shelf_life, double resale) {
  Case c = quiet_case(0, other_uses, shelf_life, resale);
  c.parts[0].candidates.push_back(c.parts[0].candidates[0]);
  c.parts[0].candidates[1].name = "flat button";
  c.parts[0].candidates[1].on_hand = on_hand;
  return c;
}

}  // namespace

TEST_SUITE_BEGIN("on hand");

TEST_CASE("other uses of a stock follow the laws of a Poisson stream") {
  // Derived: one piece without discount is used with chance 1 - exp(-rate T), with discount d the integral of
  // rate exp(-(rate + d) t) = rate/(rate + d) (1 - exp(-(rate + d) T)).
  CHECK(near_abs(stock_uses(1, 0.7, 2.0, 0.0)[1], -std::expm1(-1.4), 1e-13));
  CHECK(near_abs(stock_uses(1, 0.7, 2.0, 0.05)[1], 0.7 / 0.75 * -std::expm1(-1.5), 1e-13));
  // Two pieces without discount: the second is used if two demands come, 1 - exp(-m)(1 + m), m = 1.4.
  CHECK(near_abs(stock_uses(2, 0.7, 2.0, 0.0)[2], -std::expm1(-1.4) + 1 - std::exp(-1.4) * 2.4, 1e-13));
  // So many pieces that every demand finds one: rate (1 - exp(-d T))/d, whatever the sign of d; the last one makes
  // rate + d negative, the one before nearly nothing.
  struct Stream {
    double rate, d;
  };
  for (const auto stream :
       {Stream{0.7, 0.05}, Stream{0.7, -0.02}, Stream{0.02, -0.0199}, Stream{0.02, -0.03}}) {
    const double rate = stream.rate, d = stream.d;
    CAPTURE(rate);
    CAPTURE(d);
    CHECK(near_rel(stock_uses(60, rate, 5.0, d)[60], rate * -std::expm1(-d * 5.0) / d, 1e-10));
  }
  // Left of two: 2 with no demand, 1 with one: exp(-m)(2 + m).
  CHECK(near_abs(stock_left(2, 0.7, 2.0)[2], std::exp(-1.4) * 3.4, 1e-13));
  CHECK(stock_left(3, 0.0, 2.0) == std::vector<double>{0, 1, 2, 3});
  CHECK(stock_uses(3, 0.0, 2.0, 0.03) == std::vector<double>{0, 0, 0, 0});
  // Undiscounted, what is not left has been used.
  for (std::size_t n = 0; n <= 20; ++n) {
    CHECK(near_abs(stock_uses(20, 1.3, 4.0, 0.0)[n] + stock_left(20, 1.3, 4.0)[n], static_cast<double>(n),
                   1e-11));
  }
  // The short way says the same, up to demands and discounts at which it hands over to the long one.
  for (const double rate : {0.0, 1e-9, 0.02, 0.7, 12.0, 400.0}) {
    for (const double d : {-0.2, -0.019, 0.0, 0.05, 0.4}) {
      for (const double until : {0.0, 1e-6, 0.3, 4.0, 60.0}) {
        const auto uses = stock_uses(70, rate, until, d), left = stock_left(70, rate, until);
        for (const int n : {0, 1, 2, 7, 70}) {
          CAPTURE(rate);
          CAPTURE(d);
          CAPTURE(until);
          CAPTURE(n);
          const StockCourse course = stock_course(n, rate, until, d);
          CHECK(near_abs(course.uses, uses[static_cast<std::size_t>(n)], 1e-9));
          CHECK(near_abs(course.left, left[static_cast<std::size_t>(n)], 1e-9));
        }
      }
    }
  }
  CHECK_THROWS_AS(static_cast<void>(stock_course(-1, 1.0, 1.0, 0.0)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(stock_uses(-1, 1.0, 1.0, 0.0)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(stock_left(1, -1.0, 1.0)), std::domain_error);
}

TEST_CASE("what the drawer is charged with is what the futures credit if this device takes none of it") {
  struct Row {
    int on_hand;
    double other_uses, shelf_life, resale;
  };
  // Shelf life beyond and within the horizon, with and without resale, few and many pieces.
  for (const Row row :
       {Row{1, 0.4, 10, 0}, Row{3, 0.8, 10, 0.6}, Row{5, 0.8, 2, 0.6}, Row{40, 1.5, 8, 0.2}}) {
    CAPTURE(row.on_hand);
    CAPTURE(row.shelf_life);
    const Bench bench(drawer_of_another(row.on_hand, row.other_uses, row.shelf_life, row.resale));
    const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), 100'000);
    CHECK(near_abs(ensemble.mean_cost(0), small_order + labour, 4 * ensemble.cost_error(0) + 1e-9));
    CHECK(ensemble.cost_error(0) < 0.05);
    if (row.on_hand < 40) CHECK(ensemble.cost_error(0) > 0);
  }
}

TEST_CASE("the charge and the credit agree where the stream itself is a range") {
  Case c = drawer_of_another(3, 0.8, 10, 0.6);
  c.parts[0].other_uses_per_year = Quantity::between(0.1, 2.0);
  c.parts[0].shelf_life_years = Quantity::between(1.0, 9.0);
  const Bench bench(c);
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), 100'000);
  CHECK(near_abs(ensemble.mean_cost(0), small_order + labour, 4 * ensemble.cost_error(0)));
}

TEST_CASE("one piece on hand: no order, no wait, and its worth elsewhere") {
  // Derived: the plan takes the only piece, which would have saved an order of 5.00 with
  // rate/(rate + d) (1 - exp(-(rate + d) T)) or been sold for 0.60 after five years with chance exp(-rate T).
  Case c = quiet_case(1, 0.4, 10, 0.60);
  c.downtime.per_day = exactly(7);
  const double d = std::log(1.03);
  const double worth =
      small_order * 0.4 / (0.4 + d) * -std::expm1(-(0.4 + d) * 5) + 0.60 * std::exp(-(0.4 + d) * 5);
  const Bench bench(c);
  const auto& option = bench.plan(Family::failed_only, no_limit);
  CHECK(option.plan.first_order == -1);
  const auto ensemble = bench.run(option, 2000);
  for (const double cost : ensemble.costs[0]) CHECK(near_abs(cost, labour + worth, 1e-9));

  c.device.must_keep = true;
  const auto w = weigh(c, RateBook{}, {.seed = 5, .futures = 2000, .threads = 1, .what_ifs = false});
  REQUIRE(w.order);
  CHECK(w.order->lines.empty());
  REQUIRE(w.order->drawer.size() == 1);
  CHECK(w.order->drawer[0].taken == 1);
  CHECK(w.order->drawer[0].on_hand == 1);
  CHECK(near_abs(w.order->drawer[0].worth, worth, 1e-9));
  for (const auto& o : w.options) CHECK(near_abs(o.parts.total(), o.present_cost, 1e-6));
  CHECK(weighing_page(w, {.show = {"all"}}).find("From the drawer: 1 of 1 of button: tall button") !=
        std::string::npos);
}

TEST_CASE("pieces that nobody else wants are free") {
  const Bench bench(quiet_case(4, 0, 10, 0));
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), 200);
  CHECK(near_abs(ensemble.mean_cost(0), labour, 1e-9));
}

TEST_CASE("only what is missing is ordered") {
  Case c = quiet_case(1, 0, 10, 0);
  c.positions[0].count = 3;
  c.positions[0].failed = 3;
  const Bench bench(c);
  const auto& option = bench.plan(Family::failed_only, no_limit);
  CHECK(option.plan.supplies[0].first_pieces == 2);
  const auto ensemble = bench.run(option, 200);
  CHECK(near_abs(ensemble.mean_cost(0), 2 * 1.00 + 4.00 + (15 + 20 + 3 * 8) / 60.0 * 30.0, 1e-9));
}

TEST_CASE("pieces on hand serve later failures") {
  // Derived: every new button lasts next to nothing at first: with shape 1 and scale 1 the later visits are a Poisson
  // stream of rate 1, over five years undiscounted; only those beyond the fourth piece need an order. The expected
  // number of failures beyond three is 5 - 3 + sum over k < 3 of (3 - k) p(k), p Poisson of mean 5.
  Case c = one_position(1.0, 1.0, 5.0, 0.0);
  c.labour.rate_per_hour = exactly(0);
  c.parts[0].candidates[0].on_hand = 4;
  const Bench bench(c);
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), 100'000);
  const double beyond = 2 + std::exp(-5.0) * (3 + 2 * 5 + 1 * 12.5);
  CHECK(near_abs(ensemble.mean_cost(0), small_order * beyond, 4 * ensemble.cost_error(0)));
}

TEST_CASE("a piece from the drawer that does not fit goes back to it") {
  // Derived: the only piece on hand never fits; another candidate is ordered, and the drawer is as it was. Where the
  // misfit shows after closing only, the piece is spoilt: it is missed at the resale of 2.00, discounted five years.
  for (const double closed : {0.0, 1.0}) {
    CAPTURE(closed);
    Case c = quiet_case(1, 0, 10, 2.00);
    c.labour.rate_per_hour = exactly(0);
    c.risks.misfit_found_after_closing = exactly(closed);
    c.parts[0].candidates.push_back(c.parts[0].candidates[0]);
    c.parts[0].candidates[0].fit = exactly(0);
    c.parts[0].candidates[1].on_hand = 0;
    const Bench bench(c);
    const auto& option = bench.plan(Family::failed_only, no_limit);
    REQUIRE(option.plan.supplies[0].candidate == 0);
    const auto ensemble = bench.run(option, 200);
    CHECK(near_abs(ensemble.mean_cost(0), small_order + closed * 2.00 * std::pow(1.03, -5), 1e-9));
  }
}

TEST_CASE("a second candidate in the drawer is a hedge that costs nothing") {
  // Derived: the first candidate fits with 0.5; if not, the piece on hand does, at no order.
  Case c = quiet_case(0, 0, 10, 0);
  c.labour.rate_per_hour = exactly(0);
  c.parts[0].candidates.push_back(c.parts[0].candidates[0]);
  c.parts[0].candidates[0].fit = exactly(0.5);
  c.parts[0].candidates[1].on_hand = 1;
  const Bench bench(c);
  const auto option = bench.plan(Family::failed_only, no_limit);
  CHECK(near_abs(bench.run(option, 500).mean_cost(0), small_order, 1e-9));
}

TEST_SUITE_END();
