#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include "cli/help_text.hpp"
#include "render/document.hpp"
#include "render/layout.hpp"
#include "support/page_text.hpp"
#include "support/run_command.hpp"

// What a person sees first: as wide as the terminal, on one screen, with nothing broken that belongs together.
using namespace mendworth;
using testing::contains;
using testing::unwrapped;
using testing::widest_line;

namespace {

test::Run run_on(int columns, std::vector<const char*> words) {
  words.insert(words.begin(), "mendworth");
  cli::Surroundings surroundings = test::on_first_of_march();
  surroundings.out_is_terminal = true;
  surroundings.out_columns = columns;
  surroundings.no_color = "1";
  test::Captured captured;
  test::Run result;
  result.code =
      cli::run_command_line(static_cast<int>(words.size()), words.data(), captured.streams(), surroundings);
  result.out = captured.out.str();
  return result;
}

/// Without examples of commands, which are never broken.
std::string without_commands(const std::string& text) {
  std::istringstream lines(text);
  std::string out;
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with("  mendworth ") && !line.starts_with("    --")) out += line + '\n';
  }
  return out;
}

long line_count(const std::string& text) { return std::count(text.begin(), text.end(), '\n'); }

Document crowded() {
  Document page;
  page.answer = true;
  Section screen;
  for (const std::size_t rows : {std::size_t{6}, std::size_t{4}}) {
    Table table;
    table.columns = {{"number", false}, {"swing"}};
    for (std::size_t i = 0; i < rows; ++i) table.add({"row " + std::to_string(i), "1"});
    table.fewest = 2;
    screen.add(std::move(table));
  }
  screen.say("last");
  page.first_screen = {screen};
  return page;
}

}  // namespace

TEST_CASE("first screen: tables give up their last rows, the longest first, until it fits") {
  // Two tables of two lines of heading, an empty line between them, the paragraph: six lines and the rows.
  Document page = crowded();
  CHECK(line_count(page_of(page, {})) == 16);
  page.most_lines = 13;
  const std::string fitted = page_of(page, {});
  CHECK(line_count(fitted) == 13);
  CHECK(contains(fitted, "row 3"));  // 6 and 4 rows become 4 and 3, or 3 and 4
  CHECK_FALSE(contains(fitted, "row 4"));
  page.most_lines = 5;
  CHECK(line_count(page_of(page, {})) == 10);  // two rows of each stay
  CHECK(contains(page_of(page, {}), "last"));
}

TEST_CASE("a long table is shown in part among others, whole as CSV or alone") {
  Document page;
  page.answer = true;
  Section section{"Steps"};
  section.name = "steps";
  Table table;
  table.name = "curve";
  table.columns = {{"age"}};
  for (int i = 0; i < 100; ++i) table.add({std::to_string(i)});
  table.most_shown = 12;
  section.add(std::move(table));
  page.sections = {section};
  CHECK(line_count(page_of(page, {})) ==
        15);  // twelve rows, the table's heading and its rule, the section's heading
  CHECK(contains(page_of(page, {}), "  99\n"));
  PageStyle style;
  style.form = PageForm::csv;
  CHECK(line_count(page_of(page, style)) == 101);
  style.form = PageForm::text;
  style.table = "curve";
  CHECK(line_count(page_of(page, style)) == 102);
}

TEST_CASE("the numbers of a chart show what was set as it was set") {
  Chart chart{.name = "curve"};
  chart.x = {.name = "price", .digits = 12};
  chart.y = {.name = "saving", .unit = "EUR"};
  chart.series = {{.name = "saving", .points = {{.x = 60, .y = -1.5}, {.x = 60.125, .y = 2}}}};
  const Table table = chart_numbers(chart);
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[0].cells == std::vector<std::string>{"60", "-1.50"});
  CHECK(table.rows[1].cells == std::vector<std::string>{"60.125", "2.00"});
}

TEST_CASE("help follows the width of the terminal") {
  for (const char* command : {"weigh", "ask", "quote", "rows", "schema"}) {
    CAPTURE(command);
    for (const int columns : {60, 72, 80}) {
      const test::Run help = run_on(columns, {"help", command});
      CHECK(help.code == 0);
      CHECK(widest_line(without_commands(help.out)) <= columns);
    }
    // Nothing but the ends of lines is another.
    CHECK(unwrapped(run_on(60, {command, "--help"}).out) == unwrapped(run_on(80, {command, "--help"}).out));
  }
  CHECK(widest_line(without_commands(run_on(60, {"--help"}).out)) <= 60);
  CHECK(cli::fitted_help("as it is\n", 60) == "as it is\n");
}

TEST_CASE("help: a description is wrapped beside its option, or below it where there is no room") {
  const std::string help =
      "  --seed N                  Seed of the simulation, a whole\n"
      "                            number\n";
  CHECK(cli::fitted_help(help, 58) ==
        "  --seed N                  Seed of the simulation, a\n"
        "                            whole number\n");
  CHECK(cli::fitted_help(help, 50) ==
        "  --seed N\n"
        "      Seed of the simulation, a whole number\n");
}

TEST_CASE("no number is parted from its unit") {
  for (const char* text :
       {"EUR 12.50", "EUR -3", "12,50 \u20AC", "5 %", "50 min", "1 h", "(EUR 3", "24,00 \u20AC."})
    CHECK(with_units_kept(text) == kept_together(text));
  for (const char* text : {"THE END", "3 to 6", "in 5 days", "% of 5", "- 3"})
    CHECK(with_units_kept(text) == text);
  CHECK(wrapped(with_units_kept("it costs 24,00 \u20AC in all"), 14).at(1) ==
        kept_together("24,00 \u20AC") + " in all");
}

TEST_CASE("first screens are as wide as the terminal, and weigh's has forty lines at most") {
  for (const int columns : {60, 80, 120}) {
    CAPTURE(columns);
    for (const char* file : {"/examples/lighting-desk.toml", "/examples/field-recorder.toml"}) {
      const std::string path = std::string(MENDWORTH_SOURCE_DIR) + file;
      const test::Run weigh = run_on(columns, {"weigh", path.c_str(), "--futures", "128"});
      CHECK(weigh.code == 0);
      CHECK(widest_line(weigh.out) <= columns);
      CHECK(line_count(weigh.out) <= (columns < 80 ? 48 : 40));
    }
    const std::string history = std::string(MENDWORTH_SOURCE_DIR) + "/examples/history/bench-record.csv";
    CHECK(widest_line(run_on(columns, {"lifetime", history.c_str(), "--part", "volume encoder"}).out) <=
          columns);
    const test::Run rates = run_on(columns, {"rates"});
    CHECK(widest_line(rates.out) <= columns);
    CHECK(contains(rates.out, "studio-slide-potentiometer"));
  }
}
