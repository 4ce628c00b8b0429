// A shop's record of what it used: read, counted by months, and used as demand.
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "answers/bulk_wants.hpp"
#include "answers/past_use.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/render.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"
#include "support/page_text.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;

namespace {

std::string problems_of(const std::string& csv, const std::string& part = "") {
  try {
    static_cast<void>(months_of(read_past_use(csv, "used.csv"), part));
  } catch (const InputError& error) {
    std::string text;
    for (const Diagnostic& d : error.problems()) text += d.text() + "\n";
    return text;
  }
  return "accepted";
}

std::vector<double> counts_of(const UsedMonths& used) {
  std::vector<double> counts;
  for (const Watched& month : used.months) counts.push_back(month.count);
  return counts;
}

}  // namespace

TEST_SUITE_BEGIN("questions: past use");

TEST_CASE("months without use are there, the first and the last day with use stand for their months") {
  const PastUse use =
      read_past_use("Date;Pieces;note\n2025-02-27;2;x\n2024-11-30;1;\n2024-11-02;3;\n", "used.csv");
  const UsedMonths used = months_of(use, "");
  CHECK(used.from == Date{2024, 11, 1});
  CHECK(used.to == Date{2025, 2, 28});
  CHECK(counts_of(used) == std::vector<double>{4, 0, 0, 2});
  for (const Watched& month : used.months) CHECK(month.time == 1);
}

// Derived: from the 16th of April's 30 days on, and the first 7 of June's 30.
TEST_CASE("rows of nothing say since when and until when the record was kept") {
  const UsedMonths used =
      months_of(read_past_use("date,pieces\n2025-04-16,0\n2025-05-03,4\n2025-06-07,0\n", "used.csv"), "");
  REQUIRE(used.months.size() == 3);
  CHECK(used.from == Date{2025, 4, 16});
  CHECK(near_rel(used.months[0].time, 15.0 / 30, 1e-12));
  CHECK(used.months[1].count == 4);
  CHECK(near_rel(used.months[2].time, 7.0 / 30, 1e-12));
}

TEST_CASE("a record of several parts: the days of all are those of each") {
  const PastUse use = read_past_use(
      "date,pieces,part\n2025-01-05,1,button\n2025-03-05,2,lamp\n2025-05-05,1,button\n", "used.csv");
  CHECK(counts_of(months_of(use, "lamp")) == std::vector<double>{0, 0, 2, 0, 0});
  CHECK(counts_of(months_of(use, "button")) == std::vector<double>{1, 0, 0, 0, 1});
}

TEST_CASE("all problems of a record in one go, each with its place") {
  const std::string rows = problems_of("date,pieces\n2025-02-30,1\n2025-01-01,-3\n2025-01-02,\nx\n");
  CHECK(testing::contains(rows, "used.csv:2:1"));
  CHECK(testing::contains(rows, "found '2025-02-30'"));
  CHECK(testing::contains(rows, "used.csv:3:12"));
  CHECK(testing::contains(rows, "used.csv:4"));
  CHECK(testing::contains(rows, "the number is missing"));
  CHECK(testing::contains(rows, "used.csv:5"));
  CHECK(testing::contains(problems_of(""), "the file is empty"));
  CHECK(testing::contains(problems_of("date,pieces\n"), "there is no row below the header"));
  CHECK(testing::contains(problems_of("dote,pieces\n2025-01-01,1\n"), "is 'dote' meant to be it?"));
  CHECK(testing::contains(problems_of("date,pieces,prt\n2025-01-01,1,x\n"), "nearly 'part'"));
  CHECK(testing::contains(problems_of("date,pieces,date\n2025-01-01,1,x\n"), "stands there twice"));
  CHECK(testing::contains(problems_of("date,pieces\n2025-01-01,1\n2025-01-31,1\n"), "less than two months"));
  CHECK(testing::contains(problems_of("date,pieces\n2025-01-01,0\n2025-03-31,0\n"), "nothing was used"));
  CHECK(testing::contains(problems_of("date,pieces\n0205-01-01,1\n"), "a day that exists"));
  CHECK(testing::contains(problems_of("date,pieces\n1600-01-01,1\n2025-03-31,1\n"), "5103 months"));
  CHECK(testing::contains(problems_of("date,pieces,part\n2025-01-01,1,lamp\n2025-03-31,1,lamp\n", "button"),
                          "no row is about part 'button'"));
  CHECK(testing::contains(problems_of("candidate,from,each\nx,1,2\n"), "this is a quotation"));
}

// Derived: 12 pieces in 12 months, one a month, are steadier than chance: Poisson, one a month, with what twelve pieces tell.
// Two years of 24 expected: variance 24 x (1 + 24 / 12).
TEST_CASE("a record in place of jobs a month") {
  Case c = test::one_offer({{1, 1.00}}, {{0, 4.00}});
  c.parts[0].shelf_life_years = test::exactly(2);
  c.bulk = Bulk{};
  c.bulk->jobs_per_month = test::exactly(50);
  std::string csv = "date,pieces\n";
  for (int month = 1; month <= 12; ++month)
    csv += "2025-" + std::string(month < 10 ? "0" : "") + std::to_string(month) + "-10,1\n";
  BulkSettings settings;
  settings.past_use = read_past_use(csv, "used.csv");
  const BulkAnswer answer = bulk_what_if(c, built_in_rates(), settings);
  const BulkScenario& scenario = answer.scenarios.front();
  REQUIRE(scenario.past_use.size() == 1);
  CHECK(scenario.past_use.front().months == 12);
  CHECK_FALSE(scenario.past_use.front().size);
  CHECK(near_rel(scenario.demand.front().mean, 24, 1e-9));
  CHECK(near_rel(scenario.demand.front().deviation, std::sqrt(24 * (1 + 24.0 / 12)), 1e-9));
  CHECK(near_rel(scenario.swap_out.per_week, 12 * 7 / 365.25, 2e-2));  // 64 points of its gamma law
  CHECK(testing::contains(bulk_page(answer, {.show = {"demand"}}), "is Poisson"));
  CHECK(testing::widest_line(bulk_page(answer, {.show = {"all"}})) <= 80);

  c.bulk->jobs_per_month.reset();
  c.bulk->devices = 4;
  c.bulk->failed = 1;
  CHECK_THROWS_AS(static_cast<void>(bulk_what_if(c, built_in_rates(), settings)), InputError);
}

// Derived: as many independent streams like the recorded one have so many times its mean and its variance, be it steady or
// in clumps.
TEST_CASE("so many times the use of a record has so many times its mean and variance") {
  Case c = test::one_offer({{1, 1.00}}, {{0, 4.00}});
  c.bulk = Bulk{};
  BulkSettings settings;
  settings.past_use = read_past_use(
      "date,pieces\n2025-01-10,9\n2025-03-10,1\n2025-06-10,12\n2025-09-10,1\n2025-12-10,8\n", "used.csv");
  const auto wants = wants_of(c, settings);
  REQUIRE(wants.size() == 1);
  REQUIRE(wants.front()->past_use().front().size.has_value());
  const Demand once = wants.front()->pieces(0, 2), thrice = wants.front()->scaled(3)->pieces(0, 2);
  CHECK(near_rel(thrice.mean(), 3 * once.mean(), 1e-6));
  CHECK(near_rel(thrice.variance(), 3 * once.variance(), 1e-6));
}

TEST_SUITE_END();
