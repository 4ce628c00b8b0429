#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/curve.hpp"
#include "mendworth/render.hpp"

namespace {

using namespace mendworth;

Curve varied(double from, double to, int steps) {
  Curve curve;
  curve.keys = {{"replacement.price", from, to, steps}};
  return curve;
}

CurvePoint point_with(const std::string& course, double value, int pieces, double each, double shipping) {
  CurvePoint point;
  point.course = course;
  point.value = value;
  point.pieces = pieces;
  point.lines = {{"button", "Home parts", pieces, each}};
  point.shipping = shipping;
  return point;
}

}  // namespace

TEST_CASE("curve: values can be copied, the ends are exact") {
  CHECK(VariedKey{"a", 0, 1, 10}.values()[3] == 0.3);  // not 0.30000000000000004
  CHECK(VariedKey{"a", 20, 60, 4}.values() == std::vector<double>{20, 30, 40, 50, 60});
}

// Derived: a verdict that turns at 37.3 and an order that changes at 62 are found between points ten apart, narrowed to
// 10/2^6 and to a whole number's half.
TEST_CASE("curve: the turn of the verdict and a price break are named and narrowed down") {
  Curve curve = varied(0, 100.5, 10);
  trace(curve, [](const std::vector<double>& at) {
    const bool many = at[0] >= 62;
    return point_with(at[0] < 37.3 ? "repair" : "replace", 37.3 - at[0], many ? 10 : 3, many ? 0.2 : 0.5, 4);
  });
  REQUIRE(curve.points.size() == 11);
  REQUIRE(curve.breaks.size() == 2);
  CHECK(curve.breaks[0].low < 37.3);
  CHECK(curve.breaks[0].high >= 37.3);
  CHECK(curve.breaks[0].high - curve.breaks[0].low < 0.2);
  CHECK(curve.breaks[0].what == "the verdict turns: repair before, replace from here on");
  CHECK(curve.breaks[1].low < 62);
  CHECK(curve.breaks[1].high >= 62);
  CHECK(curve.breaks[1].what == "price break: 10 x button at 0.2 each, before 3 at 0.5");
}

TEST_CASE("curve: whole steps are narrowed to whole numbers; free shipping is named") {
  Curve curve = varied(0, 64, 4);
  trace(curve, [](const std::vector<double>& at) {
    CHECK(at[0] == std::floor(at[0]));
    const bool free = at[0] > 20;
    return point_with("repair", 1, free ? 30 : 10, 0.2, free ? 0 : 4);
  });
  REQUIRE(curve.breaks.size() == 1);
  CHECK(curve.breaks[0].low == 20);
  CHECK(curve.breaks[0].high == 21);
  CHECK(curve.breaks[0].what == "free shipping is reached");
}

TEST_CASE("curve: what turns between the last two points is found too") {
  Curve curve = varied(0, 100, 4);
  trace(curve, [](const std::vector<double>& at) {
    return point_with(at[0] < 90 ? "repair" : "replace", 90 - at[0], 3, 0.5, 4);
  });
  REQUIRE(curve.breaks.size() == 1);
  CHECK(curve.breaks[0].low < 90);
  CHECK(curve.breaks[0].high >= 90);
}

TEST_CASE("curve: two numbers make a grid, the last one fastest") {
  Curve curve = varied(0, 2, 2);
  curve.keys.push_back({"labour.rate_per_hour", 10, 30, 1});
  trace(curve, [](const std::vector<double>& at) { return point_with("repair", at[0] + at[1], 1, 1, 0); });
  REQUIRE(curve.points.size() == 6);
  CHECK(curve.points[3].at == std::vector<double>{1, 30});
  CHECK(*curve.points[3].value == 31);
  CHECK(curve.breaks.empty());
}

TEST_CASE("curve: the page begins with what is best where, and its pictures have words and units") {
  Curve curve = varied(0, 100, 4);
  curve.keys[0].label = "price of a new one (EUR)";
  curve.currency = "EUR";
  curve.value_name = "saving";
  trace(curve, [](const std::vector<double>& at) {
    return point_with(at[0] < 40 ? "replace: the same, new" : "repair", at[0] - 40, 3, 0.5, 4);
  });
  const std::string text = curve_page(curve, {});
  CHECK(text.find("Best from 0 to 25: 'replace: the same, new'; from 50 to 100: 'repair'.") !=
        std::string::npos);
  CHECK(text.find("Varied: price of a new one (EUR) from 0 to 100.") != std::string::npos);
  const std::string html = curve_page(curve, {.form = PageForm::html});
  CHECK(html.find(">price of a new one (EUR)</text>") != std::string::npos);
  CHECK(html.find("<strong>The best quantity</strong> How many") != std::string::npos);

  curve.points.clear();
  curve.keys.push_back({"labour.rate_per_hour", 10, 30, 1, "labour rate (EUR an hour)"});
  trace(curve, [](const std::vector<double>& at) { return point_with("repair", at[0] - at[1], 1, 1, 0); });
  CHECK(curve_page(curve, {}).find("Best at the values tried: 'repair', 10 of 10.") != std::string::npos);
  CHECK(curve_page(curve, {.form = PageForm::html}).find("+ repairing is cheaper") != std::string::npos);
}
