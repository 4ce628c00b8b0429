#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include "model/plan.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

// Every expected value in this file is derived: worked by hand in the comment beside it.

namespace {

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::minimal_case;
using mendworth::test::near_abs;
using mendworth::test::one_offer;

struct Plans {
  explicit Plans(const Case& c) : book(c), groups(repair_options(c, book, notes)) {}

  // First quantities of a part in the plans of a family, rising.
  [[nodiscard]] std::vector<int> first_pieces(Family family, std::size_t part = 0) const {
    std::set<int> pieces;
    for (const auto& group : groups) {
      for (const auto& option : group) {
        if (option.plan.family == family) pieces.insert(option.plan.supplies[part].first_pieces);
      }
    }
    return {pieces.begin(), pieces.end()};
  }

  std::vector<std::string> notes;
  OrderBook book;
  std::vector<std::vector<Option>> groups;
};

// A second kind of part, one of it failed, from the same supplier at 20.00; shipping free from 25.
Case two_parts() {
  Case c = one_offer({{1, 1.00}}, {{0, 4.90}, {25, 0}});
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 20.00}})})}));
  PositionGroup slider = c.positions[0];
  slider.name = "volume slider";
  slider.part = 1;
  c.positions.push_back(slider);
  return c;
}

}  // namespace

TEST_CASE("a price break and a shipping tier together: the cheapest purchase is among those tried") {
  // 1: 3 + 10 = 13; 2: 6, free; 3: 9; 4: 4 + 10 = 14; 5: 5, free.
  const Case c = one_offer({{1, 3.00}, {4, 1.00}}, {{0, 10}, {5, 0}});
  const Plans plans(c);
  CHECK(plans.first_pieces(Family::failed_only) == std::vector<int>{1, 2, 5});
  // Spares: 2, 3, 4 (also the break), 6, 9; five cost less than two, three or four.
  CHECK(plans.first_pieces(Family::failed_and_spare) == std::vector<int>{2, 3, 4, 5, 6, 9});
  // A later order for one piece brings five as well.
  const Option& option = plans.groups.front().front();
  const std::vector<Need>& later = plans.book.needs(option.plan.supplies[0].reorders[0][0]);
  REQUIRE(later.size() == 1);
  CHECK(later[0].pieces == 5);
  CHECK(near_abs(plans.book.order(plans.book.small_order(0)).cost.total, 5.00, 1e-9));
}

TEST_CASE("a quantity that costs less than another one tried is tried, though it costs more than the need") {
  // 1: 3.20 + 5; 9: 27 + 5 = 32; 10: 28 + 5 = 33; 11: 30.80, free.
  const Plans plans(one_offer({{1, 3.20}, {5, 3.00}, {10, 2.80}}, {{0, 5}, {30, 0}}));
  CHECK(plans.first_pieces(Family::failed_only) == std::vector<int>{1});
  CHECK(plans.first_pieces(Family::failed_and_spare) == std::vector<int>{2, 3, 4, 5, 6, 9, 10, 11});
}

TEST_CASE("spares are tried up to eight, with mates as well") {
  Case c = minimal_case();
  CHECK(Plans(c).first_pieces(Family::failed_only) == std::vector<int>{1});
  CHECK(Plans(c).first_pieces(Family::failed_and_spare) == std::vector<int>{2, 3, 4, 6, 9});
  c.positions[0].count = 3;  // one failed, two mates
  CHECK(Plans(c).first_pieces(Family::failed_only) == std::vector<int>{1});
  CHECK(Plans(c).first_pieces(Family::failed_and_mates) == std::vector<int>{3, 4, 5, 6, 8, 11});
}

TEST_CASE("the first purchase of each plan buys least, so that equals are decided for it") {
  const Plans plans(one_offer({{1, 3.00}, {4, 1.00}}, {{0, 10}, {5, 0}}));
  for (const auto& group : plans.groups) {
    for (const auto& option : group) {
      CHECK(option.plan.supplies[0].first_pieces >= group.front().plan.supplies[0].first_pieces);
    }
  }
}

TEST_CASE("no more than twelve purchases of one candidate, the need and the cheapest among them") {
  // Every break lowers the whole order: 2 at 4.00 = 8, 4 at 1.90 = 7.60, 8 at 0.90 = 7.20, 16 at 0.40 = 6.40,
  // 32 at 0.15 = 4.80, 64 at 0.05 = 3.20, against 9.00 for one; shipping the same for all.
  const Case c = one_offer({{1, 9.00}, {2, 4.00}, {4, 1.90}, {8, 0.90}, {16, 0.40}, {32, 0.15}, {64, 0.05}},
                           {{0, 4.00}});
  const Plans plans(c);
  // Of the six larger ones that cost less the four cheapest are kept.
  CHECK(plans.first_pieces(Family::failed_only) == std::vector<int>{1, 8, 16, 32, 64});
  const std::vector<int> spares = plans.first_pieces(Family::failed_and_spare);
  CHECK(spares.size() <= 12);
  CHECK(spares.front() == 2);
  CHECK(spares.back() == 64);
}

TEST_CASE("every candidate is tried, however many there are") {
  Case c = minimal_case();
  for (int k = 1; k < 9; ++k) c.parts[0].candidates.push_back(c.parts[0].candidates[0]);
  const Plans plans(c);
  std::set<int> candidates;
  for (const auto& option : plans.groups.back()) candidates.insert(option.plan.supplies[0].candidate);
  CHECK(candidates.size() == 9);  // nine times five purchases: 45
  CHECK(plans.groups.back().size() == 45);
  CHECK(plans.notes.empty());

  c.parts[0].candidates.push_back(c.parts[0].candidates[0]);  // 50: two of them are left out, and it is said
  const Plans more(c);
  CHECK(more.groups.back().size() == 48);
  REQUIRE(more.notes.size() == 1);
  CHECK(more.notes[0] == "Only the first 48 purchases of a plan were compared; more were possible.");
}

TEST_CASE("top-ups of several parts see the whole order") {
  // 1 + 20 + 4.90 = 25.90; five buttons and a slider: 25.00.
  const Plans plans(two_parts());
  CHECK(plans.first_pieces(Family::failed_only, 0) == std::vector<int>{1, 5});
  CHECK(plans.first_pieces(Family::failed_only, 1) == std::vector<int>{1});
}

TEST_CASE("a supplier that refuses small orders is given a larger one") {
  Case c = one_offer({{1, 4.00}}, {{0, 5.00}});
  c.suppliers[0].low_order_below = exactly(10);
  c.suppliers[0].refuses_low_orders = true;
  const Plans plans(c);
  CHECK(plans.first_pieces(Family::failed_only) == std::vector<int>{3});  // 12.00 is the first above 10
  CHECK(plans.notes.empty());
}

TEST_CASE("orders that no plan uses are forgotten, the plans keep theirs") {
  Plans plans(minimal_case());
  REQUIRE(plans.book.size() == 6);  // 1 piece; 2, 3, 4, 6, 9 for the family with spares
  std::vector<Option> options{{.kind = OptionKind::replacement, .replacement = 0}};
  for (const auto& group : plans.groups) {
    for (const auto& option : group) {
      if (option.plan.later_limit == 0 && option.plan.supplies[0].first_pieces == 4)
        options.push_back(option);
    }
  }
  REQUIRE(options.size() == 2);

  forget_unused_orders(plans.book, options);
  REQUIRE(plans.book.size() == 2);
  CHECK(plans.book.needs(0).front().pieces == 1);
  CHECK(plans.book.needs(1).front().pieces == 4);
  CHECK(near_abs(plans.book.order(1).cost.total, 8.00, 1e-9));  // 4 + 4
  CHECK(options[1].plan.first_order == 1);
  CHECK(options[1].plan.supplies[0].reorders == std::vector<std::vector<int>>{{0}});
  CHECK(options[0].kind == OptionKind::replacement);
  CHECK(plans.book.small_order(0) == 0);

  forget_unused_orders(plans.book, options);  // nothing is left to forget
  CHECK(plans.book.size() == 2);
  CHECK(options[1].plan.first_order == 1);
}

TEST_CASE("small orders are renumbered, absent later orders stay absent") {
  Case c = two_parts();
  c.parts[0].candidates[0].offers[0].stock = 1;  // no order of two buttons later
  c.positions[0].count = 2;
  Plans plans(c);
  std::vector<Option> options;
  for (const auto& group : plans.groups) options.push_back(group.front());
  std::vector<std::vector<int>> before;
  for (const auto& option : options) {
    std::vector<int> pieces;
    for (const Need& need : plans.book.needs(option.plan.first_order)) pieces.push_back(need.pieces);
    before.push_back(pieces);
  }
  forget_unused_orders(plans.book, options);
  for (std::size_t i = 0; i < options.size(); ++i) {
    std::vector<int> pieces;
    for (const Need& need : plans.book.needs(options[i].plan.first_order)) pieces.push_back(need.pieces);
    CHECK(pieces == before[i]);
    CHECK(options[i].plan.supplies[0].reorders[0][1] == -1);
    CHECK(plans.book.needs(options[i].plan.supplies[1].reorders[0][0]).front().part == 1);
  }
  CHECK(plans.book.needs(plans.book.small_order(1)).front().part == 1);

  std::vector<Option> none;
  forget_unused_orders(plans.book, none);
  CHECK(plans.book.size() == 2);  // the small orders
  CHECK(plans.book.small_order(0) == 0);
  CHECK(plans.book.small_order(1) == 1);
}

TEST_CASE("a part without candidates cannot be planned with") {
  Case c = minimal_case();
  c.parts[0].candidates.clear();
  CHECK_THROWS_AS(Plans{c}, std::invalid_argument);
}
