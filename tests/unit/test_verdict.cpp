#include <doctest/doctest.h>

#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"

// What counting the unused life of a device at the horizon would do to the verdict, for each kind of verdict.

namespace {

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::minimal_case;

Verdict verdict_of_case(const Case& c) {
  return weigh(c, built_in_rates(), {.seed = 3, .futures = 4'000, .threads = 1}).verdict;
}

/// One year; a new one for 80 that is hardly used up by then, a repair for more than 170 of own time.
Case short_case(double burden_per_year) {
  Case c = minimal_case();
  c.horizon.years = exactly(1);
  c.rest.remaining_years = exactly(500);
  c.labour.rate_per_hour = exactly(300);
  c.fault.burden_per_year = exactly(burden_per_year);
  return c;
}

}  // namespace

TEST_CASE("unused life can turn a verdict to leave it, although the saving keeps its sign") {
  // Derived: leaving costs about 30; replacing 80, of which some four fifths are left after one of five years.
  const Verdict v = verdict_of_case(short_case(30));
  CHECK(v.kind == VerdictKind::leave);
  REQUIRE(v.saving_unused_life_counted);
  CHECK(*v.saving < 0);
  CHECK(*v.saving_unused_life_counted < *v.saving);
  CHECK(v.unused_life_turns);
}

TEST_CASE("unused life leaves a verdict to leave it where that costs next to nothing") {
  const Verdict v = verdict_of_case(short_case(1));
  CHECK(v.kind == VerdictKind::leave);
  CHECK_FALSE(v.unused_life_turns);
}

TEST_CASE("unused life turns a verdict to repair where the saving changes its sign, and only there") {
  Case c = short_case(1000);
  c.labour.rate_per_hour = exactly(80);  // about 60 in all
  const Verdict repair = verdict_of_case(c);
  CHECK(repair.kind == VerdictKind::repair);
  REQUIRE(repair.saving_unused_life_counted);
  CHECK(*repair.saving_unused_life_counted < 0);
  CHECK(repair.unused_life_turns);

  const Verdict replace = verdict_of_case(short_case(1000));
  CHECK(replace.kind == VerdictKind::replace);
  CHECK_FALSE(replace.unused_life_turns);

  const Verdict counted = verdict_of_case(c);
  CHECK(counted.kind == VerdictKind::replace);
  CHECK_FALSE(counted.saving_unused_life_counted);
  CHECK_FALSE(counted.unused_life_turns);
}
