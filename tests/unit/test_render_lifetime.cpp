#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "mendworth/render.hpp"
#include "render/layout.hpp"
#include "render/lifetime_charts.hpp"
#include "render/lifetime_words.hpp"
#include "support/json_schema.hpp"
#include "support/sample_lifetime.hpp"

// Expected pieces are derived from the sample's figures by hand.
using namespace mendworth;
using Json = nlohmann::json;
using testing::lifetime;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

bool contains(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

std::size_t count_of(const std::string& text, const std::string& piece) {
  std::size_t count = 0;
  for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) ++count;
  return count;
}

/// The page in one line, its blanks single: where lines break does not matter.
std::string flat(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\n';
    if (!blank) out += c;
    if (blank && !out.empty() && out.back() != ' ') out += ' ';
  }
  return out;
}

std::string page_of(const Lifetime& l) { return flat(lifetime_page(l, {.show = {"all"}})); }

int widest_line(const std::string& text) {
  std::istringstream lines(text);
  int widest = 0;
  for (std::string line; std::getline(lines, line);) widest = std::max(widest, display_width(line));
  return widest;
}

Lifetime unfailed() {
  Lifetime l = lifetime();
  l.groups = {testing::unfailed_group()};
  return l;
}

}  // namespace

TEST_CASE("lifetime text: the answer comes first, in words") {
  const std::string page = page_of(lifetime());
  CHECK(page.starts_with(
      "Half of these pieces fail by 44000 cycles (95 % limits 36400 to 54700), one in ten by "
      "18200. They wear out: the older a piece, the sooner the next failure (shape 2.12, 95 % "
      "limits 1.38 to 3.09). The record Record: history.csv, part 'encoder', 8 pieces, ages in cycles."));
  CHECK(contains(page, "mendworth " + std::string(version()) + "."));
}

TEST_CASE("lifetime text: what the shape says") {
  Lifetime l = lifetime();
  l.groups[0].fit->shape = {0.6, 0.1, 0.4, 0.9, 0.4, 0.85};
  CHECK(contains(page_of(l),
                 "They fail early: a piece that has lasted is better than a new one (shape 0.6, 95 % limits "
                 "0.4 to 0.85)."));
  l.groups[0].fit->shape = {1.5, 0.5, 0.8, 2.8, 0, infinity};
  CHECK(contains(page_of(l),
                 "Whether they wear out, or fail at any age alike, cannot be told from so few failures "
                 "(shape 1.5, 95 % limits none)."));
}

TEST_CASE("lifetime text: estimates with both limits, named") {
  const std::string text = lifetime_page(lifetime(), {.show = {"all"}});
  CHECK(contains(text, "likelihood"));
  CHECK(contains(text, "approximation"));
  const std::string page = flat(text);
  CHECK(contains(page, "shape 2.12 0.438 1.38 to 3.09 1.42 to 3.18"));
  CHECK(contains(page, "scale 52300 5120 43900 to 65100 43200 to 63400"));
  CHECK(contains(page, "median life 44000 4600 36400 to 54700 35800 to 54000"));
  CHECK(contains(page, "B10 life 18200 3900 11300 to 26400 11900 to 27700"));
  CHECK(contains(page, "working at 30000 73 % 7.1 % 58 % to 85 % 57 % to 85 %"));
  CHECK(
      contains(page,
               "Log-likelihood -48.1235. Of (ln scale, ln shape): variances 0.00958 and 0.04238, covariance "
               "-0.0021."));
}

TEST_CASE("lifetime text: limits that do not exist are called none") {
  Lifetime l = lifetime();
  l.groups[0].fit->median.profile_high = infinity;
  l.groups[0].fit->b10.profile_low = 0;
  l.groups[0].fit->b10.error.reset();
  const std::string page = page_of(l);
  CHECK(contains(page, "median life 44000 4600 36400 to none"));
  CHECK(contains(page, "B10 life 18200 - none to 26400"));
  CHECK_FALSE(contains(page, "inf"));
}

TEST_CASE("lifetime text: what was counted") {
  const std::string page = page_of(lifetime());
  CHECK(contains(page, "3 1 0 4 2 302000"));
  CHECK(contains(page, "came under watch later are counted in one of the other columns too"));
  Lifetime l = lifetime();
  l.groups[0].truncated = 0;
  CHECK_FALSE(contains(page_of(l), "are counted in one of the other columns too"));
}

TEST_CASE("lifetime text: the test of fit in words") {
  CHECK(contains(
      page_of(lifetime()),
      "Does a Weibull law fit? distance of the product-limit curve (Anderson and Darling): statistic 0.412, "
      "chance 0.37 of one as large if it does: nothing in this record speaks against the law."));
  Lifetime l = lifetime();
  l.groups[0].test->chance = 0.00002;
  CHECK(contains(page_of(l),
                 "chance below 0.0001 of one as large if it does: the law describes this record poorly."));
}

TEST_CASE("lifetime text: no failures") {
  const std::string page = page_of(unfailed());
  CHECK(page.starts_with(
      "No Weibull law. No piece has failed, so the likelihood has no maximum. The record Record:"));
  CHECK(contains(
      page,
      "If they wear with shape 2 (assumed, not found here), then with 95 % confidence half of them reach "
      "17900 cycles or more, and nine in ten reach 6980; the scale is at least 21500."));
  CHECK_FALSE(contains(page, "profile likelihood"));
  CHECK(count_of(page, "No piece has failed") == 1);
}

TEST_CASE("lifetime text: groups are compared in words") {
  Lifetime l = testing::two_groups();
  std::string page = page_of(l);
  CHECK(contains(
      page,
      "Does 'Far <Harbour> & Co' last longer than 'Old Dock'? Its median life is 1.74 times as long (95 % "
      "limits 1.24 to 2.44, normal approximation). If all lasted alike, chance alone would make the lives "
      "differ as much as here with chance 0.0077: they differ."));
  CHECK(contains(
      page,
      "with a common shape, statistic 7.1, 1 degree of freedom, chance 0.0077; with a shape for each "
      "group, statistic 7.25, 2 degrees of freedom, chance 0.027."));
  CHECK(contains(page, "Group: Old Dock"));
  CHECK(contains(page, "All groups as one"));

  // The first lasts longer: the question turns round, and so do the limits: 1/0.8 and 1/0.4.
  l.comparison->median_ratio = LifeEstimate{0.5, 0.1, 0.4, 0.8, 0, 0};
  l.comparison->common_shape_chance = 0.03;
  page = page_of(l);
  CHECK(contains(
      page,
      "Does 'Old Dock' last longer than 'Far <Harbour> & Co'? Its median life is 2 times as long (95 % "
      "limits 1.25 to 2.5"));
  CHECK(contains(page, "with chance 0.03: they probably differ."));

  l.comparison->common_shape_chance = 0.1;
  page = page_of(l);
  CHECK(contains(page, "with chance 0.1: a hint and no more: note further failures."));
  CHECK(contains(page, "Yet they wear differently: with a shape for each group the chance is 0.027."));
  l.comparison->common_shape_chance = 0.5;
  l.comparison->chance = 0.6;
  page = page_of(l);
  CHECK(contains(page, "with chance 0.5: no difference is shown, which does not show that there is none."));
  CHECK_FALSE(contains(page, "Yet they wear differently"));

  l.comparison.reset();
  l.no_comparison_reason = "'Old Dock' has no fitted law";
  CHECK(contains(page_of(l), "Are the groups alike? 'Old Dock' has no fitted law"));
}

TEST_CASE("lifetime text: a group without failures is compared in words") {
  Lifetime l = testing::failure_free_group();
  std::string page = page_of(l);
  CHECK(contains(page,
                 "None of the 5 'sealed' pieces has failed. The median life of 'sealed' is at least 1.7 "
                 "times that of 'open' "
                 "(95 % limit by profile likelihood, both taken to wear with one shape). If both lasted "
                 "alike, all failures "
                 "would have fallen on 'open' with chance 0.027: 'sealed' is probably better."));
  CHECK(contains(page, "statistic 7.25, chance exp(-statistic/2), which is exact for a known shape."));
  CHECK_FALSE(contains(page, "0.0071"));

  l.comparison->chance = 0.002;
  CHECK(contains(page_of(l), "with chance 0.002: 'sealed' is better."));

  l.groups[0].working = 1;
  l.comparison->chance = 0.1;
  l.comparison->failure_free->median_ratio_at_least = 0.6;
  page = page_of(l);
  CHECK(contains(
      page,
      "The one 'sealed' piece has not failed. The median life of 'sealed' may be longer than that of "
      "'open' or shorter: it is at least 0.6 times as long (95 % limit by profile likelihood"));
  CHECK(contains(page, "with chance 0.1: a hint and no more: keep watching."));

  std::swap(l.groups[0], l.groups[1]);
  l.comparison->failure_free = FailureFreeGroup{1, 0};
  l.comparison->chance = 0.9;
  page = page_of(l);
  CHECK(contains(
      page,
      "The median life of 'sealed' may be longer than that of 'open' or shorter: this record sets it no "
      "lower limit. If both lasted alike, all failures would have fallen on 'open' with chance 0.9: no "
      "difference is shown, which does not show that there is none."));
}

TEST_CASE("lifetime text: parts thrown together are pointed out") {
  Lifetime l = lifetime();
  l.part.clear();
  l.parts = {"encoder", "relay"};
  CHECK(contains(page_of(l),
                 "Several parts are taken as one here: 'encoder', 'relay'. Choose one with --part."));
  l.parts = {"encoder"};
  CHECK_FALSE(contains(page_of(l), "taken as one"));
  // Grouped by part, nothing is thrown together.
  l = testing::two_groups();
  l.part.clear();
  l.parts = {l.groups[0].name, l.groups[1].name};
  CHECK_FALSE(contains(page_of(l), "taken as one"));
}

TEST_CASE("lifetime text: a long curve is told in fifteen steps, from the first to the last") {
  Lifetime l = lifetime();
  l.groups[0].curve.steps.clear();
  for (int i = 1; i <= 100; ++i) {
    l.groups[0].curve.steps.push_back({1000.0 * i, 101.0 - i, 1, 1 - i / 100.0, 0.01, 0, 1});
  }
  const std::string page = page_of(l);
  CHECK(contains(page, "15 of 100 steps; --format csv has all."));
  CHECK(contains(page, " 1000 100 1 99 % "));
  CHECK(contains(page, " 100000 1 1 0 % "));
  CHECK_FALSE(contains(page, " 2000 99 1 "));
}

TEST_CASE("lifetime text: 80 columns, no control characters, whatever the names") {
  Lifetime l = testing::two_groups();
  l.part = "caf\xE9 \x1b[2J " + std::string(200, 'x');
  l.groups[0].name = "\xE7\xBC\x96\xE7\xA0\x81\xE5\x99\xA8 " + std::string(100, 'y');
  for (const int width : {80, 100}) {
    CHECK(widest_line(lifetime_page(l, {.width = width, .show = {"all"}})) <= width);
  }
  CHECK_FALSE(contains(lifetime_page(l, {.show = {"all"}}), "\x1b"));
  CHECK(contains(lifetime_page(l, {.color = true}), "\x1b[1m"));
}

TEST_CASE("lifetime plot: the marks stand where the figures say") {
  const Lifetime l = lifetime();
  const auto lines = chart_text(survival_chart(l, l.groups[0]), 78, false);
  // The name of the scale, 16 rows from 100 % to 0 %, three lines of the axis, the names.
  REQUIRE(lines.size() == 21);
  CHECK(lines[0] == "still working");
  CHECK(lines[1].starts_with("100 % +@"));
  CHECK(lines[4].starts_with(" 80 % +"));
  CHECK(lines[16].starts_with("  0 % +"));
  CHECK(contains(lines[18], "50000"));
  CHECK(lines[19].ends_with("age (cycles)"));
  CHECK(lines[20] == "* Weibull law  # recorded (Kaplan & Meier)  . 95 % limits: low, high  @ both");
  // 71 columns from 0 to 1.2 medians, of which the law and the curve have each its row of 16: row 15 (1 - R).
  const WeibullFit& fit = *l.groups[0].fit;
  const double end = std::max(1.05 * l.groups[0].curve.steps.back().time, 1.2 * fit.median.value);
  const auto column = [&](double age) { return static_cast<std::size_t>(7 + std::lround(70 * age / end)); };
  const auto row = [](double share) { return static_cast<std::size_t>(1 + std::lround(15 * (1 - share))); };
  const double age = 30'000;
  const double working = std::exp(-std::pow(age / fit.scale.value, fit.shape.value));
  CHECK(lines[row(working)][column(age)] == '*');
  for (const std::string& line : lines) {
    CHECK(line.size() <= 78);
    CHECK(std::all_of(line.begin(), line.end(), [](char c) { return c >= ' ' && c <= '~'; }));
  }
}

TEST_CASE("lifetime plot: any range of ages, and nothing to draw") {
  for (const double unit : {1e-9, 0.003, 1.0, 7e5, 1e12}) {
    CAPTURE(unit);
    Lifetime l = lifetime();
    l.unit = LifeUnit::years;
    for (SurvivalStep& step : l.groups[0].curve.steps) step.time *= unit;
    l.groups[0].fit.reset();
    const auto lines = chart_text(survival_chart(l, l.groups[0]), 60, false);
    REQUIRE(lines.size() == 21);
    CHECK(count_of(lines[17], "|") >= 2);
    for (const std::string& line : lines) CHECK(line.size() <= 60);
  }
  const Lifetime l = testing::two_groups();
  CHECK(chart_text(survival_chart(l, testing::unfailed_group()), 78, false).empty());
  CHECK(chart_text(survival_chart(l, l.groups[1]), 78, false).back() ==
        "* Weibull law  # recorded (Turnbull)  @ both");
}

TEST_CASE("lifetime JSON satisfies its schema, and the schema knows every key") {
  const Json schema = Json::parse(lifetime_schema());
  testing::SchemaValidator validator(schema);
  for (const Lifetime& l : {lifetime(), testing::two_groups(), testing::failure_free_group(), unfailed()}) {
    CHECK(validator.problems(Json::parse(lifetime_json(l))) == std::vector<std::string>{});
  }
  Json broken = Json::parse(lifetime_json(lifetime()));
  broken["groups"][0]["curve"]["steps"][0]["working_share"] = 1.5;
  CHECK_FALSE(validator.problems(broken).empty());
}

TEST_CASE("lifetime JSON: unrounded numbers, null for what does not exist") {
  const std::string text = lifetime_json(testing::two_groups());
  CHECK(text.starts_with("{\n  \"schema\": \"mendworth.lifetime\",\n  \"version\": 1,\n"));
  const Json json = Json::parse(text);
  const Json& fit = json["groups"][0]["fit"];
  CHECK(fit["log_likelihood"] == -48.123456);
  CHECK(fit["shape"] == Json({{"value", 2.125},
                              {"standard_error", 0.4375},
                              {"normal_low", 1.42},
                              {"normal_high", 3.18},
                              {"profile_low", 1.375},
                              {"profile_high", 3.09}}));
  CHECK(json["groups"][1]["fit"]["median_age"]["profile_low"].is_null());
  CHECK(json["groups"][1]["fit"]["median_age"]["profile_high"].is_null());
  CHECK(json["groups"][1]["curve"]["method"] == "turnbull");
  CHECK(json["comparison"]["median_ratio"]["value"] == 1.74);
  CHECK(json["no_comparison_reason"].is_null());
  CHECK(json["comparison"]["failure_free"].is_null());
  Lifetime free = testing::failure_free_group();
  Json comparison = Json::parse(lifetime_json(free))["comparison"];
  CHECK(comparison["failure_free"] == Json({{"group_index", 0}, {"median_ratio_at_least", 1.7}}));
  CHECK(comparison["median_ratio"].is_null());
  free.comparison->failure_free->median_ratio_at_least = 0;
  comparison = Json::parse(lifetime_json(free))["comparison"];
  CHECK(comparison["failure_free"]["median_ratio_at_least"].is_null());
  CHECK(Json::parse(lifetime_json(unfailed()))["groups"][0]["fit"].is_null());

  Lifetime l = lifetime();
  l.groups[0].fit->log_likelihood = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(static_cast<void>(lifetime_json(l)), std::logic_error);
}

TEST_CASE("lifetime SVG: titled, escaped, groups told apart by shape and dash") {
  Lifetime l = testing::two_groups();
  l.part = "key \"<&>\" \x01 \xEF\xBF\xBF";
  const std::string svg = lifetime_svg(l);
  CHECK(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""));
  CHECK(svg.ends_with("</svg>\n"));
  CHECK(contains(svg, "<title>key &quot;&lt;&amp;&gt;&quot; \xEF\xBF\xBD \xEF\xBF\xBD: how long they last"));
  CHECK(contains(svg, "Far &lt;Harbour&gt; &amp; Co: 4 failed, 4 working, shape 2.12, median 76500 cycles"));
  CHECK(contains(svg, ">age (cycles)</text>"));
  CHECK(contains(svg, ">failed (%)</text>"));
  for (const char* percent : {">1<", ">2<", ">5<", ">10<", ">20<", ">50<", ">63.2<", ">90<", ">99<"}) {
    CAPTURE(percent);
    CHECK(contains(svg, percent));
  }
  CHECK(count_of(svg, "<polygon") == 2);
  // The limits of the second law, the law itself and its sample among the names.
  CHECK(count_of(svg, "stroke-dasharray=\"9 4\"") == 3);
  CHECK(count_of(svg, "a4 4 0 1 0 8 0") == 4);  // circles: three steps of the first curve, and its name
  CHECK_FALSE(contains(svg, "nan"));
  CHECK_FALSE(contains(svg, "inf"));
  // References to anything outside would not be self-contained; what not every program knows would not be drawn.
  CHECK(count_of(svg, "http") == 1);
  CHECK_FALSE(contains(svg, "url("));
  CHECK_FALSE(contains(svg, "var("));
}

TEST_CASE("lifetime SVG: a point on the line is drawn on the line") {
  // One step from 1 to 0: its middle, R = 1/2, at the fitted median, lies on the law.
  Lifetime l = lifetime();
  GroupLifetime& g = l.groups[0];
  g.fit->shape.value = 2;
  g.fit->scale.value = 1000;
  g.fit->b10.value = 1000 * std::sqrt(-std::log(0.9));
  g.fit->median.value = 1000 * std::sqrt(std::log(2.0));
  g.curve.steps = {{g.fit->median.value, 5, 5, 0, 0, 0, 0}};
  const std::string svg = lifetime_svg(l);
  double cx = 0, cy = 0;
  const std::size_t circle = svg.find("<path class=\"f0 s0\"");
  REQUIRE(circle != std::string::npos);
  REQUIRE(std::sscanf(svg.c_str() + circle, "<path class=\"f0 s0\" d=\"M%lf %lf", &cx, &cy) == 2);
  const std::size_t law = svg.find("points=\"", svg.find("<polyline"));
  std::istringstream corners(svg.substr(law + 8, svg.find('"', law + 8) - law - 8));
  double x1 = 0, y1 = 0, x2 = 0, y2 = 0;
  char comma = 0;
  bool met = false;
  corners >> x1 >> comma >> y1;
  while (corners >> x2 >> comma >> y2) {
    if (x1 <= cx && cx <= x2) {
      CHECK(std::abs(y1 + (y2 - y1) * (cx - x1) / (x2 - x1) - cy) < 0.2);
      met = true;
    }
    x1 = x2;
    y1 = y2;
  }
  CHECK(met);
}

TEST_CASE("lifetime SVG: no failures, many groups, a long curve") {
  CHECK(contains(lifetime_svg(unfailed()), "0 failed, 5 working, no law"));
  Lifetime l = lifetime();
  l.groups.clear();
  for (int i = 0; i < 30; ++i) {
    l.groups.push_back(testing::fitted_group());
    l.groups.back().name = "group " + std::to_string(i);
  }
  CHECK(contains(lifetime_svg(l), "group 29: 4 failed"));

  l = lifetime();
  l.groups[0].curve.steps.clear();
  for (int i = 1; i <= 100'000; ++i) {
    l.groups[0].curve.steps.push_back({10.0 * i, 0, 1, 1 - i / 100'000.0, 0, 0, 1});
  }
  CHECK(lifetime_svg(l).size() < 200'000);  // points that cover each other are left out
}

TEST_CASE("lifetime words") {
  CHECK(life_limits_text(0, infinity) == "none");
  CHECK(with_plain_spaces(life_limits_text(12, infinity)) == "12 to none");
  CHECK(with_plain_spaces(share_limits_text(0.2, 0.5)) == "20 % to 50 %");
  CHECK(with_plain_spaces(confidence_text(0.95)) == "95 %");
  CHECK(with_plain_spaces(confidence_text(0.999)) == "99.9 %");
  CHECK(chance_text(0.04712) == "0.047");
  CHECK(chance_text(1e-7) == "below 0.0001");
}
