#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include "cli/case_input.hpp"
#include "cli/help_text.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/weigh.hpp"
#include "render/beside.hpp"
#include "render/document.hpp"
#include "render/layout.hpp"
#include "support/example_files.hpp"
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

Table numbered(std::size_t rows, std::size_t fewest) {
  Table table{.columns = {{"number", false}, {"swing"}}, .fewest = fewest};
  for (std::size_t i = 0; i < rows; ++i) table.add({"row " + std::to_string(i), "1"});
  return table;
}

/// Two tables of two lines of heading, an empty line between them, a paragraph: six lines and the rows.
Document crowded(std::size_t rows, std::size_t others, std::size_t fewest) {
  Document page;
  page.answer = true;
  Section screen;
  screen.add(numbered(rows, fewest));
  screen.add(numbered(others, fewest));
  screen.say("last");
  page.first_screen = {screen};
  return page;
}

}  // namespace

TEST_CASE("first screen: tables give up their last rows, the longest first, until it fits") {
  CHECK(line_count(page_of(crowded(20, 14, 2), {})) == 40);
  const std::string fitted = page_of(crowded(23, 17, 2), {});
  CHECK(line_count(fitted) == 40);
  CHECK(contains(fitted, "row 16"));  // 23 and 17 rows become 17 and 17
  CHECK_FALSE(contains(fitted, "row 17"));
  // Two rows of each do not do here, so one stays.
  Document page = crowded(5, 5, 2);
  for (int i = 0; i < 40; ++i) page.first_screen.front().say("line " + std::to_string(i));
  const std::string full = page_of(page, {});
  CHECK(line_count(full) == 48);
  CHECK(contains(full, "row 0"));
  CHECK_FALSE(contains(full, "row 1"));
  CHECK(contains(full, "line 39"));
}

TEST_CASE(
    "first screen: before rows go the names of sections and spare columns, after them what else is spare") {
  const PageStyle narrow{.width = 60};
  const std::string names = "with names of: ";
  Document page = crowded(19, 13, 32);
  page.notes = 2;
  for (const char* name : {"verdict", "options", "sensitivity", "break-even"}) {
    page.sections.push_back({"Heading", {Paragraph{"text"}}});
    page.sections.back().name = name;
  }
  // 38 lines, an empty one, and the names on two lines.
  std::string fitted = page_of(page, narrow);
  CHECK(line_count(fitted) == 40);
  CHECK_FALSE(contains(fitted, names));
  CHECK(fitted.ends_with("More (2 notes): --show all, or --show LIST (see --help).\n"));
  CHECK(contains(page_of(page, {.width = 120}), names));

  // A label of two lines becomes one of one line where the column beside it is left out.
  page = crowded(19, 15, 32);
  auto& table = std::get<Table>(page.first_screen.front().blocks.front());
  table.columns.push_back({.heading = std::string(20, 'x'), .spare = true});
  for (Table::Row& row : table.rows) row.cells.emplace_back("2");
  table.rows.front().cells.front() = "a label too long beside two columns";
  CHECK(line_count(page_of(page, narrow)) == 40);
  CHECK_FALSE(contains(page_of(page, narrow), "xxx"));
  CHECK(contains(page_of(page, {.width = 120}), "xxx"));

  page = crowded(19, 14, 32);
  page.first_screen.front().list({"what was changed"}, true);
  page.closing = {{.text = "Seed 1.", .spare = true}};
  CHECK(line_count(page_of(page, {})) == 40);  // 42 without the closing line and the empty one before it
  CHECK(contains(page_of(page, {}), "what was changed"));
  page.first_screen.front().say("and this");
  CHECK_FALSE(contains(page_of(page, {}), "what was changed"));

  page = crowded(19, 14, 32);
  page.first_screen.push_back({"A heading", {Paragraph{"text"}}});
  CHECK(line_count(page_of(page, {})) == 40);  // without the empty line before the heading, and a row
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

TEST_CASE("first screens are as wide as the terminal and have forty lines at most") {
  WeighSettings settings;
  settings.futures = 128;
  for (const std::string name :
       {"fathers-radio", "field-recorder", "keypad-fleet", "kitchen-scale", "label-printer", "lighting-desk",
        "loop-receiver", "stage-metronome", "stock-scanner", "synth-buttons", "wall-dimmer"}) {
    CAPTURE(name);
    const Case c = read_case(test::example_text(name + ".toml"), name, built_in_rates());
    const auto answer = [&](const Case& one) { return weigh(one, built_in_rates(), settings); };
    const Compared<Weighing> all{answer(c), cli::answers_beside(c, answer)};
    for (const int columns : {60, 80, 120}) {
      const std::string page = compared_page(all, {.width = columns});
      CHECK(line_count(page) <= 40);
      CHECK(widest_line(page) <= columns);
    }
  }
  for (const int columns : {60, 80, 120}) {
    CAPTURE(columns);
    const std::string history = std::string(MENDWORTH_SOURCE_DIR) + "/examples/history/bench-record.csv";
    for (const std::vector<const char*>& words : {std::vector<const char*>{"lifetime", history.c_str()},
                                                  {"lifetime", history.c_str(), "--part", "volume encoder"},
                                                  {"rates"}}) {
      const std::string page = run_on(columns, words).out;
      CHECK(widest_line(page) <= columns);
      CHECK(line_count(page) <= 40);
    }
    CHECK(contains(run_on(columns, {"rates"}).out, "studio-slide-potentiometer"));
  }
}
