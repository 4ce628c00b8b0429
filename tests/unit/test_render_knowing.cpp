#include <doctest/doctest.h>

#include <string>

#include "render/answer_words.hpp"
#include "render/weighing_charts.hpp"
#include "support/sample_weighing.hpp"

using namespace mendworth;
using namespace mendworth::testing;

TEST_SUITE_BEGIN("render: knowing");

namespace {

Weighing known() {
  Weighing w = weighing();
  Knowing knowing;
  knowing.futures = 2048;
  knowing.inputs = {{.key = "fit.button",
                     .label = "true stem height of button",
                     .found_out = FoundOut::look,
                     .first = 0.2,
                     .first_error = 0.01,
                     .total = 0.3,
                     .total_error = 0.02,
                     .worth = 2.1,
                     .worth_error = 0.05},
                    {.key = "rest.remaining_years",
                     .label = "remaining life of the rest (years)",
                     .found_out = FoundOut::nobody,
                     .worth = 5,
                     .worth_error = 0.1},
                    {.key = "device.age_years",
                     .label = "age of the device (years)",
                     .found_out = FoundOut::owner,
                     .worth = 0.04,
                     .worth_error = 0.03},
                    {.key = "luck", .label = "luck", .first = 0.5, .total = 0.7}};
  knowing.groups = {{.name = "before-ordering",
                     .keys = {"fit.button", "device.age_years"},
                     .worth = 2.3,
                     .worth_error = 0.06}};
  w.knowing = knowing;
  return w;
}

std::string text_of(const Section& section) {
  Document page;
  page.answer = true;
  page.sections = {section};
  return document_text(page, {.width = 100});
}

}  // namespace

TEST_CASE("what to find out first: what can be, and is worth more than its error") {
  CHECK(find_out_first(known()) ==
        "Find out before ordering: true stem height of button, worth at most EUR\u00a02.10; all that can be "
        "found out: "
        "EUR\u00a02.30.");
  Weighing nothing = known();
  nothing.knowing->inputs[0].worth = 0;
  nothing.knowing->groups[0].worth = 0.1;
  CHECK(find_out_first(nothing) ==
        "Nothing that could be found out before ordering would change the choice.");
  nothing.knowing->groups[0].worth = 1.5;
  CHECK(find_out_first(nothing) ==
        "No single number is worth finding out before ordering; all of them together at most EUR\u00a01.50.");
  nothing.knowing.reset();
  CHECK(find_out_first(nothing).empty());
}

TEST_CASE("the section says who can tell and leaves out what hardly matters") {
  const std::string text = text_of(knowing_section(known()));
  CHECK(text.find("l  true stem height of button") != std::string::npos);
  CHECK(text.find("30 %") != std::string::npos);
  CHECK(text.find("age of the device") == std::string::npos);
  CHECK(text.find("Left out: 1 number") != std::string::npos);
  CHECK(text.find("all that can be found out before ordering") != std::string::npos);
}

TEST_CASE("the picture of what finding out is worth says who can tell") {
  const Chart chart = knowing_chart(known());
  REQUIRE(chart.bars.size() == 2);
  CHECK(chart.bars[0].label == "true stem height of button: a look inside tells");
  CHECK(chart.bars[1].label == "remaining life of the rest (years): nobody can tell yet");
}

TEST_CASE("signs tell the sides of the zero line") {
  Weighing w = weighing();
  w.grid = SavingGrid{.across = {.key = "a", .label = "a (years)", .current = 1, .values = {1, 2, 3}},
                      .down = {.key = "b", .label = "b (EUR)", .current = 10, .values = {10, 20}},
                      .rows = {{{-5, 0.1}, {0.1, 0.1}, {7, 0.1}}, {{1, 0.1}, {3, 0.1}, {9, 0.1}}},
                      .zero_line = {{1, 18, 2, 10}}};
  const std::string text = text_of(grid_section(w));
  CHECK(text.find("[-5.0]") != std::string::npos);
  CHECK(text.find("(0.1)") != std::string::npos);
  // The larger value down stands above, as on a chart.
  CHECK(text.find("9.0") < text.find("[-5.0]"));
  const Chart chart = grid_chart(w);
  CHECK(chart.y.reach == std::vector<double>{20, 10});
  CHECK(chart.cells == std::vector<std::vector<double>>{{1, 3, 9}, {-5, 0.1, 7}});
  CHECK(grid_section(weighing()).empty());
}

TEST_SUITE_END();
