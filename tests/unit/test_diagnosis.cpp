// What a device brought in earns if its owner may walk away; by hand.
#include <doctest/doctest.h>

#include "quote/diagnosis.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

TEST_CASE("a credited fee is paid by those who walk away") {
  // 30 % walk away and leave 25 - 16 = 9; 70 % go ahead and leave 20: 0.3 * 9 + 0.7 * 20 = 16.70.
  const auto answer = diagnosis_answer(
      {.fee = 25, .credited = true, .cost = 16, .job_margin = 20, .walk_away = Quantity::exactly(0.3)});
  CHECK(answer.walk_away_known);
  CHECK(near_abs(answer.income_per_intake, 16.70, 1e-12));
  // 0.3 (f - 16) + 0.7 * 20 = 0 for f = -30.67, so no fee is needed.
  CHECK(answer.break_even_fee.value() == 0.0);
  CHECK_FALSE(answer.turning_share.has_value());  // 20 / (20 - 25 + 16) = 1.8: never
}

TEST_CASE("the fee that breaks even where jobs lose and where many walk away") {
  // 0.6 (f - 16) + 0.4 * 3 = 0: f = 14.
  const auto credited = diagnosis_answer(
      {.fee = 0, .credited = true, .cost = 16, .job_margin = 3, .walk_away = Quantity::exactly(0.6)});
  CHECK(near_abs(credited.income_per_intake, 0.6 * -16 + 0.4 * 3, 1e-12));
  CHECK(near_abs(credited.break_even_fee.value(), 14.0, 1e-12));
  // 3 / (3 - 0 + 16)
  CHECK(near_abs(credited.turning_share.value(), 3.0 / 19.0, 1e-12));

  // Not credited, everybody pays it: 0.6 (f - 16) + 0.4 (m + f), m = 3 - 10 without the fee: f = 9.6 + 2.8 = 12.4.
  const auto charged = diagnosis_answer(
      {.fee = 10, .credited = false, .cost = 16, .job_margin = 3, .walk_away = Quantity::exactly(0.6)});
  CHECK(near_abs(charged.break_even_fee.value(), 12.4, 1e-12));
}

TEST_CASE("a share that nobody knows is looked at from none to half") {
  const auto answer =
      diagnosis_answer({.fee = 25, .credited = true, .cost = 16, .job_margin = 20, .walk_away = {}});
  CHECK_FALSE(answer.walk_away_known);
  CHECK(answer.walk_away_low == 0.0);
  CHECK(answer.walk_away_high == 0.5);
  CHECK(near_abs(answer.income_low, 20, 1e-12));
  CHECK(near_abs(answer.income_high, 14.5, 1e-12));
}

TEST_CASE("nobody walks away and jobs lose: no fee is enough") {
  const auto answer = diagnosis_answer(
      {.fee = 5, .credited = true, .cost = 16, .job_margin = -4, .walk_away = Quantity::exactly(0)});
  CHECK_FALSE(answer.break_even_fee.has_value());
}
