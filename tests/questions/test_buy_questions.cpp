// What a buyer asks, one test each: the answer must be there, and it must be the right one.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "mendworth/buy.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

namespace {

// A bench timer with one dead key: own time free, every piece good, so that money is what the order costs.
std::string timer_case(const std::string& parts, const std::string& suppliers, const std::string& rest = "") {
  return R"(
[device]
name = "bench timer"
currency = "EUR"
age_years = 3
use_per_day = 20
resale = 0
[[position]]
name = "start key"
part = "key"
failed = 1
minutes = 5
joints = 0
)" + parts +
         suppliers +
         R"(
[labour]
rate_per_hour = 0
case_minutes = 5
visit_minutes = 20
[risk]
opening_mendable = 0
opening_write_off = 0
joint_mendable = 0
joint_write_off = 0
diagnosis_right = 1
misfit_found = "dry"
[[replacement]]
name = "a new timer"
price = 80
life_years = 8
[rest]
remaining_years = 40
[horizon]
years = 1
discount_rate = 0
)" + rest;
}

Buying buy_text(const std::string& text, const std::vector<WantedPieces>& pieces = {},
                const std::vector<std::string>& overrides = {}) {
  BuySettings settings;
  settings.futures = 4000;
  settings.pieces = pieces;
  return buy(read_case(text, "timer.toml", built_in_rates(), overrides), built_in_rates(), settings);
}

const LadderRow& row_of(const Ladder& ladder, int quantity) {
  const auto found = std::find_if(ladder.rows.begin(), ladder.rows.end(),
                                  [quantity](const LadderRow& row) { return row.quantity == quantity; });
  REQUIRE(found != ladder.rows.end());
  return *found;
}

// A key so long-lived that no spare is ever needed, unless a test says otherwise.
const std::string lasting_key = R"(
[[part]]
name = "key"
life_unit = "cycles"
rated_life = 1e9
shape = 2
)";

std::string one_supplier(const std::string& shipping) {
  return "[[supplier]]\nname = \"Bridge Street Parts\"\nlead_days = 2\nshipping = " + shipping + "\n";
}

}  // namespace

TEST_CASE("question 3: how many should I buy? Every break, with what is left and what it is worth") {
  const Buying b = buy_text(timer_case(R"(
[[part]]
name = "key"
life_unit = "cycles"
rated_life = 1e9
shape = 2
other_uses_per_year = 2
[[part.candidate]]
name = "key 6x6"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
prices = [{ from = 1, each = 0.50 }, { from = 10, each = 0.40 }, { from = 25, each = 0.30 }]
)",
                                       one_supplier("5.00")));
  REQUIRE(b.ladders.size() == 1);
  const Ladder& ladder = b.ladders.front();
  CHECK(ladder.needed == 1);
  // Derived: 1 x 0.50 + 5, 10 x 0.40 + 5, 25 x 0.30 + 5.
  CHECK(near_abs(row_of(ladder, 1).landed, 5.50, 1e-9));
  CHECK(near_abs(row_of(ladder, 10).landed, 9.00, 1e-9));
  CHECK(near_abs(row_of(ladder, 25).landed, 12.50, 1e-9));
  CHECK(row_of(ladder, 25).left_over == 24);
  // Other jobs take two a year, each saving an order of 5.50: the first spare is used with chance 1 - exp(-2), the
  // second with 1 - 3 exp(-2), and so on; the best number leaves off where that chance times 5.50 falls below 0.50.
  // Poisson with mean 2, P(N >= k): 0.865, 0.594, 0.323, 0.143, 0.0527, so that the fourth (0.79) pays and the fifth
  // (0.29) does not.
  const auto chosen =
      std::find_if(ladder.rows.begin(), ladder.rows.end(), [](const LadderRow& row) { return row.chosen; });
  REQUIRE(chosen != ladder.rows.end());
  CHECK(chosen->quantity == 5);
  for (const LadderRow& row : ladder.rows) CHECK(row.net >= chosen->net - 1e-9);
  REQUIRE(!b.spares.empty());
  CHECK(near_abs(b.spares.front().rows[0].worth, 0.8647 * 5.5, 0.25));
  CHECK(near_abs(b.spares.front().rows[0].used_elsewhere, 0.864665 * 5.5, 1e-4));
}

TEST_CASE("question 4: ten are cheaper than nine") {
  const std::string text = timer_case(lasting_key + R"(
[[part.candidate]]
name = "key 6x6"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
prices = [{ from = 1, each = 0.52 }, { from = 10, each = 0.41 }, { from = 25, each = 0.33 }, { from = 100, each = 0.21 }]
)",
                                      one_supplier("4.00"));
  const Buying b = buy_text(text, {{"key", 9}});
  const Ladder& ladder = b.ladders.front();
  // Derived: 9 x 0.52 = 4.68, 10 x 0.41 = 4.10, and 4.00 for shipping.
  CHECK(near_abs(row_of(ladder, 9).landed, 8.68, 1e-9));
  CHECK(near_abs(row_of(ladder, 10).landed, 8.10, 1e-9));
  CHECK(row_of(ladder, 10).chosen);
  CHECK(row_of(ladder, 10).remark == "costs less than 9");
  CHECK(b.baskets.front().lines.front().quantity == 10);
}

TEST_CASE("question 5: packs of ten, charged in full, pro rata and by expected reuse") {
  const Buying b = buy_text(timer_case(R"(
[[part]]
name = "key"
life_unit = "cycles"
rated_life = 1e9
shape = 2
other_uses_per_year = 1
[[part.candidate]]
name = "key 6x6, pack of ten"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
price = 0.65
multiple = 10
)",
                                       one_supplier("0")));
  // Derived: a pack is 6.50; one of ten pieces is used now; each later use saves a pack. P(N >= 1) and so on of a
  // Poisson number with mean 1 add up to 1 use, so that nine leftovers save very nearly 6.50.
  CHECK(near_abs(b.order.charged_whole, 6.50, 1e-9));
  CHECK(near_abs(b.order.charged_pro_rata, 0.65, 1e-9));
  CHECK(near_abs(b.order.charged_by_reuse, 0.0, 0.30));
}

TEST_CASE("question 6: both candidates or one, and the misfit chance at which that turns") {
  // Common practice, no source: a second candidate of 3.45, postage 6.90 and 5 for the delay.
  const auto text = [](double fit, bool listed_first = true) {
    const std::string a = "[[part.candidate]]\nname = \"A\"\nfit = " + std::to_string(fit) + R"(
dead_on_arrival = 0
[[part.candidate.offer]]
price = 1.00
)";
    const std::string b = R"([[part.candidate]]
name = "B"
fit = 0.8
dead_on_arrival = 0
[[part.candidate.offer]]
price = 3.45
)";
    return timer_case(lasting_key + (listed_first ? a + b : b + a), one_supplier("6.90"),
                      "[downtime]\nper_day = 2.5\nbench_days = 0\n");
  };
  // Derived: threshold cB / (cB + postage + delay) = 3.45 / (3.45 + 6.90 + 2 x 2.50) = 0.2248.
  const Buying doubtful = buy_text(text(0.75));
  REQUIRE(doubtful.hedges.size() == 1);
  CHECK(doubtful.hedges.front().first == "B");  // of the two the better fit is tried first
  CHECK(doubtful.hedges.front().alone == "A");
  CHECK(near_abs(doubtful.hedges.front().misfit_chance, 0.25, 1e-12));
  REQUIRE(doubtful.hedges.front().pays_from);
  CHECK(near_abs(*doubtful.hedges.front().pays_from, 3.45 / 15.35, 1e-6));
  CHECK(near_abs(doubtful.hedges.front().costs, 3.45, 1e-6));
  CHECK(near_abs(doubtful.hedges.front().saves, 0.25 * 15.35, 1e-6));
  // Whichever is listed first.
  const Buying turned_round = buy_text(text(0.75, false));
  CHECK(turned_round.hedges.front().alone == "A");
  REQUIRE(turned_round.hedges.front().pays_from);
  CHECK(near_abs(*turned_round.hedges.front().pays_from, 3.45 / 15.35, 1e-6));
  const Buying likely = buy_text(text(0.90));
  REQUIRE(likely.hedges.size() == 1);
  CHECK(!likely.hedges.front().pays);
  CHECK(near_abs(*likely.hedges.front().pays_from, 3.45 / 15.35, 1e-6));
}

// Derived: nothing fails and nobody else wants it: a spare is sold for 0.30 in five years, 0.30 / 1.03^5 today.
TEST_CASE("a spare that nobody uses is worth today what it sells for in the end") {
  const Buying b = buy_text(
      timer_case(
          lasting_key + "[[part.candidate]]\nname = \"A\"\nfit = 1\n[[part.candidate.offer]]\nprice = 1.00\n",
          one_supplier("0")),
      {},
      {"part.1.other_uses_per_year=0", "part.1.spare_resale=0.30", "part.1.shelf_life_years=20",
       "horizon.years=5", "horizon.discount_rate=0.03"});
  REQUIRE(b.spares.size() == 1);
  const double sold = 0.30 / (1.03 * 1.03 * 1.03 * 1.03 * 1.03);
  CHECK(near_abs(b.spares.front().least, sold, 1e-9));
  REQUIRE_FALSE(b.spares.front().rows.empty());
  for (const SpareRow& row : b.spares.front().rows) {
    CHECK(near_abs(row.worth, sold, 1e-6));
    CHECK(near_abs(row.used, 0, 1e-6));
  }
}

TEST_CASE("that nothing on offer can fit is said, and only then") {
  const auto says_so = [](const std::string& fit) {
    const Buying b = buy_text(timer_case(lasting_key + "[[part.candidate]]\nname = \"A\"\nfit = " + fit +
                                             "\n[[part.candidate.offer]]\nprice = 1.00\n",
                                         one_supplier("6.90")));
    return std::count(b.notes.begin(), b.notes.end(), "Nothing on offer for the part 'key' can fit.");
  };
  CHECK(says_so("0") == 1);
  CHECK(says_so("0.01") == 0);
}

TEST_CASE("question 7: each of two suppliers has one of two parts") {
  const std::string parts = lasting_key + R"(
[[part.candidate]]
name = "key 6x6"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
supplier = "Bridge Street Parts"
price = 0.50
[[part]]
name = "knob"
life_unit = "cycles"
rated_life = 1e9
shape = 2
[[part.candidate]]
name = "plain knob"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
supplier = "Canal Side Electronics"
price = 2.00
[[part.candidate]]
name = "knob with a metal cap"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
supplier = "Bridge Street Parts"
price = 4.20
[[position]]
name = "setting"
part = "knob"
failed = 1
minutes = 5
joints = 0
)";
  const auto text = [&](const std::string& shipping) {
    return timer_case(parts, one_supplier("5.00") + "[[supplier]]\nname = \"Canal Side Electronics\"\n" +
                                 "lead_days = 2\nshipping = " + shipping + "\n");
  };
  // Derived: two orders 0.50 + 5 + 2.00 + 4.50 = 12.00; one supplier with the dearer knob 0.50 + 4.20 + 5 = 9.70.
  const Buying one = buy_text(text("4.50"));
  CHECK(near_abs(one.baskets.front().landed, 9.70, 1e-9));
  REQUIRE(one.baskets.size() >= 2);
  CHECK(near_abs(one.baskets[1].landed, 12.00, 1e-9));
  CHECK(near_abs(one.baskets[1].more, 2.30, 1e-9));
  REQUIRE(one.one_supplier);
  CHECK(near_abs(one.one_supplier->more, 0.0, 1e-9));
  // With cheap postage there, two orders are the better way: 0.50 + 5 + 2.00 + 1.50 = 9.00.
  const Buying two = buy_text(text("1.50"));
  CHECK(near_abs(two.baskets.front().landed, 9.00, 1e-9));
  CHECK(two.baskets.front().lines.size() == 2);
  CHECK(near_abs(two.one_supplier->more, 0.70, 1e-9));
}

TEST_CASE("question 8: abroad or at home, from how many pieces, and at which exchange rate") {
  const Buying b = buy_text(timer_case(lasting_key + R"(
[[part.candidate]]
name = "key 6x6"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
supplier = "Bridge Street Parts"
price = 0.50
[[part.candidate.offer]]
supplier = "Far Coast Trading"
price = 0.20
)",
                                       one_supplier("4.00") + R"(
[[supplier]]
name = "Far Coast Trading"
currency = "USD"
exchange_rate = 0.80
exchange_fee = 0
shipping = 10.00
lead_days = 2
)"));
  // Derived: at home 4 + 0.50 n, abroad 0.8 x (10 + 0.20 n) = 8 + 0.16 n: equal at n = 4 / 0.34 = 11.76, so from 12.
  REQUIRE(b.suppliers.size() == 1);
  REQUIRE(b.suppliers.front().ranges.size() == 2);
  CHECK(b.suppliers.front().ranges[0].supplier == "Bridge Street Parts");
  CHECK(b.suppliers.front().ranges[1].supplier == "Far Coast Trading");
  CHECK(b.suppliers.front().ranges[1].from == 12);
  // One piece: 4.50 at home against rate x 10.20 abroad.
  REQUIRE(b.suppliers.front().rates.size() == 1);
  CHECK(near_abs(b.suppliers.front().rates.front().turning, 4.50 / 10.20, 1e-9));
}

TEST_CASE("small switches: a dozen and a half at about 0.30 come to less than one shipping charge") {
  // Common practice, no source: about 0.30 apiece when a dozen and a half are bought, about 6 for the line, less than
  // one shipping charge, and two to three days at home.
  const Buying b = buy_text(timer_case(lasting_key + R"(
[[part.candidate]]
name = "key 6x6"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
prices = [{ from = 1, each = 0.48 }, { from = 10, each = 0.33 }, { from = 50, each = 0.26 }]
)",
                                       one_supplier("6.90")),
                            {{"key", 18}});
  const OrderLine& line = b.baskets.front().lines.front();
  CHECK(line.quantity == 18);
  CHECK(near_abs(line.each, 0.30, 0.05));
  CHECK(near_abs(line.line, 6.0, 0.5));
  CHECK(line.line < 6.90);
  CHECK(b.baskets.front().wait_days >= 2);
  CHECK(b.baskets.front().wait_days <= 3);
}

TEST_CASE("question 32: two customers with the same model share an order and its postage") {
  const std::string text = timer_case(lasting_key + R"(
[[part.candidate]]
name = "key 6x6"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
prices = [{ from = 1, each = 0.50 }, { from = 10, each = 0.40 }]
)",
                                      one_supplier("5.00"));
  // Derived: alone 0.50 + 5.00; with the other customer's key on the same order half of the postage, 0.50 + 2.50.
  CHECK(near_abs(buy_text(text).baskets.front().landed, 5.50, 1e-9));
  const Buying shared = buy_text(text, {}, {"supplier.other_goods=0.50"});
  CHECK(near_abs(shared.baskets.front().landed, 3.00, 1e-9));
  // Both keys as one purchase: 2 x 0.50 + 5.00, so 3.00 for each customer again.
  const Buying both = buy_text(text, {{"key", 2}});
  CHECK(near_abs(both.baskets.front().landed, 6.00, 1e-9));
  CHECK(near_abs(both.ladders.front().rows.front().landed_each, 3.00, 1e-9));
}

TEST_CASE("pieces at hand cost what they would save elsewhere") {
  const std::string text = timer_case(R"(
[[part]]
name = "key"
life_unit = "cycles"
rated_life = 1e9
shape = 2
other_uses_per_year = 0.2
[[part.candidate]]
name = "key 6x6"
fit = 1
dead_on_arrival = 0
[[part.candidate.offer]]
price = 2.00
)",
                                      one_supplier("5.00"));
  const auto with_drawer = [&](int on_hand, int pieces) {
    Case c = read_case(text, "timer.toml", built_in_rates());
    c.parts.front().candidates.front().on_hand = on_hand;
    BuySettings settings;
    settings.futures = 4000;
    settings.pieces = {{"key", pieces}};
    return buy(c, built_in_rates(), settings);
  };
  // Derived: an order of one is 7.00. Of three at hand, taking one leaves two; the third would have been used within the
  // year with P(N >= 3) of a Poisson number with mean 0.2, 1 - 1.22 exp(-0.2) = 0.00114848, and would have saved 7.00.
  const Buying one = with_drawer(3, 1);
  CHECK(one.baskets.front().lines.front().supplier == "the drawer");
  CHECK(near_abs(one.baskets.front().landed, 0.00114848 * 7, 1e-6));
  CHECK(one.baskets.front().wait_days == 0);
  // The only one at hand would be used with 1 - exp(-0.2) = 0.181269.
  CHECK(near_abs(with_drawer(1, 1).baskets.front().landed, 0.181269 * 7, 1e-5));
  // Two wanted, one at hand: 0.181269 x 7 and an order of one come to 8.27, an order of two to 9.00.
  const Buying two = with_drawer(1, 2);
  CHECK(two.baskets.front().lines.size() == 2);
  CHECK(near_abs(two.baskets.front().landed, 7.00 + 0.181269 * 7, 1e-5));
  // More at hand never makes the purchase dearer.
  double last = 1e9;
  for (int on_hand = 0; on_hand <= 4; ++on_hand) {
    const double landed = with_drawer(on_hand, 1).baskets.front().landed;
    CHECK(landed <= last + 1e-9);
    last = landed;
  }
}
