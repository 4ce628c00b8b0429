// Do the pictures show what the answer says?
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "render/weighing_charts.hpp"
#include "support/case_builder.hpp"
#include "support/example_files.hpp"
#include "support/near.hpp"
#include "support/sample_weighing.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;
using Json = nlohmann::json;

namespace {

Weighing weighed(const std::string& example) {
  const RateBook rates = built_in_rates();
  return weigh(read_case(test::example_text(example), example, rates), rates,
               {.futures = 1000, .threads = 1, .what_ifs = false});
}

// Every number of every cell that is a number, in the order of the page.
bool has_number(const std::string& page, const std::string& number) {
  return page.find(number) != std::string::npos;
}

}  // namespace

TEST_CASE("the numbers of the charts are those of the JSON") {
  for (const char* example : {"lighting-desk.toml", "field-recorder.toml"}) {
    CAPTURE(example);
    const Weighing w = weighed(example);
    const Json json = Json::parse(weighing_json(w));

    const Chart costs = costs_chart(w);
    REQUIRE_FALSE(costs.empty());
    for (const ChartBar& bar : costs.bars) {
      const auto option = std::find_if(json["options"].begin(), json["options"].end(),
                                       [&](const Json& o) { return o["name"] == bar.label; });
      REQUIRE(option != json["options"].end());
      CHECK(*bar.point == (*option)["present_cost"].get<double>());
      double sum = 0;
      for (const ChartSegment& part : bar.segments) sum += part.value;
      double of_json = 0;
      for (const auto& part : (*option)["made_of"]) of_json += part.get<double>();
      CHECK(near_rel(sum, of_json, 1e-12));
      CHECK(near_rel(sum, *bar.point, 1e-9));
    }

    const Chart saving = saving_chart(w);
    std::size_t at = 0;
    for (const auto& series : {saving.series[1], saving.series[0]}) {
      for (const ChartPoint& point : series.points) {
        CHECK(point.x == json["saving_bins"][at]["low_amount"].get<double>());
        CHECK(point.y == json["saving_bins"][at]["share"].get<double>());
        ++at;
      }
    }
    CHECK(at == json["saving_bins"].size());

    const Chart in_time = cost_in_time_chart(w);
    for (std::size_t i = 0; i < 2; ++i) {
      const Json& course = json["cost_in_time"][i == 0 ? "repair" : "replacement"];
      REQUIRE(in_time.series[i].points.size() == course.size());
      for (std::size_t k = 0; k < course.size(); ++k) {
        CHECK(in_time.series[i].points[k].x == course[k]["years"].get<double>());
        CHECK(in_time.series[i].points[k].y == course[k]["expected_cost"].get<double>());
        CHECK(*in_time.series[i].points[k].low == course[k]["p10_cost"].get<double>());
        CHECK(*in_time.series[i].points[k].high == course[k]["p90_cost"].get<double>());
      }
    }

    for (std::size_t m = 0; m < w.mate_survival.size(); ++m) {
      const Chart mates = survival_chart(w.mate_survival[m]);
      const Json& points = json["mate_survival"][m]["points"];
      for (std::size_t k = 0; k < points.size(); ++k) {
        CHECK(mates.series[0].points[k].y == points[k]["after_share"].get<double>());
        CHECK(mates.series[1].points[k].y == points[k]["before_share"].get<double>());
      }
    }
  }
}

TEST_CASE("the swings of the inputs end where the JSON says") {
  const Weighing w = testing::weighing();
  const Json json = Json::parse(weighing_json(w));
  const Chart swings = swings_chart(w);
  REQUIRE_FALSE(swings.empty());
  for (std::size_t i = 0; i < swings.bars.size(); ++i) {
    for (const ChartSegment& part : swings.bars[i].segments)
      CHECK(part.value ==
            json["sensitivity"][i][part.series == 0 ? "saving_at_low_amount" : "saving_at_high_amount"]
                .get<double>());
  }
}

TEST_CASE("the spread of the saving agrees with the shares of the verdict") {
  const Weighing w = weighed("lighting-desk.toml");
  REQUIRE(w.verdict.saving);
  double above = 0, all = 0;
  for (const SavingBin& bin : w.saving_bins) {
    all += bin.share;
    if (bin.low >= 0) above += bin.share;
    // No bin lies on both sides of nought.
    CHECK(bin.low * bin.high >= 0);
    CHECK(near_rel(bin.high - bin.low, w.saving_bins.front().high - w.saving_bins.front().low, 1e-9));
  }
  // Half a percent at either end is left out.
  CHECK(all >= 0.988);
  CHECK(all <= 1 + 1e-9);
  CHECK(near_abs(above, w.verdict.repair_cheaper_share, 0.0101));
}

TEST_CASE("devices that all last alike are paid for in steps") {
  // A replacement for 100 that lasts 4 years whatever happens, shape 20: by the sampler of a Weibull law of mean 4 one in
  // a thousand ends before 2.9 years and after 4.6. No interest, needed for 10 years.
  Case c = test::one_offer({{1, 1.00}}, {{0, 4.00}});
  c.horizon.years = test::exactly(10);
  c.horizon.discount_rate = test::exactly(0);
  REQUIRE(c.replacements.size() >= 1);
  c.replacements.resize(1);
  Replacement& r = c.replacements.front();
  r.price = test::exactly(100);
  r.shipping = test::exactly(0);
  r.setup_minutes = test::exactly(0);
  r.life_years = test::exactly(4);
  r.life_shape = test::exactly(20);
  r.benefit_per_year = test::exactly(0);
  const Weighing w = weigh(c, built_in_rates(), {.futures = 2000, .threads = 1, .what_ifs = false});
  REQUIRE(w.cost_in_time);
  const auto& sums = w.cost_in_time->replacement;
  const auto at = [&](double years) {
    return *std::min_element(sums.begin(), sums.end(), [&](const auto& a, const auto& b) {
      return std::abs(a.years - years) < std::abs(b.years - years);
    });
  };
  const double now = sums.front().expected;  // one device, less what the old one brings
  for (const auto& row : {std::pair{2.0, 1}, std::pair{6.0, 2}, std::pair{10.0, 3}}) {
    const double years = row.first;
    const int devices = row.second;
    CAPTURE(years);
    const CostInTime::Sum sum = at(years);
    const double expected = now + 100.0 * (devices - 1) * (1 + r.tax.base());
    CHECK(near_rel(sum.p10, expected, 0.01));
    CHECK(near_rel(sum.p90, expected, 0.01));
    CHECK(near_rel(sum.expected, expected, 0.02));
  }
}

TEST_CASE("bands of the cost through time hold about eight in ten futures, whatever the threads") {
  const RateBook rates = built_in_rates();
  const Case c = read_case(test::example_text("lighting-desk.toml"), "lighting-desk.toml", rates);
  const Weighing one = weigh(c, rates, {.futures = 600, .threads = 1, .what_ifs = false});
  const Weighing two = weigh(c, rates, {.futures = 600, .threads = 2, .what_ifs = false});
  REQUIRE(one.cost_in_time);
  for (std::size_t k = 0; k < one.cost_in_time->repair.size(); ++k) {
    const CostInTime::Sum &a = one.cost_in_time->repair[k], &b = two.cost_in_time->repair[k];
    CHECK(a.p10 <= a.p90);
    CHECK(a.p10 == b.p10);
    CHECK(a.p90 == b.p90);
    CHECK(a.expected == b.expected);
  }
}

TEST_CASE("survival of the mates falls from all of them to what the table of survivors says") {
  const Weighing w = weighed("lighting-desk.toml");
  REQUIRE_FALSE(w.mate_survival.empty());
  for (const MateSurvival& mates : w.mate_survival) {
    CHECK(mates.points.front().before == 1);
    CHECK(mates.points.front().after == 1);
    for (std::size_t k = 1; k < mates.points.size(); ++k) {
      CHECK(mates.points[k].before <= mates.points[k - 1].before + 1e-12);
      CHECK(mates.points[k].after <= mates.points[k - 1].after + 1e-12);
    }
    const auto row = std::find_if(w.survivors.begin(), w.survivors.end(),
                                  [&](const SurvivorRow& r) { return r.position == mates.position; });
    REQUIRE(row != w.survivors.end());
    CHECK(near_abs(mates.points.back().years, w.years_ahead, 1e-12));
    CHECK(near_abs(1 - mates.points.back().after, row->chance, 1e-12));
    CHECK(near_abs(1 - mates.points.back().before, row->prior_chance, 1e-12));
  }
}

TEST_CASE("the report is one file in the order of what is asked, with the numbers of each picture") {
  const Weighing w = testing::weighing();
  const std::string html = weighing_page(w, {.form = PageForm::html});
  std::size_t before = 0;
  for (const char* heading : {"What to do, and how sure that is", "The money side by side",
                              "What would turn it", "How the parts age", "How it was worked out"}) {
    CAPTURE(heading);
    const std::size_t at = html.find(std::string("<h2>") + heading);
    REQUIRE(at != std::string::npos);
    CHECK(at > before);
    before = at;
  }
  CHECK(html.find("<script") == std::string::npos);
  CHECK(html.find("http") == std::string::npos);
  CHECK(html.find("url(") == std::string::npos);
  CHECK(html.find(" id=") == std::string::npos);
  CHECK(has_number(html, "price of Desk 2 (EUR)"));
  // As many pictures for narrow pages as for wide ones, each with its numbers.
  const auto count = [&](const std::string& piece) {
    std::size_t found = 0;
    for (std::size_t at = html.find(piece); at != std::string::npos; at = html.find(piece, at + 1)) ++found;
    return found;
  };
  CHECK(count("<svg class=\"chart wide\"") == count("<figure>"));
  CHECK(count("<svg class=\"chart narrow\"") == count("<figure>"));
  CHECK(count("<details>") == count("<figure>"));
  CHECK(count("<figure>") >= 5);
}

TEST_CASE("every input of a case stands in its report with where it comes from") {
  const RateBook rates = built_in_rates();
  const Case c = read_case(test::example_text("lighting-desk.toml"), "lighting-desk.toml", rates);
  const Weighing w = weigh(c, rates, {.futures = 200, .threads = 1, .what_ifs = false});
  REQUIRE_FALSE(w.inputs.empty());
  for (const Weighing::InputRow& row : w.inputs) {
    CAPTURE(row.key);
    CHECK_FALSE(row.label.empty());
    CHECK_FALSE(row.source.empty());
    const auto used = std::find_if(c.defaults.begin(), c.defaults.end(),
                                   [&](const DefaultUse& use) { return use.key == row.key; });
    // The life of a candidate may be the part's, which is then where it is from.
    const bool of_life = row.key.ends_with(".rated_life") || row.key.ends_with(".shape");
    if (of_life && row.key.find(".candidate.") != std::string::npos) continue;
    CHECK((used != c.defaults.end()) == !row.source.starts_with("stated"));
  }
}
